"""The Blender with a window: whose it is, its Python, and the installed zip in it."""

from __future__ import annotations

import os
import platform
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import package
from heard import Heard, hear
from place import BUILD, ROOT, TOOLS, MissingError, say
from tally import Outcome, from_junit, single

SCREEN_TOOL = ROOT.parent / "shared" / "tools" / "blender-window"
INSTALLED = TOOLS / "installed.py"
FRESH = BUILD / "blender-user"
ASK = "import sys; print('PYTHON=%d.%d' % sys.version_info[:2])"
LONGEST_S = 900
SCREEN = (1400, 1250)
"""Pixels of the screen that pictures are taken on, at a scale of 1."""
STATES_SCREEN = (900, 3000)
"""The same for the sidebar in every state, which is scrolled."""
NO_BLENDER = (
    "there is no Blender to install the extension in; set RISELINE_BLENDER to the path of one"
)


def own_blender() -> str | None:
    """Return the Blender that RISELINE_BLENDER names, or the one on the path."""
    return os.environ.get("RISELINE_BLENDER") or shutil.which("blender")


def this_platform() -> str:
    """Return Blender's name of this machine's platform."""
    system = {"Linux": "linux", "Windows": "windows", "Darwin": "macos"}[platform.system()]
    return system + ("-arm64" if platform.machine().lower() in ("arm64", "aarch64") else "-x64")


def screen_tool() -> Path | None:
    """Return the tool that opens a Blender on a screen in memory, where it can run."""
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    return SCREEN_TOOL if SCREEN_TOOL.is_file() and root else None


def python_of(command: list[object]) -> str:
    """Return the version of the Python inside a Blender, such as "3.13"; ASK comes with it."""
    answer = hear(command, LONGEST_S)
    if not (found := re.search(r"PYTHON=(\d+\.\d+)", answer.text)):
        raise MissingError(f"{command[0]} does not run:\n{answer.tail()}")
    return found[1]


def zip_for(python: Path, blender: str | None) -> Path:
    """Build the zip for a Blender of one's own, or for the one on the screen in memory.

    Raises
    ------
    MissingError
        If there is none, it does not run, or no zip can be built for it.
    """
    if blender:
        version = python_of([blender, "--background", "--python-expr", ASK])
        return package.build(python, this_platform(), version)
    if not (tool := screen_tool()):
        raise MissingError(NO_BLENDER)
    say("Asking the window's Blender for its Python; setting it up may take minutes, once")
    with tempfile.TemporaryDirectory() as folder:
        asking = Path(folder) / "ask.py"
        asking.write_text(ASK, encoding="utf-8")
        version = python_of([sys.executable, tool, "background", asking])
    return package.build(python, this_platform(), version)


def lane(python: Path) -> list[Outcome]:
    """Build the zip for the Blender there is, install it, and use it as a person would.

    Raises
    ------
    MissingError
        If there is no Blender to install it in.
    """
    named = os.environ.get("RISELINE_BLENDER")
    target = zip_for(python, named)
    report = BUILD / "test" / "window.xml"
    report.parent.mkdir(parents=True, exist_ok=True)
    report.unlink(missing_ok=True)
    (BUILD / "window").mkdir(exist_ok=True)
    settings = {"RISELINE_ZIP": str(target), "RISELINE_PICTURES": str(BUILD / "window")}
    settings["RISELINE_BLENDER_WINDOW"] = "none" if named else str(SCREEN_TOOL)
    words = ["-q", "-p", "no:cacheprovider", f"--junitxml={report}", "tests/window"]
    used = hear([python, "-m", "pytest", *words], **settings)
    installed = installed_in(named, target) if named else installed_on_screen(target)
    return [from_junit("window", report, used), single("installed zip", installed)]


def installed_on_screen(target: Path) -> Heard:
    """Install the zip in the Blender of the screen tool, and lay out a sample there."""
    words = ["background", INSTALLED, "--zip", target, "--timeout", LONGEST_S]
    return hear([sys.executable, SCREEN_TOOL, *words], LONGEST_S + 60)


