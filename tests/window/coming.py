"""A newer version comes over this one, it is switched off and on, and uninstalled: nothing is left.

blender-window run tests/window/coming.py --zip ZIP --out DIR -- NEWER_ZIP

By real clicks in Blender's preferences. They are opened in the place of the 3D view, where they
take clicks as in a window of their own.
"""

import os
import sys
import tomllib
from pathlib import Path

import bpy
import steps
from steps import (
    addon,
    choose_file,
    free,
    hand,
    kept,
    layout_objects,
    press,
    results,
    stored,
    strip,
)

steps.take(globals())
NEWER = Path(sys.argv[1])
SAMPLE, TALL_MM = "hedgehog.ply", 60.0
WITH_UNDO = True
LONG_PITCH_MM, SHORT_PITCH_MM = 0.1, 3.0
"""Of a run that goes on while a file is chosen, and of one that takes little."""
OWN_LIST = "tubes.csv"
TABLE = "name,outer_diameter_mm,inner_diameter_mm\nGarden tube,210,200\n"
BEFORE_NAME_PX = 15
"""To the middle of the check box."""


def area():
    """Return the large area, whatever it shows."""
    return max(
        bpy.context.window_manager.windows[0].screen.areas, key=lambda one: one.width * one.height
    )


def region(kind="WINDOW"):
    return next(one for one in area().regions if one.type == kind)


async def preferences(section):
    """Show a section of the preferences, and only what is ours in it."""
    bpy.context.preferences.active_section = section
    manager = bpy.context.window_manager
    if section == "ADDONS":
        manager.addon_search = "Riseline"
    else:
        manager.extension_search = "Riseline"
    area().ui_type = "PREFERENCES"
    await hand("redraw")()
    await hand("pause")(0.5)


def found():
    """Return where what was searched for is listed, below the field that was searched by."""
    place = hand("point")(region(), 0, region().height - 34)
    return strip(*place, region().width, 320)


