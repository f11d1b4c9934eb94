"""The whole job in the window at several sizes of screen and interface, with a picture a step."""

from __future__ import annotations

import shutil
import subprocess
import sys
from typing import TYPE_CHECKING

import window
from heard import hear
from place import BUILD, ROOT, MissingError, say

if TYPE_CHECKING:
    from pathlib import Path

PLAY = ROOT / "tests" / "window" / "first_piece.py"
SCREENS = ((1.0, "1920x1080"), (2.0, "1920x1080"), (2.0, "2560x1600"))
"""Scale of the interface, and pixels: what is common, and a screen of many small pixels."""
LONGEST_S = 1800
SCAN_OF = (
    "import pathlib, pymeshfix; "
    "print(pathlib.Path(pymeshfix.__file__).parent / 'examples' / 'StanfordBunny.ply')"
)


def tour(python: Path, scale: float) -> int:
    """Play the whole job on each screen of a scale; 1 when one of them does not come to its end.

    Raises
    ------
    MissingError
        If there is no screen in memory to play on.
    """
    if not window.screen_tool():
        raise MissingError("The tour is played on a screen in memory; its tool is not here")
    target, code = window.zip_for(python, None), 0
    scan = hear([python, "-c", SCAN_OF], LONGEST_S).text.strip()
    for of_interface, size in SCREENS:
        if of_interface != scale:
            continue
        out = BUILD / "window" / f"tour-{scale:g}-{size}"
        shutil.rmtree(out, ignore_errors=True)
        out.mkdir(parents=True)
        words = ["run", PLAY, "--zip", target, "--out", out, "--size", size]
        words += ["--timeout", LONGEST_S, "--", shutil.copy(scan, out / "rabbit.ply"), scale]
        command = [sys.executable, *map(str, [window.SCREEN_TOOL, *words])]
        code = max(code, subprocess.run(command, check=False).returncode)
        say(f"Pictures in {out.relative_to(ROOT)}")
    return code
