"""Quits Blender by its key in the middle of a run, and does not save.

blender-window run tests/window/quitting.py --zip ZIP --out DIR

What is left behind is looked for from outside: the test gets the folder of temporary files, what
the processes of this Blender are known by, and when it was told to end.
"""

import json
import os
import tempfile
import time
from pathlib import Path

import bpy
import steps
from steps import hand, kept, middle, press

steps.take(globals())
WITH_UNDO = True
JOB = "BLENDER_WINDOW_JOB"
"""The variable that the tool marks its processes by; the folder holds the exit code."""


async def main():
    """Begin, quit, confirm; the end of this coroutine is never reached."""
    own = Path(hand("out")) / "temporary"
    own.mkdir()
    tempfile.tempdir = os.environ["TMPDIR"] = str(own)
    await hand("open_sidebar")("Riseline")
    with hand("view3d")():
        bpy.ops.riseline.open_sample("EXEC_DEFAULT", WITH_UNDO, sample="toadstool.ply")
    await hand("redraw")()
    await press("riseline.lay_out")
    work = await hand("until")(lambda: kept().work)
    await hand("until")(lambda: work.total > 0.0, 60)
    await hand("move")(middle())
    await hand("key")("ctrl+q")
    await hand("pause")(0.5)
    place = await hand("find")("Don't Save")
    assert kept().work is work, "it was over before Blender was told to quit"
    told = {"mark": f"{JOB}={os.environ[JOB]}", "temporary": str(own), "at_s": time.time()}
    (Path(hand("out")) / "quit.json").write_text(json.dumps(told), encoding="utf-8")
    (Path(os.environ[JOB]) / "result").write_text("0", encoding="utf-8")  # else quitting is a fault
    await hand("click")(place)
    await hand("pause")(60.0)
    hand("quit")(1)
