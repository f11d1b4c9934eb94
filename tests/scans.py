"""Open scans that come inside packages from the registries, and damage as scanners do it."""

from __future__ import annotations

import importlib.util
from pathlib import Path

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


def without_faces(mesh, chosen):
    """Return the mesh with the chosen faces (m,) torn out."""
    return Mesh(mesh.vertices, mesh.faces[~chosen])
