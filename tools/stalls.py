"""How long Blender's window stands still while a large scan is laid out; `dev.py stalls`."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import window
from place import BUILD, ROOT, TOOLS, MissingError

DRAGON = BUILD / "stalls" / "dragon.ply"
UNPACK = "import sys; from tests.scans import large_dragon_file; large_dragon_file(sys.argv[1])"
LONGEST_S = 900


def measure(python: Path, scan: str | None) -> int:
    """Print the longest stall of each stage, on the scan that is named or on the dragon.

    Raises
    ------
    MissingError
        If there is no screen in memory to open a window on.
    """
    if not window.screen_tool():
        raise MissingError("Stalls are measured on a screen in memory; its tool is not here")
    out = BUILD / "stalls"
    out.mkdir(parents=True, exist_ok=True)
    if scan is None and not DRAGON.exists():
        unpack(python)
    target = window.zip_for(python, None)
    words = ["run", TOOLS / "stall_watch.py", "--zip", target, "--out", out]
    words += ["--timeout", LONGEST_S, "--", Path(scan or DRAGON).resolve()]
    command = [sys.executable, *map(str, [window.SCREEN_TOOL, *words])]
    return subprocess.run(command, check=False).returncode


def unpack(python: Path) -> None:
    """Fetch the dragon in full, as the tests fetch the small one.

    Raises
    ------
    MissingError
        If it cannot be fetched.
    """
    env = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONDONTWRITEBYTECODE": "1"}
    command = [str(python), "-c", UNPACK, str(DRAGON)]
    if subprocess.run(command, cwd=ROOT, env=env, check=False).returncode:
        raise MissingError("The large scan cannot be fetched: npm is needed, or name a scan")