async def tick():
    """Click on the check box before our name."""
    x, y, _, height = await hand("box")("Riseline", found())
    await hand("click")(x - BEFORE_NAME_PX, y + height // 2)


async def view():
    """Go back to the 3D view."""
    area().ui_type = "VIEW_3D"
    await hand("open_sidebar")("Riseline")
    await hand("redraw")()


def module():
    return hand("extension")


def folder():
    """Return where the extension is installed, and where its user's lists are kept."""
    repo = next(
        one for one in bpy.context.preferences.extensions.repos if one.module == "user_default"
    )
    return Path(repo.directory) / "riseline", Path(bpy.utils.extension_path_user(module()))


def version():
    """Return the version that is installed, nothing while there is none."""
    manifest = folder()[0] / "blender_manifest.toml"
    if not manifest.is_file():
        return ""
    return tomllib.loads(manifest.read_text(encoding="utf-8"))["version"]


def children():
    """Return the ids of the processes that this Blender started and that still run ours."""
    own = str(os.getpid())
    found = []
    for status in Path("/proc").glob("[0-9]*/stat"):
        try:
            parent = status.read_text().rpartition(")")[2].split()[1]
            words = status.with_name("cmdline").read_bytes()
        except OSError:  # it ended meanwhile
            continue
        if parent == own and b"riseline" in words:
            found.append(int(status.parent.name))
    return found


def runs(process):
    return Path(f"/proc/{process}").exists()


def draws(overlay):
    """Tell whether it holds a draw handler; Blender itself lists none."""
    return vars(overlay)["_handle"] is not None


def drawn_by_us(menu):
    """Return what we add to one of Blender's menus or headers."""
    return [
        one
        for one in getattr(getattr(menu, "draw", None), "_draw_funcs", ())
        if one.__module__.startswith(module())
    ]


def traces():
    """Return everything of the add-on that Blender holds, by kind."""
    handlers = {
        name: getattr(bpy.app.handlers, name)
        for name in dir(bpy.app.handlers)
        if isinstance(getattr(bpy.app.handlers, name), list)
    }
    types = [getattr(bpy.types, name) for name in dir(bpy.types)]
    configs = bpy.context.window_manager.keyconfigs
    found = {
        "classes": [one for one in dir(bpy.types) if one.lower().startswith("riseline")],
        "properties": [one for one in dir(bpy.types.Scene) if one.startswith("riseline")],
        "handlers": [
            name
            for name, held in handlers.items()
            for one in held
            if getattr(one, "__module__", "").startswith(module())
        ],
        "menus": [one.__name__ for one in types if drawn_by_us(one)],
        "operators": dir(bpy.ops.riseline),
        "keys": [
            key.idname
            for config in (configs.addon, configs.user)
            for keymap in config.keymaps
            for key in keymap.keymap_items
            if key.idname.startswith("riseline.")
        ],
        "modules": [one for one in sys.modules if one.startswith(module())],
        "processes": children(),
        "preferences": [
            one.module for one in bpy.context.preferences.addons if one.module == module()
        ],
    }
    return {kind: held for kind, held in found.items() if held}


def threads_and_draws():
    """Return what only the add-on itself can name: its timer and its draw handler."""
    return addon("ui.live").live.timer, addon("ui.overlay").overlay


def assert_gone(timer, overlay, but=()):
    """Nothing runs, draws or stands in Blender any more."""
    left = {kind: held for kind, held in traces().items() if kind not in but}
    assert not left, left
    assert not bpy.app.timers.is_registered(timer)
    assert not draws(overlay), "it still draws"


async def begin():
    """Start a run, and wait for its middle."""
    addon("bridge.kept").kept.start_afresh()
    await press("riseline.lay_out")
    work = await hand("until")(lambda: kept().work)
    await hand("until")(lambda: work.total > 0.0, 60)
    return work


async def renew(newer):
    """Install a newer zip from the disk, in the middle of a run: the layout stays in the file."""
    held, was = threads_and_draws(), version()
    addon("bridge.user_files").write(OWN_LIST, TABLE)
    before = results().token, sorted(layout_objects()), stored().scan.height_mm
    stored().updates_live, stored().bubbles.pitch_mm = False, LONG_PITCH_MM
    work = await begin()
    process = kept().hand.process_id
    await preferences("EXTENSIONS")
    await hand("click")(hand("point")(region(), region().width - 24, region().height - 22))
    await hand("pause")(0.4)
    await hand("shot")("40_extensions")
    place = hand("point")(region(), region().width - 100, region().height - 80)
    menu = steps.round_pointer(place, 400, 240)
    await hand("click")(await hand("find")("Install from Disk...", menu))
    await choose_file(newer)
    await hand("until")(lambda: version() not in {"", was}, 60)
    await hand("pause")(1.0)
    assert not runs(process), "the process of the old one goes on"
    assert work.stopping, "the run of the old one goes on"
    assert not bpy.app.timers.is_registered(held[0]), "the timer of the old one goes on"
    assert not draws(held[1]), "the old one still draws"
    assert addon("ui.live").live.timer is not held[0], "the old one was not reloaded"
    assert (folder()[1] / OWN_LIST).read_text(encoding="utf-8") == TABLE, "the user's list is lost"
    await view()
    await hand("shot")("40_back")
    assert (results().token, sorted(layout_objects()), stored().scan.height_mm) == before
    assert kept().work is None
    stored().bubbles.pitch_mm = SHORT_PITCH_MM - 0.5
    await hand("redraw")()
    await press("riseline.lay_out")
    await hand("until")(lambda: results().token not in {"", before[0]}, 60)
    await free()
    await hand("shot")("41_renewed")


async def disable_and_enable():
    """Clear its check box and set it again: the file keeps what was laid out."""
    held, before = threads_and_draws(), (results().token, sorted(layout_objects()))
    assert kept().hand.process_id in children(), "the look for processes is blind"
    assert {"classes", "properties", "handlers", "menus", "operators", "modules"} <= set(traces())
    await preferences("ADDONS")
    await hand("shot")("42_addons")
    await tick()
    await hand("until")(lambda: not hasattr(bpy.types.Scene, "riseline"))
    await hand("pause")(0.5)
    assert_gone(*held, but={"modules"})  # Blender keeps those of any add-on
    await tick()
    await hand("until")(lambda: hasattr(bpy.types.Scene, "riseline"))
    await view()
    assert (results().token, sorted(layout_objects())) == before


async def take_away():
    """Uninstall it by its menu, in the middle of a run: only what was laid out is left."""
    await press("riseline.lay_out")
    await hand("until")(lambda: kept().work)
    installed, lists = folder()
    held = threads_and_draws()
    objects = len(layout_objects())
    await preferences("EXTENSIONS")
    await hand("shot")("43_installed")
    row = await hand("find")("Riseline", found())
    await hand("click")(hand("point")(region(), region().width - 24, 0)[0], row[1])
    await hand("pause")(0.4)
    await hand("shot")("44_menu")
    await hand("click")(await hand("find")("Uninstall", steps.round_pointer(row, 2000, 500)))
    await hand("until")(lambda: not hasattr(bpy.types.Scene, "riseline"))
    await hand("pause")(1.0)
    await hand("shot")("45_gone")
    assert_gone(*held)
    assert not installed.exists(), f"{installed} is left"
    assert not lists.exists(), f"{lists} is left"
    assert len(layout_objects()) == objects, "what was made for the user went away"


@steps.seen
async def main():
    """Each in turn, on a small piece that is laid out."""
    bpy.context.preferences.view.filebrowser_display_type = "SCREEN"
    await hand("open_sidebar")("Riseline")
    with hand("view3d")():
        bpy.ops.riseline.open_sample("EXEC_DEFAULT", WITH_UNDO, sample=SAMPLE)
    stored().scan.height_mm = TALL_MM
    stored().bubbles.pitch_mm = SHORT_PITCH_MM
    await hand("redraw")()
    await press("riseline.lay_out")
    await free()
    await renew(NEWER)
    await disable_and_enable()
    await take_away()
