"""Core lays out a mold in a Python that has no Blender at all."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

from blender_addon.core.files.write import write_stl
from tests import shapes

ROOT = Path(__file__).resolve().parents[2]

WITHOUT = """
import sys
for name in ("bpy", "bmesh", "mathutils", "gpu"):
    sys.modules[name] = None  # from here on importing it raises
"""

IMPORT_ALL = """
import importlib, pkgutil, blender_addon.core as core
names = [one.name for one in pkgutil.walk_packages(core.__path__, core.__name__ + ".")]
for name in [*names, "blender_addon.cli"]:
    importlib.import_module(name)
print(len(names))
"""


def run(program, *words):
    return subprocess.run(
        [sys.executable, "-c", WITHOUT + program, *words],
        cwd=ROOT, capture_output=True, text=True, encoding="utf-8", timeout=600, check=False,
    )  # fmt: skip


def test_every_module_of_core_loads():
    ended = run(IMPORT_ALL)
    assert ended.returncode == 0, ended.stderr
    files = [f for f in (ROOT / "blender_addon" / "core").rglob("*.py") if f.name != "__init__.py"]
    assert int(ended.stdout) >= len(files)


def test_blender_is_really_missing_there():
    ended = run("import bpy")
    assert ended.returncode == 1
    assert "bpy" in ended.stderr


def test_a_small_shape_is_laid_out(tmp_path):
    write_stl(tmp_path / "post.stl", shapes.cylinder(20, 60, 48))
    program = "from blender_addon.cli import main\nsys.exit(main(sys.argv[1:]))"
    words = ["layout", str(tmp_path / "post.stl"), "--out", str(tmp_path / "job"), "--json"]
    ended = run(program, *words)
    assert ended.returncode == 0, ended.stderr
    job = json.loads(ended.stdout)
    # pi r2 h of a round bar, never more: its 48 sides lie inside the circle (closed form)
    assert 0.995 * 75.398 < job["scan"]["volume_ml"] < 75.398
    assert job["bubbles"]["trapped_ml"] < 0.01
    assert (tmp_path / "job" / "job.json").is_file()
