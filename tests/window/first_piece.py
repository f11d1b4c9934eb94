"""From nothing to the parts by the one large button: a sample from a menu, then a dropped scan.

blender-window run tests/window/first_piece.py --zip ZIP --out DIR -- SCAN.ply [SCALE]
"""

import shutil
import subprocess
import sys
from pathlib import Path

import bpy
import steps
from bpy_extras.view3d_utils import location_3d_to_region_2d
from mathutils import Vector
from steps import (
    addon,
    choose_file,
    draw_box,
    fold,
    follow,
    free,
    hand,
    has_results,
    kept,
    layout_objects,
    middle,
    next_step,
    place_of,
    press,
    region_of,
    results,
    stored,
    type_into,
)

steps.take(globals())
SCAN = Path(sys.argv[1])
SCALE = float(sys.argv[2]) if len(sys.argv) > 2 else 1.0
DROP = Path(__file__).resolve().parent / "drop.py"
SAMPLE = "Hedgehog"
HALF_BOX_PX = 60
"""Of the box that is drawn with the mouse: all of it lies on the base."""
COS_OF_10_DEG = 0.985


async def open_sample():
    """Find the sample by search, with a sidebar that was never open: our tab comes to the front."""
    area = bpy.context.window_manager.windows[0].screen.areas
    space = next(one for one in area if one.type == "VIEW_3D").spaces.active
    assert not space.show_region_ui
    await hand("move")(middle())
    await hand("key")("F3")
    await hand("pause")(0.5)
    await hand("write")(SAMPLE.lower())
    await hand("pause")(0.5)
    await hand("shot")("10_search")
    await hand("key")("Return")
    await hand("until")(lambda: SAMPLE in bpy.data.objects, 60)
    await hand("until")(lambda: region_of("UI").active_panel_category == "Riseline")
    await hand("pause")(0.5)
    await hand("shot")("11_sample")


async def follow_to_the_export(name):
    """Press what the panel offers, from laying out to the export; return the folder."""
    folder, said = Path(hand("out")) / name, []
    shutil.rmtree(folder, ignore_errors=True)
    while next_step().operator != addon("ui.ids").EXPORT_PARTS:
        said.append(await follow())
        await hand("shot")(f"12_{name}_{len(said)}")
        assert len(said) < 12, said
    assert said[-len(addon("ui.tour").STOPS) :] == [one.text for one in addon("ui.tour").STOPS]
    await press("riseline.export_parts")
    await choose_file(folder)
    await hand("until")((folder / "job.json").exists, 120)
    return folder


def drag(file, place):
    """Begin to drag a file onto a place, from a window of another program."""
    words = ["python3", str(DROP), str(file), *map(str, place)]
    return subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)


async def drop_scan():
    """Let go of the file over the view, and choose what it is for."""
    dragging = drag(SCAN, middle())
    await hand("until")(lambda: dragging.poll() is not None, 60)
    assert dragging.returncode == 0, dragging.stdout.read()
    await hand("pause")(0.5)
    await hand("shot")("20_dropped")
    await hand("click")(await hand("find")("Import Scan", region_of("WINDOW")))
    await hand("until")(lambda: SCAN.stem in bpy.data.objects, 60)
    await free()
    assert stored().piece == bpy.data.objects[SCAN.stem]
    assert not has_results(), "the new piece has the numbers of the one before"


def _up_of(piece):
    """Return where the top of this scan points to; in its file that is +z."""
    return (piece.matrix_world.to_3x3() @ Vector((0.0, 0.0, 1.0))).normalized()


