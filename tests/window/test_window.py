"""The installed zip in a real Blender, as a person uses it.

Set RISELINE_ZIP to the zip. RISELINE_BLENDER_WINDOW names the tool that opens a window without a
screen; else RISELINE_BLENDER names a Blender, which then runs without one. Pictures go to
RISELINE_PICTURES, or to a folder of the test.
"""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import subprocess
import sys
import time
import tomllib
import zipfile
from pathlib import Path

import pymeshfix
import pytest
import trimesh

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
PICTURES = ("03_running", "05_laid_out", "07_undone", "08_exported", "09_refused")
LONGEST_S = 1200
SIZE = "1400x1250"
"""Pixels of the window: the whole sidebar stands in it, and drawing it takes little."""
QUIT_WITHIN_S = 60.0
"""Far more than it takes: the machine may be busy."""
OF_THE_TOOL = {"seen.png", "read.png"}
"""Pictures in which the screen tool reads."""
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


def _pictures(tmp_path):
    """Return the folder for pictures and what else a play writes."""
    return Path(os.environ.get("RISELINE_PICTURES", tmp_path)).resolve()


def _play(name, folder, *words):
    """Run one of the plays in a window, or skip where there is none."""
    tool = _tool()
    if tool is None:
        pytest.skip("RISELINE_BLENDER_WINDOW names no tool that opens a window")
    folder.mkdir(parents=True, exist_ok=True)
    _run([
        sys.executable, tool, "run", HERE / f"{name}.py", "--zip", _zip(), "--out", folder,
        "--size", SIZE, "--timeout", LONGEST_S, "--", *words,
    ])  # fmt: skip


def _job(folder):
    return json.loads((folder / "job.json").read_text(encoding="utf-8"))


def test_a_maker_gets_from_the_scan_to_the_parts(tmp_path):
    zip_file, tool, blender = _zip(), _tool(), os.environ.get("RISELINE_BLENDER")
    pictures = _pictures(tmp_path)
    folder = pictures / "garden_mold"
    shutil.rmtree(folder, ignore_errors=True)
    if tool:
        _run([
            sys.executable, tool, "run", HERE / "workday.py", "--zip", zip_file,
            "--out", pictures, "--timeout", LONGEST_S, "--", _scan(tmp_path),
        ])  # fmt: skip
        for name in PICTURES:
            assert (pictures / f"{name}.png").read_bytes().startswith(b"\x89PNG")
    elif blender:
        script = [HERE / "without_window.py", "--", zip_file, _scan(tmp_path), folder]
        own = {**os.environ, "BLENDER_USER_RESOURCES": str(tmp_path / "blender")}
        _run([blender, *BARE, "--python", *script], env=own)
    else:
        pytest.fail("Neither RISELINE_BLENDER_WINDOW nor RISELINE_BLENDER names a program")
    job = _job(folder)
    assert job["scan"]["size_mm"][2] == pytest.approx(120.65, abs=0.01)  # 4.75 in of 25.4 mm
    assert job["bubbles"]["trapped_ml"] > 0.0


def test_the_large_button_leads_from_a_sample_and_from_a_dropped_scan_to_the_parts(tmp_path):
    folder = _pictures(tmp_path)
    _play("first_piece", folder, _scan(tmp_path))
    sample, dropped = _job(folder / "from_sample"), _job(folder / "from_drop")
    assert sample["scan"]["size_mm"][2] == pytest.approx(106.8, abs=0.01)  # by its settings file
    assert dropped["scan"]["size_mm"][2] == pytest.approx(120.65, abs=0.01)  # 4.75 in of 25.4 mm
    for job, name in ((sample, "from_sample"), (dropped, "from_drop")):
        missing = [
            one["file"] for one in job["parts"] if not (folder / name / one["file"]).exists()
        ]
        assert job["parts"]
        assert not missing
    alone = trimesh.load(folder / "alone.3mf", force="mesh")  # a reader that is not ours
    assert alone.is_watertight


def test_nothing_done_in_the_middle_of_a_run_harms_the_scene_or_the_next_run(tmp_path):
    _play("disturbed", _pictures(tmp_path))


def test_a_newer_version_may_come_at_any_time_and_nothing_is_left_when_it_goes(tmp_path):
    newer = tmp_path / "newer.zip"
    _renew(_zip(), newer)
    _play("coming", _pictures(tmp_path), newer)


def _renew(zip_file, newer):
    """Write the zip again under a higher version."""
    with zipfile.ZipFile(zip_file) as given, zipfile.ZipFile(newer, "w") as made:
        for one in given.infolist():
            data = given.read(one)
            if Path(one.filename).name == "blender_manifest.toml":
                version = tomllib.loads(data.decode())["version"]
                data = data.replace(f'version = "{version}"'.encode(), b'version = "9.9.9"', 1)
            made.writestr(one, data)


def test_quitting_in_the_middle_ends_blender_and_leaves_no_process_and_no_file(tmp_path):
    folder = tmp_path / "quit"
    _play("quitting", folder)
    told = json.loads((folder / "quit.json").read_text(encoding="utf-8"))
    assert time.time() - told["at_s"] < QUIT_WITHIN_S
    assert {one.name for one in Path(told["temporary"]).iterdir()} <= OF_THE_TOOL
    assert _processes_with(told["mark"]) == []


MOST_LOOKS = 50


def _processes_with(mark):
    """Return the command lines of the processes that have this in their environment."""
    found = []
    for folder in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError):  # it may end meanwhile
            if mark.encode() in (folder / "environ").read_bytes().split(b"\0"):
                found.append((folder / "cmdline").read_bytes().replace(b"\0", b" ").decode())
    return found


def test_a_process_that_is_left_behind_is_found():
    mark = f"RISELINE_LEFT_BEHIND={os.getpid()}"
    with subprocess.Popen(["sleep", "60"], env={**os.environ, **dict([mark.split("=")])}) as left:
        looks = 0
        while not any("sleep" in one for one in _processes_with(mark)) and looks < MOST_LOOKS:
            looks += 1  # what a program was started with can be read a moment after it was
            time.sleep(0.1)
        left.kill()
        assert looks < MOST_LOOKS
