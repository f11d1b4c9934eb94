"""Property groups made from core's settings, and back.

Each setting has a property of its own name that stores the number in core's unit. Lengths and
angles have a second one, without the unit in its name, that people see: in the scene's unit, so
that `6in` may be typed. It only converts, so a change of the scene's unit scale changes no setting.
"""

from __future__ import annotations

import dataclasses
import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import bpy

from ..core.fields import spec_of
from ..core.settings import Settings
from ..core.sheet.settings import INCHES, MILLIMETERS
from ..core.units import CM2_PER_INCH2
from .as_scanned import as_scanned
from .lengths import in_inches, mm_per_unit, typed_bare
from .user_files import POTS, TUBES, path_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from ..core.fields import Spec

DIGITS = 7
"""Decimal digits that survive Blender's float32; more of them are noise."""

ANOTHER_FACE = {"ANIMATABLE", "SKIP_SAVE"}
"""Options of a property that only shows what another one stores."""

SHOWN_UNITS = {"kg/m3": "kg/m³", "Pa*s": "Pa·s", "cm2": "cm²"}

OWN_LISTS = {"case": ("stock_file", TUBES), "rubber": ("pots_file", POTS)}
"""The setting of a stage that names a list, and the user's own that is taken where it is empty."""

STAGES = {one.name: one.default_factory for one in dataclasses.fields(Settings)}


def shown_name(field: dataclasses.Field[Any], *, inches: bool = False) -> str:
    """Return the name of the property that people see for a setting, in a metric scene or not."""
    unit = spec_of(field).unit
    if unit == "cm2" and inches:
        return f"{field.name.removesuffix('_cm2')}_in2"
    return field.name.removesuffix(f"_{unit}") if unit in {"mm", "deg"} else field.name


def setting_fields(stage: str) -> tuple[dataclasses.Field[Any], ...]:
    """Return the settings of a stage, in the order in which they were declared."""
    return dataclasses.fields(STAGES[stage])


def read_settings(scene: bpy.types.Scene, whole: Any = None) -> Settings:
    """Return what is set in a scene, for the piece at work or for another one that is parked.

    Raises
    ------
    BadSettingError
        If a value is out of its range.
    """
    return Settings(**{stage: read_stage(scene, stage, whole) for stage in STAGES})


def read_stage(scene: bpy.types.Scene, stage: str, whole: Any = None) -> Any:
    """Return what is set for one stage; whatever may be wrong with another is no matter.

    Raises
    ------
    BadSettingError
        If a value is out of its range, or contradicts another one of the stage.
    """
    group, made = getattr(whole or scene.riseline, stage), STAGES[stage]
    fields = setting_fields(stage)
    found = made(**{one.name: _core_value(getattr(group, one.name)) for one in fields})
    if stage in OWN_LISTS:
        return _with_own(found, *OWN_LISTS[stage])
    if stage == "sheet":
        return replace(found, units=INCHES if in_inches(scene) else MILLIMETERS)
    return found


def _with_own(settings: Any, field: str, name: str) -> Any:
    """Return settings that take the user's own list where no other is named."""
    own_list = path_of(name)
    if getattr(settings, field) or not own_list.exists():
        return settings
    return replace(settings, **{field: str(own_list)})


def _core_value(value: Any) -> Any:
    return as_typed(value) if isinstance(value, float) else value


def as_typed(value: float) -> float:
    """Return a number of Blender's without the digits that its float32 made up."""
    return float(f"{value:.{DIGITS}g}")


def stage_group(stage: str) -> type[bpy.types.PropertyGroup]:
    """Return a new property group class for the settings of a stage."""
    properties: dict[str, Any] = {}
    for field in setting_fields(stage):
        properties[field.name] = _stored(field)
        if spec_of(field).unit == "mm":
            properties[shown_name(field)] = _shown_length(field)
        elif spec_of(field).unit == "deg":
            properties[shown_name(field)] = _shown_angle(field)
        elif spec_of(field).unit == "cm2":
            properties[shown_name(field, inches=True)] = _shown_square_inches(field)
    name = f"RISELINE_PG_{stage}"
    return type(name, (bpy.types.PropertyGroup,), {"__annotations__": properties})


def _stored(field: dataclasses.Field[Any]) -> Any:
    spec = spec_of(field)
    words = {"name": spec.label, "description": _tool_tip(spec), "default": field.default}
    if spec.choices:
        items = [(one, _choice_label(one), "") for one in spec.choices]
        return bpy.props.EnumProperty(items=items, **words)
    if isinstance(field.default, bool):
        return bpy.props.BoolProperty(**words)
    if isinstance(field.default, str):
        subtype = "FILE_PATH" if field.name.endswith("_file") else "NONE"
        return bpy.props.StringProperty(subtype=subtype, **words)
    if spec.unit == "%":
        words["subtype"] = "PERCENTAGE"
    elif spec.unit not in {"mm", "deg", ""}:
        words["name"] = f"{spec.label} ({SHOWN_UNITS.get(spec.unit, spec.unit)})"
    return bpy.props.FloatProperty(min=spec.low, max=spec.high, precision=1, **words)


def _shown_length(field: dataclasses.Field[Any]) -> Any:
    def get(group: bpy.types.PropertyGroup) -> float:
        scene, set_mm = group.id_data, getattr(group, field.name)
        return (set_mm or as_scanned.length_mm(scene, field.name)) / mm_per_unit(scene)

    def put(group: bpy.types.PropertyGroup, value: float) -> None:
        value_mm, spec = value * mm_per_unit(group.id_data), spec_of(field)
        bare = typed_bare(group.id_data, value_mm)
        meant = bare is not None and value_mm > spec.high and spec.low <= bare <= spec.high
        setattr(group, field.name, bare if meant else value_mm)

    return _shown(field, get, put, subtype="DISTANCE", unit="LENGTH", min=0.0, precision=5)


def _shown_square_inches(field: dataclasses.Field[Any]) -> Any:
    """Return a new property for an area: Blender's own kind would show square millimetres."""

    def get(group: bpy.types.PropertyGroup) -> float:
        return getattr(group, field.name) / CM2_PER_INCH2

    def put(group: bpy.types.PropertyGroup, value: float) -> None:
        setattr(group, field.name, value * CM2_PER_INCH2)

    spec = spec_of(field)
    limits = {"min": spec.low / CM2_PER_INCH2, "max": spec.high / CM2_PER_INCH2}
    return _shown(field, get, put, label=f"{spec.label} (in²)", precision=2, **limits)


def _shown_angle(field: dataclasses.Field[Any]) -> Any:
    def get(group: bpy.types.PropertyGroup) -> float:
        return math.radians(getattr(group, field.name))

    def put(group: bpy.types.PropertyGroup, value: float) -> None:
        setattr(group, field.name, math.degrees(value))

    spec = spec_of(field)
    limits = {"min": math.radians(spec.low), "max": math.radians(spec.high)}
    return _shown(field, get, put, subtype="ANGLE", unit="ROTATION", **limits)


def _shown(
    field: dataclasses.Field[Any],
    get: Callable[[bpy.types.PropertyGroup], float],
    put: Callable[[bpy.types.PropertyGroup, float], None],
    label: str = "",
    **kind: Any,
) -> Any:
    spec = spec_of(field)
    words = {"name": label or spec.label, "description": _tool_tip(spec)}
    return bpy.props.FloatProperty(get=get, set=put, options=ANOTHER_FACE, **words, **kind)


def _tool_tip(spec: Spec) -> str:
    return spec.reason[:1].upper() + spec.reason[1:]


def _choice_label(word: str) -> str:
    return word.title() if len(word) > 2 else word.upper()