async def stand_it():
    """Lay it on its back, look at its base, draw a box there with the mouse, and stand it on it."""
    piece = stored().piece
    await hand("move")(middle())
    await hand("key")("r", "x", "9", "0", "Return")
    assert abs(_up_of(piece).z) < COS_OF_10_DEG, _up_of(piece)
    await hand("key")("ctrl+KP_End", "KP_Delete", "Tab", "3", "alt+a")  # from behind, all of it
    await hand("until")(lambda: bpy.context.mode == "EDIT_MESH")
    await hand("pause")(1.0)
    x, y = in_the_view(piece)
    await draw_box((x - HALF_BOX_PX, y - HALF_BOX_PX), (x + HALF_BOX_PX, y + HALF_BOX_PX))
    await hand("shot")("21_base_picked")
    await press("riseline.stand_on_faces")
    await hand("until")(lambda: bpy.context.mode == "OBJECT")
    assert _up_of(piece).z > COS_OF_10_DEG, _up_of(piece)
    assert stored().scan.up == "+z"
    await free()
    await hand("shot")("21_stands")


async def size_it():
    """Type what the ruler says, in inches."""
    await type_into("scan.height", "4.75in")
    assert abs(stored().scan.height_mm - 120.65) < 1e-3, stored().scan.height_mm  # of 25.4 mm
    await hand("redraw")()
    assert await hand("find")("mm tall", region_of("UI"))
    await hand("shot")("22_sized")


async def lean_it():
    """Click on the best lean of the list, look, and stand the case upright again."""
    await fold("Mold")
    await fold("Bubbles")
    await hand("click")(await place_of("lean_row"))
    await hand("until")(lambda: results().shown_lean_deg > 0.0)
    await hand("shot")("23_leaned")
    await press("riseline.lean_case")  # the first one says Stand Upright
    await hand("until")(lambda: results().shown_lean_deg == 0.0)
    await fold("Bubbles")


async def change_the_case():
    """Click on another case of the list: the layout follows by itself."""
    token = results().token
    other = next(one.name for one in results().choices if not one.taken)
    await fold("Case")
    await fold("Which Case")
    await press(f'tube="{other}"')
    await hand("until")(lambda: results().token != token and kept().work is None, 120)
    await free()
    assert results().case_name == other
    await hand("shot")("24_other_case")
    await fold("Which Case")
    await fold("Case")


async def write_sheets():
    """The job sheet, from its panel."""
    folder = Path(hand("out")) / "sheets"
    shutil.rmtree(folder, ignore_errors=True)
    await fold("Sheet")
    await press("riseline.write_sheets")
    await choose_file(folder)
    await hand("until")(lambda: results().sheets_at, 120)
    assert list(folder.glob("*.pdf")), list(folder.iterdir())
    await hand("shot")("25_sheets")
    await fold("Sheet")
    await fold("Mold")


def in_the_view(thing):
    """Return where the middle of an object's box is seen."""
    region, space = region_of("WINDOW"), steps.space()
    corners = [thing.matrix_world @ Vector(corner) for corner in thing.bound_box]
    centre = sum(corners, Vector()) / len(corners)
    return hand("point")(region, *location_3d_to_region_2d(region, space.region_3d, centre))


async def export_selected(role):
    """Click on a part in the view, and write it alone."""
    part = layout_objects()[role]
    await hand("click")(in_the_view(part))
    await hand("until")(lambda: bpy.context.view_layer.objects.active == part)
    await hand("key")("F3")
    await hand("pause")(0.5)
    await hand("write")("export selected part")
    await hand("pause")(0.5)
    await hand("key")("Return")
    file = Path(hand("out")) / "alone.3mf"
    file.unlink(missing_ok=True)
    await choose_file(file)
    await hand("until")(file.exists, 60)
    await hand("shot")("26_alone")


@steps.seen
async def main():
    """The sample first, then the scan."""
    bpy.context.preferences.view.ui_scale = SCALE
    bpy.context.preferences.view.filebrowser_display_type = "SCREEN"
    await open_sample()
    await follow_to_the_export("from_sample")
    await drop_scan()
    await stand_it()
    await size_it()
    assert await follow() == "Lay Out Mold"
    await lean_it()
    await change_the_case()
    await write_sheets()
    await follow_to_the_export("from_drop")
    await export_selected("funnel")
