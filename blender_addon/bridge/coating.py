"""How thick a coat gets from what was mixed for it, answered at once from a stored table."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import bpy
import numpy as np

from ..core.errors import BadSettingError
from ..core.resin.coat import thickness_mm
from ..core.units import KG_M3_TO_G_ML
from .properties import as_typed, read_stage

if TYPE_CHECKING:
    from ..core.layout import Layout


def result_properties() -> dict[str, Any]:
    """Return new properties for what is stored with the results."""
    return {
        "coat_table": bpy.props.StringProperty(),
        "coat_mm": bpy.props.FloatProperty(),
        "coat_is_thicker": bpy.props.BoolProperty(),
    }


def properties() -> dict[str, Any]:
    """Return new properties for the question itself."""
    return {
        "coat_g": bpy.props.FloatProperty(
            name="Coat Weighs (g)",
            description="What you mix for a coat in the bare mold, A and B together",
            default=200.0,
            min=0.0,
            precision=1,
            update=lambda whole, _context: answer(whole),
        )
    }


def store(whole: bpy.types.PropertyGroup, layout: Layout) -> None:
    """Keep the table of a layout with its results, and answer for the mass that is set."""
    whole.results.coat_table = json.dumps(layout.resin.shell_table.tolist())
    answer(whole)


def answer(whole: bpy.types.PropertyGroup) -> None:
    """Write how thick the coat gets into the results; runs no stage.

    A coat that is thicker than the table tells is said to be thicker than its end.
    """
    found = whole.results
    found.coat_mm, found.coat_is_thicker = 0.0, False
    if not found.coat_table:
        return
    try:
        resin = read_stage(whole.id_data, "resin", whole)
    except BadSettingError:  # told beside the field that is wrong
        return
    table = np.array(json.loads(found.coat_table))
    ml = as_typed(whole.coat_g) / (resin.density_kg_m3 * KG_M3_TO_G_ML)
    thick_mm = thickness_mm(table, ml)
    found.coat_is_thicker = thick_mm is None
    found.coat_mm = float(table[-1, 0]) if thick_mm is None else thick_mm
