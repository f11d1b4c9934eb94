"""Bubbles: where air stays, and what to brush with rubber before the pour."""

from __future__ import annotations

from dataclasses import replace
from itertools import zip_longest
from typing import TYPE_CHECKING

import numpy as np

from ..constants import FEWEST_COLUMNS
from ..geometry.solid import area_cm2
from ..notices import Notice
from ..units import CM2_PER_MM2
from .bodies import bodies_of
from .clinging import clinging_faces
from .flags import trapped_faces
from .lean import lean_map
from .narrow import narrow_faces
from .paint import Paint, painted
from .pockets import Air, listed, trapped_air
from .result import BubblesResult, Lean
from .surface import grown, without_islands
from .ways import ways_up

if TYPE_CHECKING:
    from ..scan.result import ScanResult
    from ..watch import Watch
    from .settings import BubblesSettings


def bubbles_stage(
    scan: ScanResult, paint: Paint, settings: BubblesSettings, watch: Watch
) -> BubblesResult:
    """Find the air that the pour would leave on a master.

    Parameters
    ----------
    scan : ScanResult
        The closed, upright master.
    paint : Paint
        What the maker added to the map or took off it.
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
    watch.at(0.4)
    found = listed(air)
    depth, gate = trapped_faces(mesh, air)
    depth[base] = 0.0
    face_pocket = np.full(len(gate), -1, dtype=np.int64)
    for number, own in enumerate(found.gates):
        face_pocket[(gate == own) & (depth > 0.0)] = number
    least_mm2 = settings.least_island_cm2 / CM2_PER_MM2
    clinging = clinging_faces(mesh, settings.clinging_deg, settings.noise_mm) & ~base
    clinging = without_islands(mesh, clinging, least_mm2)
    watch.at(0.5)
    narrow = without_islands(mesh, narrow_faces(mesh, settings.brush_mm) & ~base, least_mm2)
    watch.at(0.6)
    computed = grown(mesh, (depth > 0.0) | clinging | narrow, settings.margin_mm) & ~base
    prebrush = painted(computed, paint, scan.source_faces) & ~base
    bodies = bodies_of(mesh, air, found, watch)
    watch.at(0.7)
    lean = lean_map(
        mesh,
        base,
        face_pocket,
        Lean(0.0, 0.0, air.trapped_ml),
        replace(settings, pitch_mm=pitch),
        watch,
    )
    pockets = tuple(
        replace(pocket, freed_by=freed)
        for pocket, freed in zip_longest(found.pockets, lean.freed_by[: len(found.pockets)])
    )
    brush_cm2 = area_cm2(mesh, prebrush)
    return BubblesResult(
        pitch_mm=pitch,
        trapped_ml=air.trapped_ml,
        bound_ml=abs(air.trapped_ml - coarse.trapped_ml),
        pockets=pockets,
        trapped_depth_mm=depth,
        clinging=clinging,
        narrow=narrow,
        prebrush=prebrush,
        clinging_area_cm2=area_cm2(mesh, clinging),
        narrow_area_cm2=area_cm2(mesh, narrow),
        prebrush_area_cm2=brush_cm2,
        prebrush_g=brush_cm2 * settings.coat_mm * settings.coat_density_kg_m3 * 1e-4,
        lean=lean.best,
        leans=lean.leans,
        ways=ways_up(scan),
        face_pocket=face_pocket,
        computed=computed,
        bodies=bodies,
        warnings=_warnings(air, mostly=brush_cm2 > 0.5 * scan.area_cm2),
    )


def _warnings(air: Air, *, mostly: bool) -> tuple[Notice, ...]:
    found = []
    if air.spaces.undecided:
        grid = air.spaces.grid
        share = 100.0 * air.spaces.undecided / (grid.nx * grid.ny)
        text = f"{air.spaces.undecided} columns ({share:.2f} %) are undecided: look for holes."
        found.append(Notice("undecided_columns", text))
    if air.under_foot_ml > 1.0:
        text = (
            f"The board closes off {air.under_foot_ml:.0f} ml of air under the foot. "
            "Fill the hollow with clay or rubber before the pour."
        )
        found.append(Notice("hollow_foot", text))
    if mostly:
        text = "More than half of the surface is to be brushed: can it stand another way?"
        found.append(Notice("much_to_brush", text))
    return tuple(found)
