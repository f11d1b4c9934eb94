"""What the plays in the window have in common. The screen tool runs a play; a play imports this.

A play begins with `take(globals())`: what the tool puts in its scope (click, button, until, shot,
...) is called here by name.
"""

import importlib
import sys
from pathlib import Path

import bpy

HERE = Path(__file__).resolve().parent
HANDS = {}
OWN = "riseline_role"
PROBE_PX = 18
"""Less than the height of a button."""
LONGEST_S = 300


def take(scope):
    """Keep the tool's functions."""
    HANDS.update(scope)


def hand(name):
    """Return one of the tool's functions."""
    return HANDS[name]


def addon(path):
    """Return a module of the installed add-on."""
    return importlib.import_module(f"{hand('extension')}.{path}")


def kept():
    """Return what the installed add-on keeps in memory."""
    return addon("bridge.kept").kept


def looks():
    """Return all of the file that must stay as it is."""
    folder = str(HERE.parent / "blender")
    if folder not in sys.path:
        sys.path.insert(0, folder)
    return importlib.import_module("snapshot").of_file()


def assert_same(now, before):
    """Refuse what differs from before, by name."""
    assert now == before, sorted(_differing(now, before, ""))


def _differing(now, before, path):
    if not (isinstance(now, dict) and isinstance(before, dict)):
        return [] if now == before else [f"{path}: {before!s:.60} became {now!s:.60}"]
    names = {*now, *before}
    return [
        found
        for name in names
        for found in _differing(now.get(name), before.get(name), f"{path}/{name}")
    ]


def stored():
    return bpy.context.scene.riseline


def results():
    return stored().results


def has_results():
    return bool(results().token)


def layout_objects():
    return {one[OWN]: one for one in bpy.context.scene.objects if OWN in one}


def region_of(kind):
    """Return a region of the 3D view."""
    areas = bpy.context.window_manager.windows[0].screen.areas
    area = next(one for one in areas if one.type == "VIEW_3D")
    return next(one for one in area.regions if one.type == kind)


def middle():
    """Return a place in the view, beside the sidebar."""
    region = region_of("WINDOW")
    return hand("point")(region, region.width / 3, region.height / 2)


async def place_of(name, column=0.5):
    """Return where the sidebar's button of an operator or property is, looking from its top on."""
    region = region_of("UI")
    for y in range(region.height - PROBE_PX, 0, -PROBE_PX):
        place = hand("point")(region, column * region.width, y)
        await hand("move")(place)
        if name in (hand("under_mouse")() or ""):
            return place
    return await hand("button")(name)


async def press(operator):
    """Click on the button of an operator in the sidebar."""
    place = await place_of(operator)
    await hand("click")(place)
    return place


async def type_into(name, text):
    """Click into a field and type, as one does with a number from the ruler."""
    await hand("click")(await place_of(name))
    await hand("key")("ctrl+a")
    await hand("write")(text)
    await hand("key")("Return")
    await hand("pause")(0.3)


async def fold(panel):
    """Click on the head of a panel: it opens or closes."""
    await hand("click")(await hand("find")(panel, region_of("UI")))
    await hand("pause")(0.3)


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
    await hand("until")(lambda: browser() is None)


async def free():
    """Wait until nothing runs."""
    await hand("until")(lambda: kept().work is None, LONGEST_S)
    assert not kept().trouble, kept().trouble


def next_step():
    """Return the step that the panel's large button offers."""
    return addon("ui.next_step").next_step(bpy.context)


async def follow():
    """Press the one large button, and wait for what it starts; return what stood on it."""
    step = next_step()
    await press(step.operator)
    await hand("pause")(0.3)
    await free()
    return step.text
