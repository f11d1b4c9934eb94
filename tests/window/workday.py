"""A maker's way through the add-on in a real window: run by the blender-window tool, not imported.

    blender-window run tests/window/workday.py --zip ZIP --out DIR -- SCAN.ply

What the tool puts in scope (click, button, until, shot, ...) is taken from there by name.
"""

import importlib
import json
import shutil
import subprocess
import sys
from pathlib import Path

import bpy
from mathutils import Vector

HANDS = dict(globals())
HERE = Path(__file__).resolve().parent
SCAN = Path(sys.argv[1])
OWN = "riseline_role"
WITH_UNDO = True


def hand(name):
    """Return one of the tool's functions."""
    return HANDS[name]


def kept():
    """Return what the installed add-on keeps in memory."""
    return importlib.import_module(hand("extension") + ".bridge.kept").kept


def looks():
    """Return all of the file that must stay as it is."""
    sys.path.insert(0, str(HERE.parent / "blender"))
    return importlib.import_module("snapshot").of_file()


def results():
    return bpy.context.scene.riseline.results


def has_results():
    return bool(results().token)


def layout_objects():
    return {one[OWN]: one for one in bpy.context.scene.objects if OWN in one}


async def press(operator):
    """Click on the button of an operator, then move the pointer off it."""
    place = await hand("button")(operator)
    await hand("click")(place)
    return place


async def choose_file(path):
    """Fill in the file selector that opened, and press its button."""

    def browser():
        areas = bpy.context.window_manager.windows[0].screen.areas
        return next((one for one in areas if one.type == "FILE_BROWSER"), None)

    area = await hand("until")(browser)
    await hand("pause")(0.5)
    area.spaces.active.params.directory = str(path.parent).encode()
    area.spaces.active.params.filename = path.name
    await hand("shot")(f"selector_{path.suffix.strip('.') or 'folder'}")
    bottom = next(one for one in area.regions if one.type == "EXECUTE")
    await hand("click")(hand("point")(bottom, bottom.width - 70, bottom.height / 2))

    def closed():
        return browser() is None

    await hand("until")(closed)


async def import_scan():
    """The cube of a new file is no piece: the card asks for a scan."""
    assert results().token == ""
    bpy.context.preferences.view.filebrowser_display_type = "SCREEN"
    await hand("shot")("01_start")
    await press("riseline.import_scan")
    await choose_file(SCAN)
    await hand("until")(lambda: SCAN.stem in bpy.data.objects, 60)
    await hand("until")(lambda: kept().work is None)
    assert bpy.context.scene.riseline.piece == bpy.data.objects[SCAN.stem]
    boxes = importlib.import_module(hand("extension") + ".bridge.place")
    cube, scan = (boxes.boxes_of([bpy.data.objects[name]])[0] for name in ("Cube", SCAN.stem))
    assert (scan[0] > cube[1]).any(), "the scan stands in the cube"
    await hand("pause")(0.5)
    await hand("shot")("02_imported")


async def set_height():
    """Type the true height, as on the ruler."""
    place = await hand("button")("height")
    await hand("click")(place)
    await hand("key")("ctrl+a")
    await hand("write")("4.75in")
    await hand("key")("Return")
    await hand("pause")(0.3)
    stored = bpy.context.scene.riseline.scan.height_mm
    assert abs(stored - 120.65) < 1e-3, stored  # 4.75 in of 25.4 mm


async def cancel():
    """Start, watch, press Esc: nothing has changed."""
    before = looks()
    await press("riseline.lay_out")
    work = await hand("until")(lambda: kept().work)
    await hand("until")(lambda: work.total > 0.0, 60)
    await hand("shot")("03_running")
    await hand("key")("Escape")
    await hand("until")(lambda: kept().work is None, 120)
    assert looks() == before, "Esc changed the scene"
    assert not kept().trouble, kept().trouble
    await hand("shot")("04_cancelled")


