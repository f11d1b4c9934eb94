"""The leans that were looked at as rows in the scene, each with the hour it goes to."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import bpy

from ..core.bubbles import lean_grid

if TYPE_CHECKING:
    from ..core.bubbles.result import Lean
    from ..core.layout import Layout

ROWS_STORED = 80
"""All that are looked at up to the greatest limit: their map is drawn from them."""


def row_group() -> type[bpy.types.PropertyGroup]:
    """Return a new property group class for one lean."""
    numbers = ("degrees", "towards_deg", "trapped_ml")
    properties: dict[str, Any] = {name: bpy.props.FloatProperty() for name in numbers}
    properties["hour"] = bpy.props.IntProperty()
    base = (bpy.types.PropertyGroup,)
    return type("RISELINE_PG_row_leans", base, {"__annotations__": properties})


def store(rows: Any, layout: Layout) -> None:
    """Write the best leans, in core's order, into empty rows."""
    for lean in layout.bubbles.leans[:ROWS_STORED]:
        row = rows.add()
        row.degrees, row.trapped_ml = lean.degrees, lean.trapped_ml
        row.towards_deg = lean_grid.turned_deg(lean.towards_deg, layout.case.placement)
        row.hour = lean_grid.hour_of(row.towards_deg)


def hour_of(layout: Layout, lean: Lean) -> int:
    """Return the hour, 1 to 12, that the top leans to."""
    return lean_grid.hour_of(lean_grid.turned_deg(lean.towards_deg, layout.case.placement))
