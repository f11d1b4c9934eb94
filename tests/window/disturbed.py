"""What a person may do in the middle of a run: nothing is lost, and the next run works.

blender-window run tests/window/disturbed.py --zip ZIP --out DIR

Everything is done by clicks and keys, in Blender's own menus, dialogs and file selector.
"""

from pathlib import Path

import bpy
import steps
from steps import (
    LONGEST_S,
    addon,
    answer,
    assert_same,
    browser,
    choose_file,
    free,
    hand,
    has_results,
    kept,
    layout_objects,
    looks,
    middle,
    press,
    results,
    status_bar,
    stored,
    strip,
    top_bar,
    type_into,
)

steps.take(globals())
SAMPLE, OTHER = "hedgehog", "Plinth"
PITCH_MM, SLOW_PITCH_MM = 3.0, 0.1
"""Coarse, so that a run takes little; fine, so that it is still on its way after half a minute."""
MOST_LOOKS = 20
BESIDE_NAME_PX = 32
"""From a scene's name to the button that lists all scenes."""


async def begin():
    """Start a run by its button, and wait until it is on its way."""
    addon("bridge.kept").kept.start_afresh()  # or what is remembered leaves no middle
    await press("riseline.lay_out")
    work = await hand("until")(lambda: kept().work)
    await hand("until")(lambda: work.total > 0.0, 60)
    return work


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


async def stopped():
    """Wait until nothing runs, for whichever reason."""
    await hand("until")(lambda: kept().work is None, LONGEST_S)


async def comes_after(token):
    """Wait for a layout in place of the one of that token."""
    await free()
    assert results().token not in {"", token}, "the layout did not come"


def goes_on(work):
    assert kept().work is work, "the run ended"
    assert not work.stopping, "the run was cancelled"


def select(thing):
    """Select one object alone."""
    with hand("view3d")():
        bpy.ops.object.select_all(action="DESELECT")
    thing.select_set(state=True)
    bpy.context.view_layer.objects.active = thing
    bpy.ops.ed.undo_push(message="Select")


def all_but_layout():
    """Return what is in the file beside what a run makes and stores."""
    own = {one.name for one in bpy.context.scene.objects if steps.OWN in one}
    found = looks()
    return {name: data for name, data in found["meshes"].items() if name not in own}


async def undo_the_import():
    """Take back size and scan: the run ends in words; redo brings both."""
    before = looks()
    await begin()
    await in_view("ctrl+z", "ctrl+z")
    assert SAMPLE not in bpy.data.objects, "undo did not take back the import"
    await stopped()
    assert "removed meanwhile" in kept().trouble, kept().trouble
    await hand("shot")("30_undone")
    await hand("key")("Escape")  # what Blender tells beside the pointer takes the keys
    await hand("pause")(0.5)
    await in_view("ctrl+shift+z", "ctrl+shift+z")
    assert_same(looks(), before)


async def esc():
    """Esc, without a layout and with one: as it was."""
    before = looks()
    await begin()
    await in_view("Escape")
    await stopped()
    assert_same(looks(), before)
    assert not kept().trouble, kept().trouble


async def undo_and_redo():
    """Take back the size that was typed: the layout comes for the size that it began with."""
    before_mm = stored().scan.height_mm
    await type_into("scan.height", "64mm")
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


async def rename_the_scan():
    """F2, another name, Return: the layout knows the piece by that name, and so does undo."""
    select(stored().piece)
    token = results().token
    await begin()
    await in_view("F2")
    await steps.fill_in("urchin")
    await hand("until")(lambda: "urchin" in bpy.data.objects)
    await comes_after(token)
    assert stored().piece.name == results().source == "urchin"
    await in_view("F2")
    await steps.fill_in(SAMPLE)
    await hand("until")(lambda: SAMPLE in bpy.data.objects)
    await run()
    assert results().source == SAMPLE


async def told(words):
    """Read words in the status bar, once Blender has told there for a while what went before."""
    for left in reversed(range(MOST_LOOKS)):
        await hand("pause")(0.6)
        try:
            await hand("find")(words, status_bar())
        except LookupError:
            if not left:
                raise
        else:
            return