async def lay_out():
    """Start again and wait for the end."""
    scan = bpy.data.objects[SCAN.stem]
    before = looks()["meshes"][scan.name]
    seen = set()
    await press("riseline.lay_out")
    work = await hand("until")(lambda: kept().work)

    while not results().token:
        seen.add((work.stage, round(work.total, 1)))
        await hand("frame")()
        assert kept().work is work or results().token, kept().trouble
    assert len(seen) > 3, f"progress was seen only at {seen}"
    assert looks()["meshes"][scan.name] == before, "the scan was altered"
    await hand("pause")(0.5)
    await hand("shot")("05_laid_out")


def check_brush_map():
    """What is flagged in the window is what core found."""
    layout = kept().layout(results().token)
    data = layout_objects()["master"].data
    assert len(data.polygons) == len(layout.scan.mesh.faces)
    values = [False] * len(data.polygons)
    data.attributes["riseline_prebrush"].data.foreach_get("value", values)
    flagged = sum(values)
    assert flagged == int(layout.bubbles.prebrush.sum()), flagged
    assert flagged > 0
    assert len(data.materials) > 1


async def look_at_panels():
    """Open each panel for a picture."""
    sidebar = await hand("open_sidebar")("Riseline")
    await hand("click")(await hand("find")("Mold", sidebar))
    for name in ("Bubbles", "Case", "Rubber"):
        place = await hand("find")(name, sidebar)
        await hand("click")(place)
        await hand("pause")(0.3)
        await hand("shot")(f"06_{name.lower()}")
        await hand("click")(place)
    await hand("click")(await hand("find")("Mold", sidebar))


async def undo_and_redo(before, middle):
    """One step back takes the layout away, one step forward brings it."""
    after = looks()
    await hand("move")(middle)
    await hand("key")("ctrl+z")
    await hand("until")(lambda: not has_results())
    assert looks() == before, "undo left something"
    await hand("shot")("07_undone")
    await hand("move")(middle)
    await hand("key")("ctrl+shift+z")
    await hand("until")(has_results)
    assert looks() == after, "redo lost something"


async def look_into_pocket(middle):
    """Click on a pocket: the view looks up into it. Drag the rubber up: one undo lowers it."""
    sidebar = await hand("open_sidebar")("Riseline")
    await hand("click")(await hand("find")("Mold", sidebar))
    await hand("click")(await hand("find")("Bubbles", sidebar))
    await hand("pause")(0.3)
    await hand("click")(await hand("button")("pocket_row"))
    await hand("until")(lambda: results().pocket_row >= 0)
    with hand("view3d")() as context:
        view = context.space_data.region_3d
        looks = view.view_rotation @ Vector((0.0, 0.0, -1.0))
    up = layout_objects()["brush map"].matrix_world.to_3x3() @ Vector((0.0, 0.0, 1.0))
    assert looks.dot(up) > 0.999, (looks, up)
    await hand("shot")("07_pocket")
    x, y = await hand("button")("rubber_level")
    await hand("press")((x - 60, y))
    for step in range(6):
        await hand("move")((x - 60 + 10 * step, y))
        await hand("frame")()
    await hand("release")()
    await hand("until")(lambda: results().shown_poured_ml > 0.0)
    await hand("shot")("07_rubber")
    await hand("move")(middle)
    await hand("key")("ctrl+z")
    await hand("until")(lambda: results().shown_poured_ml == 0.0)
    assert layout_objects()["rubber"].hide_viewport
    await hand("click")(await hand("find")("Bubbles", sidebar))
    await hand("click")(await hand("find")("Mold", sidebar))


async def take_the_tour():
    """The one button leads on from look to look, to the export."""
    stored = bpy.context.scene.riseline
    stops = importlib.import_module(hand("extension") + ".ui.tour").STOPS
    for number in range(len(stops)):
        await press("riseline.next_stop")
        await hand("until")(lambda now=number: stored.tour == now + 1)
        await hand("pause")(0.3)
        await hand("shot")(f"08_tour_{number + 1}")
    assert stored.rubber_level > 0.0


