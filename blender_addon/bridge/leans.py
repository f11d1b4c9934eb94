"""The leans that were looked at as rows in the scene, each with the hour it goes to."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import bpy
import numpy as np

if TYPE_CHECKING:
    from ..core.bubbles.result import Lean
    from ..core.layout import Layout

ROWS_STORED = 40
"""The best of them; everything stands in the job file."""

HOUR_DEG = 30.0
"""A turn about the case is told by the clock as seen from above, with the channel at 12: at the
bench there are a tube and its channel, and no axis of the scan. Core looks at no more directions
than a clock has hours."""

HALF_UP = 0.5 + 1e-6
"""Rounds all halves one way, digits that float about included, or two leans would share an hour."""


def row_group() -> type[bpy.types.PropertyGroup]:
    """Return a new property group class for one lean."""
    numbers = ("degrees", "trapped_ml")
    properties: dict[str, Any] = {name: bpy.props.FloatProperty() for name in numbers}
    properties["hour"] = bpy.props.IntProperty()
    base = (bpy.types.PropertyGroup,)
    return type("RISELINE_PG_row_leans", base, {"__annotations__": properties})


def store(rows: Any, layout: Layout) -> None:
    """Write the best leans, in core's order, into empty rows."""
    for lean in layout.bubbles.leans[:ROWS_STORED]:
        row = rows.add()
        row.degrees, row.trapped_ml = lean.degrees, lean.trapped_ml
        row.hour = hour_of(layout, lean)


def hour_of(layout: Layout, lean: Lean) -> int:
    """Return the hour, 1 to 12, that the top leans to."""
    placement = layout.case.placement
    turn_deg = np.degrees(np.arctan2(placement[1, 0], placement[0, 0]))
    from_channel_deg = lean.towards_deg + turn_deg - 90.0  # counter-clockwise, the clock is not
    hour = int(np.floor(-from_channel_deg / HOUR_DEG + HALF_UP))
    return (hour - 1) % 12 + 1
