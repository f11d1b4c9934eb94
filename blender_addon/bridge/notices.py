"""The warnings of a layout as rows in the scene: whose they are, and where they point."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import bpy
from mathutils import Matrix, Vector

from ..core.job_tables import IN_SCAN_FRAME
from .both_units import put, text_properties

if TYPE_CHECKING:
    from ..core.layout import Layout

ROWS_STORED = 40
"""Nobody reads more of them; everything stands in the job file."""


def row_group() -> type[bpy.types.PropertyGroup]:
    """Return a new property group class for one warning; ``at_mm`` is in the job's frame."""
    properties: dict[str, Any] = {name: bpy.props.StringProperty() for name in ("stage", "code")}
    properties |= text_properties(("text",))
    properties["has_place"] = bpy.props.BoolProperty()
    properties["at_mm"] = bpy.props.FloatVectorProperty(size=3)
    base = (bpy.types.PropertyGroup,)
    return type("RISELINE_PG_row_warnings", base, {"__annotations__": properties})


def store(rows: Any, layout: Layout) -> None:
    """Write what each stage warns of into empty rows."""
    placement = Matrix(layout.case.placement.tolist())
    for stage, notice in layout.warnings_by_stage[:ROWS_STORED]:
        row = rows.add()
        row.stage, row.code = stage, notice.code
        put(row, "text", notice.text)
        if notice.at_mm is not None:
            at_mm, row.has_place = Vector(notice.at_mm), True
            row.at_mm = placement @ at_mm if stage in IN_SCAN_FRAME else at_mm
