"""The map of leans: each field where the bench looks for it, as dark as it traps air."""

from __future__ import annotations

import dataclasses
import re

import numpy as np
import pytest
from lxml import etree

from blender_addon.core.bubbles.lean_grid import direction_of, hour_of, lean_grid
from blender_addon.core.bubbles.result import Lean
from blender_addon.core.job import write_job
from blender_addon.core.pictures.lean_colors import lean_pixels
from blender_addon.core.pictures.lean_map import lean_picture
from tests.core.layouts import QUARTER, layout

SVG = "{http://www.w3.org/2000/svg}"
AROUND = np.arange(0.0, 360.0, 30.0).tolist()


def leans():
    """Return 24 leans; towards +x of the scan, 3 o'clock without a turn, they trap least."""
    return tuple(
        Lean(degrees, towards, 1.0 - 0.9 * np.cos(np.radians(towards)) * degrees / 24.0)
        for degrees in (24.0, 12.0)
        for towards in AROUND
    )


def bubbles(best=None):
    best = best or Lean(24.0, 0.0, 0.1)
    return dataclasses.replace(layout().bubbles, trapped_ml=1.0, leans=leans(), lean=best)


def test_hours_and_directions_are_each_others_way_back():
    assert [hour_of(direction_of(hour)) for hour in range(1, 13)] == list(range(1, 13))
    assert {hour_of(towards) for towards in AROUND} == set(range(1, 13))
    assert hour_of(direction_of(5) + 14.0) == 5


def test_the_grid_holds_every_lean_where_the_job_frame_has_it():
    grid = lean_grid(leans(), QUARTER)
    assert grid.degrees.tolist() == [12.0, 24.0]
    assert grid.towards_deg.tolist() == AROUND
    # by hand: a quarter turn brings +x of the scan to +y
    row, column = np.unravel_index(grid.trapped_ml.argmin(), grid.trapped_ml.shape)
    assert (grid.degrees[row], grid.towards_deg[column]) == (24.0, 90.0)
    assert not np.isnan(grid.trapped_ml).any()


def test_a_turn_that_is_no_twelfth_keeps_the_leans_apart():
    turn = np.radians(17.3)
    placement = np.eye(4)
    placement[:2, :2] = [[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]]
    grid = lean_grid(leans(), placement)
    assert grid.trapped_ml.shape == (2, 12)
    assert np.diff(grid.towards_deg) == pytest.approx(30.0)


def drawn(made, placement):
    return etree.fromstring(lean_picture(made, placement).encode())


def test_the_picture_writes_each_figure_in_its_field():
    picture = drawn(bubbles(), np.eye(4))
    figures = [
        (float(t.get("x")), float(t.get("y")), t.text)
        for t in picture.iter(SVG + "text")
        if t.get("text-anchor") == "middle" and re.fullmatch(r"[\d.]+", t.text)
    ]
    middle = next(picture.iter(SVG + "circle"))
    x, y = float(middle.get("cx")), float(middle.get("cy"))
    least = min(figures, key=lambda one: float(one[2]))
    # 24 degrees towards +x: the outer ring, to the right
    assert least[2] == "0.1"
    assert least[0] > x + 150.0
    assert least[1] == pytest.approx(y + 4.5, abs=0.1)
    assert (pytest.approx(x), pytest.approx(y + 4.5), "1.0") in figures


@pytest.mark.parametrize("best", [Lean(24.0, 0.0, 0.1), Lean(0.0, 0.0, 1.0)], ids=["lean", "none"])
def test_the_best_lean_is_framed(best):
    (frame,) = [one for one in drawn(bubbles(best), np.eye(4)).iter() if one.get("class") == "best"]
    assert frame.tag == SVG + ("path" if best.degrees else "circle")


def test_the_picture_turns_with_the_case():
    words = [t.text for t in drawn(bubbles(), QUARTER).iter(SVG + "text")]
    assert any("24° to 12 o'clock, 0.1 ml" in text for text in words)


def test_pixels_are_darker_where_more_air_stays():
    grid = lean_grid(leans(), np.eye(4))
    pixels = lean_pixels(grid, 1.0, 64)
    assert pixels.shape == (64, 64, 4)
    assert pixels[0, 0, 3] == 0.0  # outside the clock
    light = pixels[:, :, :3].mean(axis=2)
    assert light[32, 60] > light[32, 32] > light[32, 3]  # +x, upright, -x
    assert pixels[32, 60, 3] == 1.0


def test_the_map_is_among_the_files_only_when_leans_were_looked_at(tmp_path):
    made = layout()
    with_map = dataclasses.replace(made, bubbles=bubbles())
    for number, one in enumerate((made, with_map)):
        job = write_job(one, "a.stl", tmp_path / str(number))
        there = (tmp_path / str(number) / "pictures" / "lean_map.svg").exists()
        assert there == ("pictures/lean_map.svg" in job["files"]) == bool(number)