async def duplicate_the_scan():
    """Shift+D and Esc: the Esc is for the copy's move, and the layout is the first one's."""
    piece, token = stored().piece, results().token
    select(piece)
    work = await begin()
    await in_view("shift+d")
    await hand("key")("Escape")
    copy = await hand("until")(lambda: bpy.data.objects.get(f"{SAMPLE}.001"))
    await hand("pause")(0.3)
    goes_on(work)
    await comes_after(token)
    assert stored().piece == piece
    assert results().source == piece.name
    assert addon("ui.next_step").next_step(bpy.context).text == f"Work on {copy.name}"
    select(copy)
    await in_view("Delete")
    select(piece)


async def edit_the_scan():
    """Tab: the layout waits, and says for what, until Object Mode is back."""
    select(stored().piece)
    token, work = results().token, await begin()
    await in_view("Tab")
    assert bpy.context.mode == "EDIT_MESH"
    await hand("until")(lambda: work.waits_for, LONGEST_S)
    await told("Object Mode")
    await hand("shot")("31_waits")
    assert results().token == token, "a layout came in Edit Mode"
    await in_view("Tab")
    await comes_after(token)


async def hold_a_part():
    """G on a part that is about to be replaced: it is replaced when it is let go of."""
    thing = layout_objects()["case"]
    select(thing)
    token, work = results().token, await begin()
    x, y = middle()
    await in_view("g")
    await hand("move")(x + 60, y + 30)
    await hand("until")(lambda: work.waits_for, LONGEST_S)
    assert results().token == token, "a part was replaced in the hand"
    await hand("key")("Escape")
    await comes_after(token)
    select(stored().piece)


async def delete_the_scan():
    """Delete it: the run ends in words, and what was there stays; undo brings the scan back."""
    select(stored().piece)
    before = looks()
    await begin()
    await in_view("Delete")
    assert SAMPLE not in bpy.context.scene.objects
    await stopped()
    assert "removed meanwhile" in kept().trouble, kept().trouble
    await hand("shot")("32_deleted")
    await hand("key")("Escape")  # what Blender tells beside the pointer takes the keys
    await hand("pause")(0.5)
    await in_view("ctrl+z")
    await hand("until")(lambda: SAMPLE in bpy.context.scene.objects)
    assert_same(looks(), before)


async def choose_scene(name, shown):
    """Open the list in the top bar, and click on a scene."""
    x, y = await hand("find")(shown, top_bar())
    await hand("click")(x - BESIDE_NAME_PX, y)
    await hand("pause")(0.3)
    await hand("click")(await hand("find")(name, strip(x - 2 * BESIDE_NAME_PX, y + 12, 260, 60)))
    await hand("until")(lambda: bpy.context.scene.name == name)


async def go_to_another_scene():
    """Show another scene: the layout comes to the scene that it was begun in, no other."""
    first, other = bpy.context.scene, bpy.data.scenes.new(OTHER)
    bpy.ops.ed.undo_push(message="New Scene")
    token = results().token
    work = await begin()
    await choose_scene(OTHER, first.name)
    goes_on(work)
    await stopped()
    assert not kept().trouble, kept().trouble
    assert not other.objects[:]
    assert not other.riseline.results.token
    await choose_scene(first.name, OTHER)
    assert results().token not in {"", token}
    bpy.data.scenes.remove(other)


async def go_to_workspace(name):
    await hand("click")(await hand("find")(name, top_bar()))
    await hand("until")(lambda: bpy.context.workspace.name == name)


async def begin_slowly():
    """Start a run that takes long enough to be read about; it is to be stopped."""
    stored().bubbles.pitch_mm = SLOW_PITCH_MM
    work = await begin()
    stored().bubbles.pitch_mm = PITCH_MM
    return work


async def go_to_another_workspace():
    """Without our sidebar: the status bar tells of the run, Esc ends it, and a layout comes."""
    token, work = results().token, await begin_slowly()
    await go_to_workspace("Animation")
    await told("Esc to cancel")
    goes_on(work)
    await hand("shot")("33_another_workspace")
    await in_view("Escape")
    await stopped()
    await go_to_workspace("Layout")
    assert results().token == token
    await begin()
    await go_to_workspace("Animation")
    await comes_after(token)
    await go_to_workspace("Layout")


