"""The leans that were looked at as rows in the scene, each with the side it goes to."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import bpy
import numpy as np

if TYPE_CHECKING:
    from ..core.bubbles.result import Lean
    from ..core.layout import Layout

ROWS_STORED = 40
"""The best of them; everything stands in the job file."""

SIDES = (
    "Right", "Back Right", "Back", "Back Left", "Left", "Front Left", "Front", "Front Right",
)  # fmt: skip
"""Eighths of a turn, counter-clockwise: the channel is at the back, and one looks from the front.
At the bench there are a tube and its channel, and no axis of the scan."""


def row_group() -> type[bpy.types.PropertyGroup]:
    """Return a new property group class for one lean."""
    numbers = ("degrees", "trapped_ml")
    properties: dict[str, Any] = {name: bpy.props.FloatProperty() for name in numbers}
    properties["side"] = bpy.props.StringProperty()
    base = (bpy.types.PropertyGroup,)
    return type("RISELINE_PG_row_leans", base, {"__annotations__": properties})


def store(rows: Any, layout: Layout) -> None:
    """Write the best leans, in core's order, into empty rows."""
    for lean in layout.bubbles.leans[:ROWS_STORED]:
        row = rows.add()
        row.degrees, row.trapped_ml = lean.degrees, lean.trapped_ml
        row.side = side_of(layout, lean)


def side_of(layout: Layout, lean: Lean) -> str:
    """Return the side of the case that the top leans to."""
    placement = layout.case.placement
    turn_deg = np.degrees(np.arctan2(placement[1, 0], placement[0, 0]))
    return SIDES[round((lean.towards_deg + turn_deg) / 45.0) % len(SIDES)]
