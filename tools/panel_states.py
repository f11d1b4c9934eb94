"""Run in a window by the screen tool: all panels and sub-panels open, in every state of the work.

The window is as tall as all of them. Blender opens a panel that it draws for the first time as the
panel asks for, so each is made to ask for it before the sidebar is ever drawn. What the tool puts
in scope is taken by name. With --labels the words are read, and labels that were cut off named.
"""

from __future__ import annotations

import importlib
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import bpy

if TYPE_CHECKING:
    from collections.abc import Callable

HANDS = dict(globals())
STAGES = [one for one in sys.argv[1:] if one.isalpha()]
"""Panels to open, all where none is named: at a large scale no window is as tall as all of them."""
SCALE = float(next((one for one in sys.argv[1:] if one.replace(".", "").isdigit()), "1"))
PREFIX = "RISELINE_PT_"
CUT_OFF = re.compile(r"(…|\.\.+)$|\w…\w|\w\.\.+\w")
"""What Blender puts where a label does not fit, as it is read."""
READ_AT_PERCENT = 200


def hand(name: str) -> Callable[..., Any]:
    """Return one of the tool's functions."""
    return HANDS[name]


def addon(path: str) -> Any:
    """Return a module of the installed add-on."""
    return importlib.import_module(f"{hand('extension')}.{path}")


def name_of(panel: type) -> str:
    """Return what Blender knows a panel by."""
    return getattr(panel, "bl_idname", panel.__name__)


def open_all() -> None:
    """Let every panel ask to be open."""
    panels = [one for one in addon("ui.registration").CLASSES if issubclass(one, bpy.types.Panel)]
    for one in reversed(panels):
        bpy.utils.unregister_class(one)
    for one in panels:
        if not STAGES or any(name_of(one).startswith(f"{PREFIX}{stage}") for stage in STAGES):
            one.bl_options = set(one.bl_options) - {"DEFAULT_CLOSED"}
        bpy.utils.register_class(one)


def stored() -> Any:
    """Return what the scene holds."""
    return bpy.context.scene.riseline


def nothing() -> None:
    """Leave what a new file holds."""


def scan_only() -> None:
    """Import a sample, with no size given."""
    bpy.data.objects.remove(bpy.data.objects["Cube"])
    bpy.ops.riseline.open_sample(sample="toadstool.ply")


def laid_out() -> None:
    """Lay it out."""
    bpy.ops.riseline.show_millimeters()
    bpy.ops.riseline.lay_out()


def out_of_date() -> None:
    """Change one setting of the scan."""
    stored().updates_live = False
    stored().scan.riser_mm = 9.0


def warned() -> None:
    """Take rubber that tears, and settings that no tube fits."""
    stored().cut.elongation_percent = 60.0
    stored().case.least_rubber_mm = 90.0
    bpy.ops.riseline.lay_out()


def oval() -> None:
    """Print an oval case."""
    bpy.ops.riseline.reset_stage(stage="")
    stored().case.kind = "printed oval"
    bpy.ops.riseline.lay_out()


def halves() -> None:
    """Cut the block in two."""
    stored().cut.way = "halves"
    bpy.ops.riseline.lay_out()


def leaned_in_inches() -> None:
    """Lean the case, and measure in inches."""
    bpy.context.scene.unit_settings.system = "IMPERIAL"
    bpy.ops.riseline.lean_case(lean=0.2, hour=4)


STATES = (nothing, scan_only, laid_out, out_of_date, warned, oval, halves, leaned_in_inches)


def crop(name: str, region: Any) -> Path:
    """Keep the sidebar's part of the picture."""
    out = Path(hand("out"))
    x, y = hand("point")(region, 0, region.height - 1)
    words = ["-crop", f"{region.width}x{region.height}+{x}+{y}", "+repage", "-trim", "-strip"]
    subprocess.run(["convert", out / f"{name}.png", *words, out / f"{name}.png"], check=True)
    return out / f"{name}.png"


def cut_off(picture: Path) -> list[str]:
    """Return the words of a picture that look as if they were cut off."""
    large = picture.with_name("read.png")
    percent = f"{READ_AT_PERCENT / SCALE:g}%"
    ready = ["-colorspace", "gray", "-resize", percent, "-level", "30%,60%", "-negate"]
    subprocess.run(["convert", picture, *ready, large], check=True)
    words = ["tesseract", large, "-", "--dpi", "200", "--psm", "11"]
    env = {**os.environ, "OMP_THREAD_LIMIT": "1"}
    read = subprocess.run(words, check=True, env=env, stdout=subprocess.PIPE).stdout.decode()
    large.unlink()
    return [line for line in read.splitlines() if any(map(CUT_OFF.search, line.split()))]


async def main() -> int:
    """Bring about each state in turn; name what is cut off."""
    bpy.context.preferences.view.ui_scale = SCALE
    open_all()
    region = await hand("open_sidebar")("Riseline")
    await hand("pause")(1.0)
    found = {}
    wanted = [one for one in STATES if one.__name__ in sys.argv] or STATES
    for number, state in enumerate(wanted):
        with hand("view3d")():
            state()
        await hand("move")((400, 400))  # in the view, where no tool-tip comes
        await hand("redraw")()
        await hand("pause")(1.5)
        name = f"{number}_{state.__name__}"
        await hand("shot")(name)
        picture = crop(name, region)
        if "--labels" in sys.argv:
            found[name] = cut_off(picture)
    for name, lines in found.items():
        print(f"{name}: {lines or 'nothing cut off'}", flush=True)
    return int(any(found.values()))
