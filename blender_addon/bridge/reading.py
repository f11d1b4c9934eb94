"""One reading at the bench, answered at once from stored tables: how far short it still stands."""

from __future__ import annotations

import json
import math
from typing import TYPE_CHECKING, Any

import bpy
import numpy as np

from ..core.errors import BadSettingError
from ..core.resin.copy import copy_of
from ..core.resin.reading import leaning_of, still_to_fill_ml
from ..core.rubber.weigh import batch_of
from ..core.units import KG_M3_TO_G_ML
from .both_units import shown_text
from .kept import kept
from .lengths import mm_per_unit
from .properties import as_typed, read_stage

if TYPE_CHECKING:
    from ..core.arrays import Floats
    from ..core.layout import Layout

INSIDE, BARE, WEDGES = "shell", "bare", "wedges"

NUMBERS = ("answer_ml", "answer_g", "answer_a_g", "answer_b_g", "answer_wedge_ml")
"""Stored with the results."""

HOUR_DEG = 30.0
BACK_DEG = 90.0
"""Where the back lies in the job's frame. On the upturned mold the clock has the back at 12, and
its hours run counter-clockwise as the piece is seen from above."""

NO_LAYOUT = "Lay out again: for a leaning mold the piece itself is needed"


def result_properties() -> dict[str, Any]:
    """Return new properties for what is stored with the results."""
    texts = ("fill_tables", "lean_tables", "answer_trouble")
    return {name: bpy.props.FloatProperty() for name in NUMBERS} | {
        name: bpy.props.StringProperty() for name in texts
    }


def properties() -> dict[str, Any]:
    """Return new properties for the reading itself."""
    items = [
        (INSIDE, "Inside the Shell", "The shell has been turned and is hard"),
        (BARE, "In the Bare Mold", "No resin is in the mold but what is read"),
    ]
    return {
        "stands_short_mm": bpy.props.FloatProperty(default=25.0, min=0.0, update=_answer),
        "stands_short": bpy.props.FloatProperty(
            name="It Stands Short",
            description="How far below the rim the resin stands, plumb, in the upturned mold",
            subtype="DISTANCE",
            unit="LENGTH",
            precision=5,
            min=0.0,
            get=lambda whole: whole.stands_short_mm / mm_per_unit(whole.id_data),
            set=_put_short,
        ),
        "stands_in": bpy.props.EnumProperty(
            name="Read", description="What the resin stands in", items=items, update=_answer
        ),
        "mold_lean": bpy.props.FloatProperty(
            name="Mold Leans",
            description="How far the upturned mold leans while it is filled; 0 stands level",
            subtype="ANGLE",
            min=0.0,
            max=math.radians(45.0),
            update=_lean,
        ),
        "mold_lean_hour": bpy.props.IntProperty(
            name="Leans to Hour",
            description="Where the rim is lowest, by the clock over it: the back is at 12",
            min=1,
            max=12,
            default=12,
            update=_lean,
        ),
        "show_fill_curve": bpy.props.BoolProperty(
            name="Fill Curve in the View",
            description="Draw what is still to fill by how far below the rim the resin stands",
        ),
    }


def _put_short(whole: bpy.types.PropertyGroup, value: float) -> None:
    whole.stands_short_mm = value * mm_per_unit(whole.id_data)


def _answer(whole: bpy.types.PropertyGroup, _context: bpy.types.Context) -> None:
    answer(whole)


def _lean(whole: bpy.types.PropertyGroup, _context: bpy.types.Context) -> None:
    lean(whole)


def store(whole: bpy.types.PropertyGroup, layout: Layout) -> None:
    """Keep the tables of a layout with its results, and answer the reading that is set."""
    found = whole.results
    tables = {INSIDE: layout.resin.cavity_table, BARE: layout.resin.fill_table}
    found.fill_tables = json.dumps({name: table.tolist() for name, table in tables.items()})
    lean(whole, layout)


def table_of(whole: bpy.types.PropertyGroup, place: str) -> Floats | None:
    """Return the stored table (n, 2) of the mold as it stands, or None without one."""
    found = whole.results
    stored = found.lean_tables if whole.mold_lean else found.fill_tables
    return np.array(json.loads(stored)[place]) if stored else None


def lean(whole: bpy.types.PropertyGroup, layout: Layout | None = None) -> None:
    """Work out the tables of the mold as it leans now, and answer the reading again."""
    found = whole.results
    layout = layout or kept.layout(found.token)
    found.lean_tables = ""
    if whole.mold_lean and layout is not None:
        towards = towards_deg(layout, whole.mold_lean_hour)
        tables = leaning_of(
            copy_of(layout.scan).mesh, layout.scan, layout.resin.cavity,
            math.degrees(whole.mold_lean), towards,
        )  # fmt: skip
        inside, bare = tables.cavity_table.tolist(), tables.fill_table.tolist()
        wedges = {INSIDE: tables.cavity_wedge_ml, BARE: tables.wedge_ml}
        found.lean_tables = json.dumps({INSIDE: inside, BARE: bare, WEDGES: wedges})
    answer(whole)


def towards_deg(layout: Layout, hour: int) -> float:
    """Return the direction of an hour in the frame of the scan, counter-clockwise from +x."""
    placement = layout.case.placement
    turn_deg = math.degrees(math.atan2(placement[1, 0], placement[0, 0]))
    return (BACK_DEG + HOUR_DEG * hour - turn_deg) % 360.0


def answer(whole: bpy.types.PropertyGroup) -> None:
    """Write what is still to mix into the results; runs no stage."""
    found = whole.results
    for name in NUMBERS:
        setattr(found, name, 0.0)
    found.answer_trouble = ""
    table = table_of(whole, whole.stands_in)
    if table is None:
        found.answer_trouble = NO_LAYOUT if found.token else ""
        return
    try:
        resin = read_stage(whole.id_data, "resin", whole)
    except BadSettingError as error:
        found.answer_trouble = shown_text(whole.id_data, str(error))
        return
    found.answer_ml = still_to_fill_ml(table, as_typed(whole.stands_short_mm))
    mass_g = found.answer_ml * resin.density_kg_m3 * KG_M3_TO_G_ML
    batch = batch_of(mass_g, resin, resin.scale_step_g)
    found.answer_g, found.answer_a_g, found.answer_b_g = batch.g, batch.a_g, batch.b_g
    if whole.mold_lean:
        found.answer_wedge_ml = json.loads(found.lean_tables)[WEDGES][whole.stands_in]
