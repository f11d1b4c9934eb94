"""Run in a window by the screen tool: all panels and sub-panels open, in every state of the work.

The sidebar is scrolled from its first row to its last. Blender opens a panel that it draws for the
first time as the panel asks for, so each is made to ask for it before the sidebar is ever drawn.
What the tool puts in scope is taken by name. Labels that were cut off are found by the three dots
that Blender puts there; panels planted for that must be found first, or nothing is believed.
"""

from __future__ import annotations

import importlib
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import bpy
import dots
import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

HANDS = dict(globals())
SCALE = float(next((one for one in sys.argv[1:] if one.replace(".", "").isdigit()), "1"))
COLUMN, COLUMNS = 1500, 5
"""Rows of a column at a scale of 1, and columns of a sheet that is looked at."""
OVERLAP = 60
"""Rows that are seen twice when the sidebar is scrolled on, at a scale of 1."""
PLANTED = "Planted: a Label That No Sidebar Has the Room For"


def hand(name: str) -> Callable[..., Any]:
    """Return one of the tool's functions."""
    return HANDS[name]


def addon(path: str) -> Any:
    """Return a module of the installed add-on."""
    return importlib.import_module(f"{hand('extension')}.{path}")


def open_all() -> None:
    """Let every panel ask to be open."""
    panels = [one for one in addon("ui.registration").CLASSES if issubclass(one, bpy.types.Panel)]
    for one in reversed(panels):
        bpy.utils.unregister_class(one)
    for one in panels:
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


def one_slit() -> None:
    """Cut by one slit, though it frees one of two parts only; else the sample is cut in halves."""
    stored().cut.way = "slit"
    bpy.ops.riseline.lay_out()


def leaned_in_inches() -> None:
    """Lean the case, and measure in inches."""
    bpy.context.scene.unit_settings.system = "IMPERIAL"
    bpy.ops.riseline.lean_case(lean=0.2, hour=4)


STATES = (nothing, scan_only, laid_out, out_of_date, warned, oval, one_slit, leaned_in_inches)


class PlantedPanel(bpy.types.Panel):
    """Labels that are cut off, each kind that a panel of ours has."""

    bl_idname = "RISELINE_PT_planted"
    bl_label = "Planted"
    bl_space_type, bl_region_type, bl_category = "VIEW_3D", "UI", "Riseline"

    def draw(self, context: bpy.types.Context) -> None:
        """Ask for more than there is room for."""
        addon("ui.panels.drawing").fact(self.layout, PLANTED, "12.5 mm")
        addon("ui.panels.drawing").fact(self.layout, "Length", PLANTED)
        self.layout.label(text=PLANTED, icon="INFO")
        self.layout.operator("riseline.open_help", text=PLANTED)
        self.layout.prop(context.scene.riseline.scan, "riser", text=PLANTED)
        self.layout.prop(context.scene.riseline, "updates_live", text=PLANTED)


PLANTED_LABELS = 6


def convert(*words: object) -> None:
    """Run the picture program."""
    subprocess.run(["convert", *map(str, words)], check=True)


def scroll(region: Any, rows: int) -> None:
    """Scroll the sidebar, down when rows are above zero."""
    window = bpy.context.window_manager.windows[0]
    area = next(one for one in window.screen.areas if one.type == "VIEW_3D")
    with bpy.context.temp_override(window=window, area=area, region=region):
        bpy.ops.view2d.pan(deltax=0, deltay=-rows)


async def whole(name: str, region: Any) -> Path:
    """Take the sidebar from the first row to the last, as one picture."""
    out, parts, seen = Path(hand("out")), [], None
    scroll(region, -1_000_000)
    while True:
        await hand("redraw")()
        await hand("pause")(0.7)
        top = region.view2d.region_to_view(0, region.height)[1]
        fresh = region.height if seen is None else round(seen - top)
        if fresh <= 0:
            break
        part = out / f"{name}_{len(parts)}.png"
        await hand("shot")(part.stem)
        x, y = hand("point")(region, 0, region.height - 1)
        box = f"{region.width}x{fresh}+{x}+{y + region.height - fresh}"
        convert(part, "-crop", box, "+repage", "-strip", part)
        parts.append(part)
        seen = top
        scroll(region, region.height - round(OVERLAP * SCALE))
    picture = out / f"{name}.png"
    convert(*parts, "-append", "+repage", picture)
    for part in parts:
        part.unlink()
    return picture


def sheets(picture: Path) -> None:
    """Cut a tall picture into columns, and put them side by side on sheets to be looked at."""
    pieces = picture.with_name(f"{picture.stem}_column_%02d.png")
    convert(
        picture,
        "+repage",
        "-resize",
        f"{100.0 / SCALE:g}%",
        "+repage",
        "-crop",
        f"0x{COLUMN}",
        "+repage",
        pieces,
    )
    columns = sorted(picture.parent.glob(f"{picture.stem}_column_*.png"))
    for first in range(0, len(columns), COLUMNS):
        sheet = picture.with_name(f"{picture.stem}_sheet_{first // COLUMNS + 1}.png")
        convert(*columns[first : first + COLUMNS], "+append", sheet)
    for column in columns:
        column.unlink()


def rows_cut_off(picture: Path) -> list[int]:
    """Return the rows of a picture where a label ends in dots."""
    image = bpy.data.images.load(str(picture))
    wide, high = image.size
    pixels = np.zeros(wide * high * 4, dtype=np.float32)
    image.pixels.foreach_get(pixels)
    bpy.data.images.remove(image)
    brightness = 255.0 * pixels.reshape(high, wide, 4)[::-1, :, :3].mean(axis=2)
    return dots.rows_in(brightness, SCALE)


async def can_see(region: Any) -> bool:
    """Tell whether every label that was planted is found."""
    bpy.utils.register_class(PlantedPanel)
    picture = await whole("planted", region)
    bpy.utils.unregister_class(PlantedPanel)
    found = rows_cut_off(picture)
    print(f"planted: {len(found)} of {PLANTED_LABELS} found", flush=True)
    return len(found) == PLANTED_LABELS


async def main() -> int:
    """Bring about each state in turn; name the rows where something is cut off."""
    bpy.context.preferences.view.ui_scale = SCALE
    bpy.context.preferences.system.use_region_overlap = False  # or the view is seen through
    open_all()
    region = await hand("open_sidebar")("Riseline")
    await hand("pause")(1.0)
    await hand("move")((400, 400))  # in the view, where no tool-tip comes
    sees = await can_see(region)
    found = {}
    wanted = [one for one in STATES if one.__name__ in sys.argv] or STATES
    for number, state in enumerate(wanted):
        with hand("view3d")():
            state()
        await hand("redraw")()
        await hand("pause")(1.0)
        name = f"{number}_{state.__name__}"
        picture = await whole(name, region)
        found[name] = rows_cut_off(picture)
        sheets(picture)
        rows = ", ".join(map(str, found[name]))
        print(f"{name}: " + (f"cut off at row {rows}" if rows else "nothing cut off"), flush=True)
    return int(any(found.values()) or not sees)
