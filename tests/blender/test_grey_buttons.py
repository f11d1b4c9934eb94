"""A button that cannot be pressed says what to do: in every state, for each one that is drawn."""

from __future__ import annotations

import threading

import bpy
import pytest

from blender_addon.bridge.background import Work
from blender_addon.bridge.kept import kept
from tests.blender.conftest import own
from tests.blender.drawn import drawn

DOES = ("Select", "Lay out", "Go back", "Wait", "Enable", "Add")
"""How a reason begins: with what the maker is to do."""


def reasons():
    """Return the reason of each drawn button that is grey, as Blender shows it."""
    found = {}
    for panel, pad in drawn().items():
        for button in pad.buttons:
            module, name = button.name.split(".")
            operator = getattr(getattr(bpy.ops, module), name)
            if not operator.poll():
                with pytest.raises(RuntimeError) as refused:
                    operator()
                found[panel, button.name] = str(refused.value).partition(".poll() ")[2].strip()
    return found


def nothing(_scan):
    """Delete the scan."""
    bpy.data.objects.remove(bpy.data.objects["mushroom"])


def laid_out(_scan):
    """Lay it out."""
    bpy.ops.riseline.lay_out()


def opened_again(scan):
    """Lay it out, and forget what is not in the file."""
    laid_out(scan)
    kept.forget()


HELD = threading.Event()


def running(scan):
    """Lay it out, and let work go on."""
    laid_out(scan)
    HELD.clear()
    kept.work = Work(lambda _watch: HELD.wait(30.0), {"Case": 1.0})


def out_of_date(scan):
    """Change a setting after the run."""
    laid_out(scan)
    bpy.context.scene.riseline.updates_live = False
    bpy.context.scene.riseline.scan.riser_mm = 9.0


def scan_in_edit_mode(scan):
    """Select faces of the scan."""
    laid_out(scan)
    bpy.context.view_layer.objects.active = scan
    bpy.ops.object.mode_set(mode="EDIT")


def map_in_edit_mode(scan):
    """Select faces of the brush map."""
    laid_out(scan)
    bpy.context.view_layer.objects.active = own(bpy.context.scene)["brush map"]
    bpy.ops.object.mode_set(mode="EDIT")


def hidden(scan):
    """Disable the scan in the viewports, once it was laid out."""
    laid_out(scan)
    scan.hide_viewport = True


STATES = (
    (nothing, {"riseline.import_scan"}, set()),
    (lambda _scan: None, {"riseline.work_on"}, set()),
    (laid_out, {"riseline.export_parts", "riseline.show_place"}, {"riseline.add_to_map"}),
    (opened_again, {"riseline.lay_out"}, {"riseline.export_parts"}),
    (out_of_date, {"riseline.lay_out"}, set()),
    (running, set(), {"riseline.lay_out", "riseline.export_parts", "riseline.take_case"}),
    (scan_in_edit_mode, {"riseline.stand_on_faces"}, {"riseline.lay_out", "riseline.add_to_map"}),
    (map_in_edit_mode, {"riseline.add_to_map"}, {"riseline.lay_out"}),
    (hidden, set(), {"riseline.lay_out"}),
)
"""Each with buttons that must be lit there, and some that must be grey."""


@pytest.mark.parametrize(
    ("state", "lit", "grey"), STATES, ids=lambda one: getattr(one, "__name__", "")
)
def test_every_grey_button_says_what_to_do(scan, state, lit, grey):
    state(scan)
    try:
        found = reasons()
    finally:
        HELD.set()
        kept.end_work()
    told = {name for _, name in found}
    assert not told & lit
    assert grey <= told
    bad = {where: why for where, why in found.items() if not why.startswith(DOES)}
    assert bad == {}


def test_another_scene_without_a_layout_asks_for_a_scan(scan):
    laid_out(scan)
    bpy.context.window.scene = bpy.data.scenes.new("Other")
    found = reasons()
    assert all(why.startswith(DOES) for why in found.values())
    assert ("PartsPanel", "riseline.export_parts") in found


def test_a_button_that_its_panel_greys_says_on_itself_what_to_do(scan):
    bpy.ops.riseline.work_on(name=scan.name)
    bpy.context.scene.riseline.scan.height_mm = 0.4  # too small to be molded
    grey = [one.text for one in drawn()["MoldPanel"].buttons if not one.enabled]
    assert grey == ["Type the Height First"]
    bpy.context.scene.riseline.scan.height_mm = 60.0
    laid_out(scan)
    assert all(one.enabled for pad in drawn().values() for one in pad.buttons)