async def close_the_sidebar():
    """N: the status bar still tells of the run, and Esc still ends it."""
    before = looks()
    work = await begin_slowly()
    await in_view("n")
    await told("Esc to cancel")
    goes_on(work)
    await hand("shot")("34_without_sidebar")
    await in_view("Escape")
    await stopped()
    await in_view("n")
    await hand("open_sidebar")("Riseline")
    assert_same(looks(), before)


async def save_as(file):
    """Save under a name while it runs: Esc closes the selector alone; the layout comes under it."""
    token, work = results().token, await begin()
    await in_view("ctrl+shift+s")
    await hand("until")(browser)
    await hand("key")("Escape")
    await hand("until")(lambda: browser() is None)
    goes_on(work)
    await in_view("ctrl+shift+s")
    await hand("until")(browser)
    await comes_after(token)
    await choose_file(file)
    await hand("until")(lambda: bpy.data.filepath == str(file) and file.exists())
    assert not bpy.data.is_dirty


async def save_and_reopen(file):
    """Save while it runs, then open that file while it runs: as it was saved, not as it became."""
    token, count = results().token, len(bpy.data.objects)
    work = await begin_slowly()
    stored().resin.shell_mm = 4.5
    bpy.ops.ed.undo_push(message="Shell")
    await in_view("ctrl+s")
    await hand("until")(lambda: not bpy.data.is_dirty)
    goes_on(work)
    await in_view("Delete")
    assert bpy.data.is_dirty
    await in_view("ctrl+o")
    await hand("shot")("35_asks")
    await answer("Don't Save")
    await choose_file(file)
    await hand("until")(lambda: len(bpy.data.objects) == count)
    assert kept().work is None
    assert (results().token, stored().resin.shell_mm) == (token, 4.5)
    assert kept().layout(token) is None, "what is kept is of the file before"
    assert SAMPLE in bpy.context.scene.objects


async def cancel_opening():
    """Ask for another file and think better of it: the run goes on to its end."""
    token, work = results().token, await begin()
    stored().resin.shell_mm = 5.0
    bpy.ops.ed.undo_push(message="Shell")
    await in_view("ctrl+o")
    await answer("Cancel")
    goes_on(work)
    await comes_after(token)


async def load_another_file():
    """File, New, General: the work is gone, and nothing of it comes to the new one."""
    await begin()
    await hand("click")(await hand("find")("File", top_bar()))
    await hand("pause")(0.3)
    await hand("click")(await hand("find")("New", strip(0, 26, 260, 60)))
    await hand("pause")(0.3)
    await hand("click")(await hand("find")("General", strip(0, 26, 600, 120)))
    await hand("pause")(0.3)
    await answer("Don't Save")
    await hand("until")(lambda: SAMPLE not in bpy.data.objects)
    await hand("pause")(0.5)
    assert kept().work is None
    assert not has_results()
    assert sorted(one.name for one in bpy.data.objects) == ["Camera", "Cube", "Light"]


async def import_sample():
    """Import by the button and the file selector, and type a size."""
    file = next(Path(addon("bridge.kept").__file__).parents[1].rglob(f"{SAMPLE}.ply"))
    await press("riseline.import_scan")
    await choose_file(file)
    await hand("until")(lambda: SAMPLE in bpy.data.objects, 60)
    await free()
    await type_into("scan.height", "60mm")


@steps.seen
async def main():
    """Each in turn; where a run was ended, a whole one after it."""
    bpy.context.preferences.view.filebrowser_display_type = "SCREEN"
    file = Path(hand("out")) / "disturbed.blend"
    file.unlink(missing_ok=True)
    await hand("open_sidebar")("Riseline")
    await import_sample()
    await undo_the_import()
    stored().updates_live = False
    stored().bubbles.lean_limit_deg = 0.0  # the search for leans takes most of the time
    stored().bubbles.pitch_mm = PITCH_MM
    bpy.ops.ed.undo_push(message="Settings")
    await esc()
    await run()
    for harm in (undo_and_redo, rename_the_scan, duplicate_the_scan, edit_the_scan, hold_a_part):
        await harm()
    for harm in (esc, close_the_sidebar, delete_the_scan):
        await harm()
    await run()
    await go_to_another_scene()
    await go_to_another_workspace()
    await save_as(file)
    await save_and_reopen(file)
    await run()
    await cancel_opening()
    await load_another_file()