def installed_in(blender: str, target: Path) -> Heard:
    """Install the zip in a Blender with fresh preferences, and lay out a sample there."""
    shutil.rmtree(FRESH, ignore_errors=True)
    FRESH.mkdir(parents=True)
    words = ["--background", "--python-exit-code", "1", "--python", INSTALLED, "--", target]
    return hear([blender, *words], LONGEST_S, BLENDER_USER_RESOURCES=str(FRESH))


def open_blender(python: Path) -> int:
    """Open a Blender with the extension installed and the demo, or take a picture of its window.

    Raises
    ------
    MissingError
        If there is no Blender, or the extension does not install in it.
    """
    demo = sorted((BUILD / "demo").glob("*.blend"))[:1]
    blender = own_blender()
    target = zip_for(python, blender)
    if blender:
        if (installed := installed_in(blender, target)).code:
            raise MissingError(f"The extension does not install:\n{installed.text}")
        env = {**os.environ, "BLENDER_USER_RESOURCES": str(FRESH)}
        return subprocess.run([blender, *map(str, demo)], env=env, check=False).returncode
    out = BUILD / "window"
    out.mkdir(parents=True, exist_ok=True)
    words = ["run", TOOLS / "picture.py", "--zip", target, "--out", out, "--", *demo]
    code = subprocess.run(
        [sys.executable, *map(str, [SCREEN_TOOL, *words])], check=False
    ).returncode
    if code == 0:
        say(f"Picture of the window: {(out / 'riseline.png').relative_to(ROOT)}")
    return code


def screenshots(python: Path, scale: float) -> int:
    """Take the pictures of docs/ anew, or the same ones at another scale for looking at.

    Raises
    ------
    MissingError
        If there is no screen in memory to take them on.
    """
    if not screen_tool():
        raise MissingError("Pictures are taken on a screen in memory; its tool is not here")
    target, out = zip_for(python, None), BUILD / "window" / f"scale-{scale:g}"
    shutil.rmtree(out, ignore_errors=True)
    out.mkdir(parents=True)
    size = f"{int(SCREEN[0] * scale)}x{int(SCREEN[1] * scale)}"
    words = ["run", TOOLS / "screenshots.py", "--zip", target, "--out", out, "--size", size]
    words += ["--timeout", LONGEST_S, "--", scale]
    code = subprocess.run(
        [sys.executable, *map(str, [SCREEN_TOOL, *words])], check=False
    ).returncode
    if code == 0 and scale == 1.0:
        for image in (ROOT / "docs" / "images").glob("*.jpg"):
            image.unlink()
        named = {found for page in (ROOT / "docs").glob("*.md")
                 for found in re.findall(r"images/([\w.]+)", page.read_text("utf-8"))}  # fmt: skip
        for name in sorted(named):
            shutil.copy(out / name, ROOT / "docs" / "images" / name)
    say(f"Pictures in {out.relative_to(ROOT)}")
    return code


def panel_states(python: Path, scale: float) -> int:
    """Take pictures of all panels open in every state of the work; 1 when a label is cut off.

    Raises
    ------
    MissingError
        If there is no screen in memory to take them on.
    """
    if not screen_tool():
        raise MissingError("Pictures are taken on a screen in memory; its tool is not here")
    target, out = zip_for(python, None), BUILD / "window" / f"states-{scale:g}"
    shutil.rmtree(out, ignore_errors=True)
    out.mkdir(parents=True)
    wide, high = STATES_SCREEN
    words = ["run", TOOLS / "panel_states.py", "--zip", target, "--out", out]
    words += ["--size", f"{int(wide * max(scale, 1.0))}x{high}", "--timeout", LONGEST_S]
    command = [sys.executable, *map(str, [SCREEN_TOOL, *words, "--", scale])]
    code = subprocess.run(command, check=False).returncode
    say(f"Pictures in {out.relative_to(ROOT)}; those to look at are the sheets")
    return code
