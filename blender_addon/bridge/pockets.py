"""The pockets of air as rows in the scene: what the list shows, and what the maker ticked off."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import bpy
from mathutils import Matrix, Vector

from .leans import hour_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from ..core.layout import Layout

ROWS_STORED = 40
"""The largest; nobody brushes by a longer list, and everything stands in the job file."""

SAME_PLACE_MM = 3.0
"""How far a ceiling may move from run to run and still be the same pocket: half of the brush that
settings begin with. Another column pitch moves it by less."""

NUMBERS = ("volume_ml", "depth_mm", "area_cm2")
Ticks = list[tuple[Vector, bool]]


def row_group() -> type[bpy.types.PropertyGroup]:
    """Return a new property group class for one pocket.

    ``over_base_mm`` is its ceiling in the scan's frame, from the base up: there it stays when tube
    or riser change. ``at_mm`` is the same point in the job's frame.
    """
    more = ("level_z_mm", "rubber_ml", "freed_degrees")
    properties: dict[str, Any] = {name: bpy.props.FloatProperty() for name in NUMBERS + more}
    for name in ("over_base_mm", "at_mm"):
        properties[name] = bpy.props.FloatVectorProperty(size=3)
    properties["kind"] = bpy.props.StringProperty()
    properties["freed_hour"] = bpy.props.IntProperty()
    properties["brushed"] = bpy.props.BoolProperty(
        name="Brushed",
        description="Tick it off; the tick stays when the mold is laid out again",
    )
    base = (bpy.types.PropertyGroup,)
    return type("RISELINE_PG_row_pockets", base, {"__annotations__": properties})


def ticks(rows: Iterable[bpy.types.PropertyGroup]) -> Ticks:
    """Return where each pocket is, and whether it was ticked."""
    return [(Vector(row.over_base_mm), row.brushed) for row in rows]


def store(rows: Any, layout: Layout, before: Ticks) -> None:
    """Write the largest pockets into empty rows, and the ticks of those that were there before."""
    closings = {one.pocket: one for one in layout.rubber.closings}
    placement = Matrix(layout.case.placement.tolist())
    riser = Vector((0.0, 0.0, layout.scan.riser_mm))
    for number, pocket in enumerate(layout.bubbles.pockets[:ROWS_STORED]):
        row, ceiling = rows.add(), Vector(pocket.ceiling_at_mm)
        for name in NUMBERS:
            setattr(row, name, getattr(pocket, name))
        row.kind = pocket.kind
        row.level_z_mm = pocket.escape_at_mm[2]
        row.rubber_ml = closings[number].rubber_ml if number in closings else 0.0
        if pocket.freed_by is not None:
            row.freed_degrees = pocket.freed_by.degrees
            row.freed_hour = hour_of(layout, pocket.freed_by)
        row.over_base_mm, row.at_mm = ceiling - riser, placement @ ceiling
        row.brushed = _was_brushed(ceiling - riser, before)


def _was_brushed(ceiling: Vector, before: Ticks) -> bool:
    """Ask the nearest pocket of last time, if it is near enough to be the same."""
    if not before:
        return False
    place, brushed = min(before, key=lambda tick: (tick[0] - ceiling).length)
    return brushed and (place - ceiling).length <= SAME_PLACE_MM
