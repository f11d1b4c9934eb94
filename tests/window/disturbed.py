"""What a person may do in the middle of a run: nothing is lost, and the next run works.

blender-window run tests/window/disturbed.py --zip ZIP --out DIR
"""

from pathlib import Path

import bpy
import steps
from steps import (
    LONGEST_S,
    addon,
    assert_same,
    free,
    hand,
    has_results,
    kept,
    looks,
    middle,
    press,
    results,
    stored,
    type_into,
)

steps.take(globals())
SAMPLE, OTHER = "Hedgehog", "Another Scene"
WITH_UNDO = True


async def begin():
    """Start a run by its button, and wait until it is on its way."""
    addon("bridge.kept").kept.start_afresh()  # or what is remembered leaves no middle
    await press("riseline.lay_out")
    work = await hand("until")(lambda: kept().work)
    await hand("until")(lambda: work.total > 0.0, 60)


async def run():
    """Lay out to the end."""
    token = results().token
    await begin()
    await free()
    assert results().token not in {"", token}
    assert not addon("bridge.outdated").outdated_stages(bpy.context.scene)


async def in_view(*keys):
    """Press keys with the pointer over the view."""
    await hand("move")(middle())
    await hand("key")(*keys)
    await hand("pause")(0.3)


def all_but_layout():
    """Return what is in the file beside what a run makes and stores."""
    own = {one.name for one in bpy.context.scene.objects if steps.OWN in one}
    found = looks()
    return {name: data for name, data in found["meshes"].items() if name not in own}


async def esc():
    """Esc, without a layout and with one: as it was."""
    before = looks()
    await begin()
    await in_view("Escape")
    await hand("until")(lambda: kept().work is None, LONGEST_S)
    assert_same(looks(), before)
    assert not kept().trouble, kept().trouble


async def undo_and_redo():
    """Take back the size that was typed: the layout comes for the size that it began with."""
    before_mm = stored().scan.height_mm
    await type_into("scan.height", "110mm")
    typed_mm = stored().scan.height_mm
    scan = all_but_layout()
    await begin()
    await in_view("ctrl+z")
    assert abs(stored().scan.height_mm - before_mm) < 1e-3, "undo did not take back the size"
    await free()
    assert abs(kept().layout(results().token).settings.scan.height_mm - typed_mm) < 1e-3
    assert "scan" in addon("bridge.outdated").outdated_stages(bpy.context.scene)
    assert_same(all_but_layout(), scan)
    token = results().token
    await in_view("ctrl+z")
    assert results().token != token, "the layout is a step of its own"
    await in_view("ctrl+shift+z")
    assert results().token == token


async def save_and_reopen(file):
    """Save while it runs, then open that file while it runs again: as it was saved."""
    bpy.ops.wm.save_as_mainfile(filepath=str(file))
    token, objects = results().token, len(bpy.data.objects)
    await begin()
    await in_view("ctrl+s")
    await hand("until")(lambda: not bpy.data.is_dirty)
    assert kept().work is not None
    bpy.ops.wm.open_mainfile(filepath=str(file))
    await hand("pause")(0.5)
    assert kept().work is None
    assert (results().token, len(bpy.data.objects)) == (token, objects)
    assert kept().layout(token) is None


async def delete_the_scan():
    """Delete it: the run ends in words, and what was there stays; undo brings the scan back."""
    with hand("view3d")():
        bpy.ops.object.select_all(action="DESELECT")
    scan = stored().piece
    scan.select_set(state=True)
    bpy.context.view_layer.objects.active = scan
    bpy.ops.ed.undo_push(message="Select")
    before = looks()
    await begin()
    await in_view("Delete")
    assert SAMPLE not in bpy.context.scene.objects
    await hand("until")(lambda: kept().work is None, LONGEST_S)
    assert "removed meanwhile" in kept().trouble, kept().trouble
    await hand("shot")("31_deleted")
    await hand("key")("Escape")  # what Blender tells beside the pointer takes the keys
    await hand("pause")(0.5)
    await in_view("ctrl+z")
    await hand("until")(lambda: SAMPLE in bpy.context.scene.objects)
    assert_same(looks(), before)


async def go_to_another_scene():
    """Show another scene: the layout comes to the scene that it was begun in, no other."""
    window, first = bpy.context.window_manager.windows[0], bpy.context.scene
    other = bpy.data.scenes.new(OTHER)
    bpy.ops.ed.undo_push(message="New Scene")
    token = results().token
    await begin()
    window.scene = other
    await hand("until")(lambda: kept().work is None, LONGEST_S)
    assert not kept().trouble, kept().trouble
    assert not other.objects[:]
    assert not other.riseline.results.token
    window.scene = first
    await hand("until")(lambda: bpy.context.scene == first)
    assert results().token != token
    bpy.data.scenes.remove(other)


async def load_another_file():
    """A new file: the work is gone, and nothing of it comes to the new one."""
    await begin()
    bpy.ops.wm.read_homefile(app_template="")
    await hand("pause")(1.0)
    assert kept().work is None
    assert not has_results()
    assert sorted(one.name for one in bpy.data.objects) == ["Camera", "Cube", "Light"]


async def main():
    """Each in turn, and a whole run after it."""
    file = Path(hand("out")) / "disturbed.blend"
    await hand("open_sidebar")("Riseline")
    with hand("view3d")():
        bpy.ops.riseline.open_sample("EXEC_DEFAULT", WITH_UNDO, sample="hedgehog.ply")
        bpy.ops.riseline.show_millimeters("EXEC_DEFAULT", WITH_UNDO)
    await hand("redraw")()
    stored().updates_live = False
    stored().bubbles.lean_limit_deg = 0.0  # the search for leans takes most of the time
    stored().bubbles.pitch_mm = 3.0
    bpy.ops.ed.undo_push(message="Settings")
    for harm in (esc, undo_and_redo, esc, delete_the_scan, go_to_another_scene):
        await harm()
        await run()
        await hand("shot")(f"30_{harm.__name__}")
    await save_and_reopen(file)
    await run()
    await load_another_file()
