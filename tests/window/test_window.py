"""The installed zip in a real Blender, as a person uses it.

Set RISELINE_ZIP to the zip. RISELINE_BLENDER_WINDOW names the tool that opens a window without a
screen; else RISELINE_BLENDER names a Blender, which then runs without one. Pictures go to
RISELINE_PICTURES, or to a folder of the test.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pymeshfix
import pytest

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
PICTURES = ("03_running", "05_laid_out", "07_undone", "08_exported", "09_refused")
LONGEST_S = 1200
BARE = ("--background", "--factory-startup", "--python-exit-code", "1")


def _zip():
    named = os.environ.get("RISELINE_ZIP")
    if not named or not Path(named).is_file():
        pytest.fail(f"RISELINE_ZIP names no zip of the add-on: {named}")
    return Path(named).resolve()


def _tool():
    beside = ROOT.parent / "shared" / "tools" / "blender-window"
    tool = Path(os.environ.get("RISELINE_BLENDER_WINDOW", beside))
    return tool if tool.is_file() else None


def _scan(folder):
    """Return a copy of the open scan of a rabbit that the pymeshfix library brings along."""
    scan = Path(pymeshfix.__file__).parent / "examples" / "StanfordBunny.ply"
    return Path(shutil.copy(scan, folder / "rabbit.ply"))


def _run(argv, **more):
    done = subprocess.run(
        [str(one) for one in argv], cwd=ROOT, timeout=LONGEST_S, check=False, text=True,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, **more,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout[-4000:]


def test_a_maker_gets_from_the_scan_to_the_parts(tmp_path):
    zip_file, tool, blender = _zip(), _tool(), os.environ.get("RISELINE_BLENDER")
    pictures = Path(os.environ.get("RISELINE_PICTURES", tmp_path)).resolve()
    folder = pictures / "garden_mold"
    shutil.rmtree(folder, ignore_errors=True)
    if tool:
        _run([
            sys.executable, tool, "run", HERE / "workday.py", "--zip", zip_file,
            "--out", pictures, "--timeout", LONGEST_S, "--", _scan(tmp_path), zip_file,
        ])  # fmt: skip
        for name in PICTURES:
            assert (pictures / f"{name}.png").read_bytes().startswith(b"\x89PNG")
    elif blender:
        script = [HERE / "without_window.py", "--", zip_file, _scan(tmp_path), folder]
        own = {**os.environ, "BLENDER_USER_RESOURCES": str(tmp_path / "blender")}
        _run([blender, *BARE, "--python", *script], env=own)
    else:
        pytest.fail("Neither RISELINE_BLENDER_WINDOW nor RISELINE_BLENDER names a program")
    job = json.loads((folder / "job.json").read_text(encoding="utf-8"))
    assert job["scan"]["size_mm"][2] == pytest.approx(120.65, abs=0.01)  # 4.75 in of 25.4 mm
    assert job["bubbles"]["trapped_ml"] > 0.0
