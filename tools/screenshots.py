"""Run in a window by the screen tool: a picture of every panel, at the scale that is named.

What the tool puts in scope (click, find, shot, ...) is taken from there by name.
"""

from __future__ import annotations

import contextlib
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import bpy

if TYPE_CHECKING:
    from collections.abc import Callable

HANDS = dict(globals())
SCALE = float(next((one for one in sys.argv[1:] if one.replace(".", "").isdigit()), "1"))
SAMPLE = "toadstool.ply"
STAGES = (
    "Views", "Scan", "Bubbles", "Case", "Funnel", "Cut", "Rubber", "Resin", "Parts", "Sheet",
)  # fmt: skip
LONGEST_S = 400


def hand(name: str) -> Callable[..., Any]:
    """Return one of the tool's functions."""
    return HANDS[name]


def keep(name: str, region: object | None) -> None:
    """Crop the picture of that name to a region of the window, and keep it as JPEG."""
    out = Path(hand("out"))
    crop = []
    if region is not None:
        x, y = hand("point")(region, 0, region.height - 1)
        crop = ["-crop", f"{region.width}x{region.height}+{x}+{y}", "+repage"]
    words = [out / f"{name}.png", *crop, "-strip", "-quality", "80", out / f"{name}.jpg"]
    subprocess.run(["convert", *map(str, words)], check=True)
    (out / f"{name}.png").unlink()


def region_of(kind: str) -> object:
    """Return a region of the 3D view."""
    area = next(one for one in bpy.context.window_manager.windows[0].screen.areas
                if one.type == "VIEW_3D")  # fmt: skip
    return next(one for one in area.regions if one.type == kind)


async def picture(name: str, region: object | None) -> None:
    """Take a picture of a region, with the pointer where no tool-tip comes: in the empty view."""
    view = region_of("WINDOW")
    await hand("move")(hand("point")(view, view.width / 4, view.height * 0.85))
    await hand("pause")(0.4)
    await hand("shot")(name)
    keep(name, region)


async def settings_picture(stage: str, sidebar: object) -> None:
    """Take a picture of a panel's settings, where they stand within the window's height."""
    with contextlib.suppress(LookupError):
        place = await hand("find")("Settings", sidebar)
        await hand("click")(place)
        await hand("pause")(0.3)
        await picture(f"{stage}_settings", sidebar)
        await hand("click")(place)


async def main() -> int:
    """Take the first card, then the sample with each panel in turn."""
    bpy.context.preferences.view.ui_scale = SCALE
    sidebar = await hand("open_sidebar")("Riseline")
    await hand("pause")(1.0)
    await picture("welcome", sidebar)
    with hand("view3d")():
        bpy.data.objects.remove(bpy.data.objects["Cube"])
        bpy.ops.riseline.open_sample(sample=SAMPLE)
    await hand("pause")(1.0)
    await picture("piece", sidebar)
    with hand("view3d")():
        bpy.ops.riseline.lay_out()
    await hand("pause")(1.0)
    sidebar = await hand("open_sidebar")("Riseline")
    await picture("mold", region_of("WINDOW"))
    await hand("click")(await hand("find")("Mold", sidebar))
    for stage in STAGES:
        await hand("click")(await hand("find")(stage, sidebar))
        await hand("pause")(0.3)
        await picture(stage.lower(), sidebar)
        await settings_picture(stage.lower(), sidebar)
        await hand("click")(await hand("find")(stage, sidebar))
    return 0
