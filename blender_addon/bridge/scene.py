"""What the add-on stores with a scene: settings and results."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import bpy

from . import beds, coating, reading, results, stretching, views
from .properties import STAGES, stage_group

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any

MEASURES = ("height", "width", "depth")
"""Of which one is enough to know the true size."""


def scene_groups(
    on_pocket: Callable[[bpy.types.Context], None],
    on_lean: Callable[[bpy.types.Context], None],
    on_parts: Callable[[bpy.types.Context], None],
) -> tuple[type[bpy.types.PropertyGroup], ...]:
    """Return the property group classes in the order of registering; the last is the whole.

    ``on_pocket`` and ``on_lean`` are called when a pocket or a lean is chosen in its list,
    ``on_parts`` when it was chosen where the parts are shown.
    """
    stages = {stage: stage_group(stage) for stage in STAGES}
    rows = results.row_groups()
    found = results.results_group(rows, on_pocket, on_lean)
    properties = {stage: bpy.props.PointerProperty(type=group) for stage, group in stages.items()}
    properties["results"] = bpy.props.PointerProperty(type=found)
    properties["piece"] = bpy.props.PointerProperty(type=bpy.types.Object)
    properties["form"] = bpy.props.IntProperty()
    properties["sculpt"] = bpy.props.StringProperty()
    properties["tour"] = bpy.props.IntProperty()
    properties["stood_by"] = bpy.props.FloatVectorProperty(size=6)
    properties["stood_at"] = bpy.props.FloatVectorProperty(size=3)
    properties["stood_away"] = bpy.props.FloatProperty()
    properties["measured"] = _measured()
    properties |= views.properties() | reading.properties() | coating.properties()
    properties |= stretching.properties()
    properties["parts_lie"] = beds.choice_of_place(on_parts)
    properties["shows_numbers"] = bpy.props.BoolProperty(
        name="Numbers in the View",
        description="Write the numbers that matter most in large letters into the 3D view",
        default=True,
    )
    properties["updates_live"] = bpy.props.BoolProperty(
        name="Follow the Settings",
        description="Lay out case, funnel, cut and parts again as soon as a setting is changed",
        default=True,
    )
    properties["rubber_level"] = bpy.props.FloatProperty(
        name="Rubber Level",
        description="Let the rubber rise in the case, and see the air that it shuts in",
        subtype="PERCENTAGE",
        min=0.0,
        max=100.0,
        precision=1,
        update=lambda whole, _context: views.apply(whole.id_data),
    )
    properties["lean"] = bpy.props.FloatProperty(
        name="Lean",
        description="How far to lean the case in the view",
        subtype="ANGLE",
        default=math.radians(12.0),
        min=0.0,
        max=math.radians(60.0),
    )
    properties["lean_hour"] = bpy.props.IntProperty(
        name="To O'Clock",
        description="Where the top leans to, by a clock seen from above with the channel at 12",
        default=12,
        min=1,
        max=12,
    )
    whole = type("RISELINE_PG_scene", (bpy.types.PropertyGroup,), {"__annotations__": properties})
    return (*stages.values(), *rows.values(), found, whole)


def _measured() -> Any:
    """Return the choice of what was measured on the piece: it keeps the other two at nothing."""

    def only_one(whole: bpy.types.PropertyGroup, _context: bpy.types.Context) -> None:
        for name in MEASURES:
            if name != whole.measured:
                whole.scan.property_unset(f"{name}_mm")

    items = [(name, name.title(), f"You measured the {name} of the piece") for name in MEASURES]
    return bpy.props.EnumProperty(
        name="You Measured",
        description="Which dimension of the upright piece you measured; one is enough",
        items=items,
        update=only_one,
    )
