"""What the plays in the window have in common. The screen tool runs a play; a play imports this.

A play begins with `take(globals())`: what the tool puts in its scope (click, button, until, shot,
...) is called here by name.
"""

import importlib
import sys
from pathlib import Path
from types import SimpleNamespace

import bpy

HERE = Path(__file__).resolve().parent
HANDS = {}
OWN = "riseline_role"
PROBE_PX = 18
"""Less than the height of a button."""
LONGEST_S = 300
NOTCHES = 6
"""Of the wheel, for less than what is seen at once."""
MOST_CLICKS = 3
"""On a button that a message of Blender may lie over: it goes with the first."""
COLUMNS = (0.25, 0.75, 0.1, 0.85)
"""Where else buttons are, of the sidebar's width."""
PLACES = {}
"""Where buttons were found last."""


def take(scope):
    """Keep the tool's functions."""
    HANDS.update(scope)


def seen(main):
    """Have a picture taken of where a play stopped that does not come to its end."""

    async def played():
        try:
            return await main()
        except BaseException:
            await hand("shot")("99_stopped_here")
            raise

    return played


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


def _view():
    areas = bpy.context.window_manager.windows[0].screen.areas
    return next(one for one in areas if one.type == "VIEW_3D")


def space():
    """Return what the 3D view shows."""
    return _view().spaces.active


def regions():
    """Return all regions of the 3D view."""
    return list(_view().regions)


def region_of(kind):
    """Return a region of the 3D view."""
    return next(one for one in regions() if one.type == kind)


def middle():
    """Return a place in the view, beside the sidebar."""
    region = region_of("WINDOW")
    return hand("point")(region, region.width / 3, region.height / 2)


def strip(x, from_top, width, height):
    """Return a part of the window to read words in: the fewer pixels, the sooner."""
    tall = bpy.context.window_manager.windows[0].height
    return SimpleNamespace(x=x, y=tall - from_top - height, width=width, height=height)


def scale():
    return bpy.context.preferences.view.ui_scale


def top_bar():
    """Return where menus, workspaces and the scene stand."""
    return strip(0, 0, bpy.context.window_manager.windows[0].width, round(26 * scale()))


def status_bar():
    """Return where Blender tells what goes on."""
    window, tall = bpy.context.window_manager.windows[0], round(26 * scale())
    return strip(0, window.height - tall, window.width, tall)


def round_pointer(place, width, height):
    """Return the surroundings of a place, where a menu or a dialog opens."""
    window = bpy.context.window_manager.windows[0]
    width, height = round(width * scale()), round(height * scale())
    left = min(max(place[0] - width // 2, 0), max(window.width - width, 0))
    top = min(max(place[1] - height // 2, 0), max(window.height - height, 0))
    return strip(left, top, min(width, window.width), min(height, window.height))


def _scrolled(region):
    return region.view2d.region_to_view(0, region.height)[1]


async def scroll(region, notches):
    """Turn the wheel over a region: down when positive; tell whether it moved."""
    before = _scrolled(region)
    place = hand("point")(region, 4 * scale(), region.height / 2)  # beside lists that turn
    for _ in range(abs(notches)):
        await hand("click")(place, button=4 if notches < 0 else 5)
    await hand("frame")(4)
    return _scrolled(region) != before


async def _pages(region):
    """Look where one is, then from the top on, page by page as with the wheel."""
    yield
    while await scroll(region, -NOTCHES):
        pass
    yield
    while await scroll(region, NOTCHES):
        yield


async def place_of(name, column=0.5):
    """Return where the sidebar's button of an operator or property is, scrolling to it.

    Where it was last time is looked at first; `column` is how far across it is looked for.
    """
    region = region_of("UI")
    if name in PLACES and await _is_at(name, PLACES[name]):
        return PLACES[name]
    async for _ in _pages(region):
        for across in (column, *COLUMNS):
            for y in range(region.height - PROBE_PX, 0, -round(PROBE_PX * scale())):
                place = hand("point")(region, across * region.width, y)
                if await _is_at(name, place):
                    PLACES[name] = place
                    return place
    message = f"no button of {name!r} in the sidebar"
    raise LookupError(message)


async def _is_at(name, place):
    await hand("move")(place)
    return name in (hand("under_mouse")() or "")


async def read(words, region=None):
    """Return where words stand in a region, the sidebar unless another is named."""
    region = region or region_of("UI")
    pages = _pages(region) if region == region_of("UI") else _here()
    async for _ in pages:
        try:
            return await hand("find")(words, region)
        except LookupError as error:
            last = error
    raise last


async def _here():
    yield


async def press(operator):
    """Click on the button of an operator in the sidebar, once it stands still.

    A line that comes or goes above it, as when a scan was measured, moves it away.
    """
    place = await place_of(operator)
    await hand("pause")(0.2)
    while not await _is_at(operator, place):
        place = await place_of(operator)
        await hand("pause")(0.2)
    await hand("click")(place)
    return place


async def draw_box(start, end):
    """Draw a box with the mouse from one corner to the other."""
    tool = hand("click").__self__  # its own press: a play that imports ours covers it
    await tool.press(*start)
    await tool.move((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    await tool.move(*end)
    await tool.release()
    await hand("pause")(0.5)


async def type_into(name, text):
    """Click into a field and type, as one does with a number from the ruler."""
    await hand("click")(await place_of(name))
    await fill_in(text)
    await hand("pause")(0.3)


async def fill_in(text):
    """Write into the field that was clicked on."""
    await hand("key")("ctrl+a")
    await hand("write")(text)
    await hand("key")("Return")


async def fold(panel):
    """Click on the head of a panel: it opens or closes."""
    await hand("click")(await read(panel))
    await hand("pause")(0.3)


async def answer(words):
    """Click on an answer of the dialog that Blender opened in the middle of the window."""
    window = bpy.context.window_manager.windows[0]
    dialog = round_pointer((window.width // 2, window.height // 2), 700, 260)
    await hand("click")(await hand("find")(words, dialog))
    await hand("pause")(0.3)


def browser():
    """Return the area of the file selector, or None when it is closed."""
    areas = bpy.context.window_manager.windows[0].screen.areas
    return next((one for one in areas if one.type == "FILE_BROWSER"), None)


def _folder():
    """Return the folder that the file selector shows."""
    return Path(browser().spaces.active.params.directory.decode())


async def choose_file(path):
    """Fill in the file selector that opened, and press its button."""
    area = await hand("until")(browser)
    await hand("pause")(0.5)
    top, bottom = (
        next(one for one in area.regions if one.type == kind) for kind in ("UI", "EXECUTE")
    )
    await _paste(hand("point")(top, 0.3 * top.width, 0.5 * top.height), path.parent)
    await hand("until")(lambda: browser() is None or _folder() == path.parent)
    if browser() is None:  # the file of this name was filled in, and Return took it
        return
    await hand("shot")(f"selector_{path.suffix.strip('.') or 'folder'}")
    await _paste(hand("point")(bottom, 0.25 * bottom.width, 0.5 * bottom.height), path.name)
    await hand("pause")(0.5)
    for _ in range(MOST_CLICKS):  # one is caught where an error was told beside the pointer
        if browser():  # Return chose the name only
            await hand("click")(
                hand("point")(bottom, bottom.width - 70 * scale(), bottom.height / 2)
            )
            await hand("pause")(1.0)
    await hand("until")(lambda: browser() is None)


async def _paste(place, text):
    """Put a text into a field from the clipboard."""
    bpy.context.window_manager.clipboard = str(text)
    await hand("click")(place)
    await hand("key")("ctrl+a", "ctrl+v", "Return")


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
