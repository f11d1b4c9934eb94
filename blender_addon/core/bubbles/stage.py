"""Bubbles: where air stays, and what to brush with rubber before the pour."""

from __future__ import annotations

from dataclasses import replace
from itertools import zip_longest
from typing import TYPE_CHECKING

from ..constants.bubbles import (
    FEWEST_COLUMNS,
    LEAST_POCKET_ML,
)
from ..geometry.solid import area_cm2
from ..notices import Notice
from ..sentences import a_length
from ..units import volume_text
from .bodies import bodies_of
from .brush import coat_g
from .classes import classes_of
from .doubt import doubt_of
from .lean import lean_map
from .narrow_ways import narrow_ways
from .pockets import Air, listed, trapped_air
from .result import BubblesResult, Lean
from .ways import ways_up

if TYPE_CHECKING:
    from ..scan.result import ScanResult
    from ..watch import Watch
    from .narrow_ways import NarrowWays
    from .result import Doubt
    from .settings import BubblesSettings


def bubbles_stage(scan: ScanResult, settings: BubblesSettings, watch: Watch) -> BubblesResult:
    """Find the air that the pour would leave on a master; the maker's paint comes after it.

    Parameters
    ----------
    scan : ScanResult
        The closed, upright master.
    settings : BubblesSettings
        Pitch, angles, brush.
    watch : Watch
        Progress and cancel.

    Returns
    -------
    BubblesResult
        In the frame of the scan result.
    """
    mesh, base = scan.mesh, scan.base_faces
    pitch = settings.pitch_mm or max(scan.size_mm) / FEWEST_COLUMNS
    watch.at(0.1)
    air = trapped_air(mesh, base, pitch)
    watch.at(0.3)
    coarse = trapped_air(mesh, base, 2.0 * pitch)
    ways = narrow_ways(mesh, base, (air, coarse))
    doubt = replace(doubt_of(mesh, base, air), narrow_ml=ways.apart_ml)
    found = listed(air)
    classes = classes_of(mesh, base, air, found, settings, watch, ways.behind)
    bodies = bodies_of(mesh, air, found, watch)
    watch.at(0.7)
    upright = Lean(0.0, 0.0, air.trapped_ml)
    finely = replace(settings, pitch_mm=pitch)
    lean = lean_map(mesh, base, classes.pocket, upright, finely, watch)
    pockets = tuple(
        replace(pocket, freed_by=freed)
        for pocket, freed in zip_longest(found.pockets, lean.freed_by[: len(found.pockets)])
    )
    brush_cm2 = area_cm2(mesh, classes.to_brush)
    return BubblesResult(
        pitch_mm=pitch,
        trapped_ml=air.trapped_ml,
        bound_ml=ways.still_open_ml + ways.apart_ml + doubt.most_ml,
        doubt=doubt,
        pockets=pockets,
        trapped_depth_mm=classes.trapped_depth_mm,
        clinging=classes.clinging,
        narrow=classes.narrow,
        prebrush=classes.to_brush,
        clinging_area_cm2=area_cm2(mesh, classes.clinging),
        narrow_area_cm2=area_cm2(mesh, classes.narrow),
        prebrush_area_cm2=brush_cm2,
        prebrush_g=coat_g(brush_cm2, settings),
        lean=lean.best,
        leans=lean.leans,
        ways=ways_up(scan),
        face_pocket=classes.pocket,
        computed=classes.to_brush,
        bodies=bodies,
        warnings=_warnings(air, doubt, ways),
    )


def _warnings(air: Air, doubt: Doubt, ways: NarrowWays) -> tuple[Notice, ...]:
    found = []
    if doubt.most_ml >= LEAST_POCKET_ML:
        columns = "one column" if doubt.columns == 1 else f"{doubt.columns} columns"
        text = (
            f"The surface has gaps or crosses itself in {columns}: that may change the trapped air "
            f"by {volume_text(doubt.most_ml)} at the most. Look at the scan there."
        )
        found.append(Notice("undecided_columns", text, doubt.at_mm))
    if ways.at_mm is not None:
        text = (
            f"{volume_text(ways.largest_ml)} of air in one place hang on a way out narrower than "
            f"{a_length(ways.width_mm)}, or on surfaces that touch: it may leave there or stay. "
            "Brush the place behind it."
        )
        found.append(Notice("narrow_way", text, ways.at_mm))
    if air.under_foot_ml > 1.0:
        text = (
            f"The board closes off {air.under_foot_ml:.0f} ml of air under the foot. "
            "Fill the hollow with clay or rubber before the pour."
        )
        found.append(Notice("hollow_foot", text))
    return tuple(found)