async def change_one_stage():
    """What is out of date says so, and the button runs that stage only."""
    stored = bpy.context.scene.riseline
    before = kept().layout(results().token)
    stored.updates_live = False
    stored.resin.shell_mm = 4.5
    await hand("redraw")()
    await hand("shot")("08_out_of_date")
    sidebar = await hand("open_sidebar")("Riseline")
    await hand("click")(await hand("find")("Update Resin", sidebar))
    await hand("until")(lambda: kept().layout(results().token) is not before, 60)
    after = kept().layout(results().token)
    assert after.timings_s["Bubbles"] == before.timings_s["Bubbles"]  # it did not run again
    assert after.timings_s["Resin"] != before.timings_s["Resin"]


async def export():
    """Write the parts through the file selector."""
    folder = Path(hand("out")) / "garden_mold"
    await press("riseline.export_parts")
    await choose_file(folder)
    await hand("until")((folder / "job.json").exists, 60)
    job = json.loads((folder / "job.json").read_text(encoding="utf-8"))
    missing = [part["file"] for part in job["parts"] if not (folder / part["file"]).exists()]
    assert job["parts"]
    assert not missing, missing
    await hand("shot")("08_exported")


async def bad_input():
    """A single plane is refused in words, and the scene stays."""
    with hand("view3d")():
        bpy.ops.mesh.primitive_plane_add(size=0.1)
    await hand("redraw")()
    token = results().token
    await press("riseline.work_on")
    await hand("until")(lambda: results().token != token)
    bpy.context.scene.riseline.updates_live = False
    before = looks()
    await press("riseline.lay_out")
    await hand("until")(lambda: kept().trouble, 60)
    assert looks() == before, "a refused plane changed the scene"
    await hand("pause")(0.5)
    await hand("shot")("09_refused")


async def reopen():
    """A file opened anew shows its numbers and objects, and says what has to run again."""
    file = str(Path(hand("out")) / "saved.blend")
    numbers = (results().rubber_mass_g, len(layout_objects()))
    bpy.ops.wm.save_as_mainfile(filepath=file)
    bpy.ops.wm.open_mainfile(filepath=file)
    await hand("pause")(1.0)
    assert (results().rubber_mass_g, len(layout_objects())) == numbers
    await hand("open_sidebar")("Riseline")
    await hand("shot")("09_reopened")
    sidebar = await hand("open_sidebar")("Riseline")
    assert await hand("find")("Lay Out Again", sidebar)


def command_line():
    """The installed add-on serves the command line of Blender as well."""
    bpy.ops.wm.save_userpref()
    folder = Path(hand("out")) / "from_command_line"
    shutil.rmtree(folder, ignore_errors=True)
    start = [bpy.app.binary_path, "--offline-mode", "--command", "riseline", "layout"]
    words = ["--height-mm", "120.65", "--out", str(folder)]
    done = subprocess.run([*start, str(SCAN), *words], check=False, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    one, other = (
        json.loads((Path(hand("out")) / name / "job.json").read_text(encoding="utf-8"))
        for name in ("garden_mold", "from_command_line")
    )
    assert abs(one["bubbles"]["trapped_ml"] - other["bubbles"]["trapped_ml"]) < 0.01
    missing = [str(SCAN.with_name("missing.stl")), *words]
    done = subprocess.run([*start, *missing], check=False, capture_output=True, text=True)
    assert done.returncode == 2, done.stdout + done.stderr
    assert "missing.stl" in done.stderr


async def main():
    """The whole day."""
    await hand("open_sidebar")("Riseline")
    await import_scan()
    await set_height()
    with hand("view3d")() as context:
        middle = hand("point")(context.region, context.region.width / 3, context.region.height / 2)
    await cancel()
    before = looks()
    await lay_out()
    check_brush_map()
    await look_at_panels()
    await undo_and_redo(before, middle)
    await look_into_pocket(middle)
    await take_the_tour()
    await change_one_stage()
    await export()
    await bad_input()
    bpy.ops.riseline.work_on(name=SCAN.stem)
    bpy.context.scene.riseline.updates_live = False
    await reopen()
    command_line()
