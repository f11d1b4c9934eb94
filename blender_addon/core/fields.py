"""How a setting is declared, once: default, range, label and reason beside each other.

Property groups, the settings file and the help text are all made from these fields.
"""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass
from typing import Any, ClassVar

from .errors import BadSettingError


@dataclass(frozen=True)
class Spec:
    """What a field's metadata says of it.

    ``unit`` is one of "mm", "ml", "g", "min", "deg", "%", "cm2", "kg/m3", "Pa*s", or "" for none.
    """

    label: str
    reason: str
    unit: str = ""
    low: float = -math.inf
    high: float = math.inf
    choices: tuple[str, ...] = ()


def number(default: float, low: float, high: float, unit: str, label: str, reason: str) -> Any:
    """Declare a setting that is a number from ``low`` to ``high``."""
    return dataclasses.field(
        default=default, metadata={"spec": Spec(label, reason, unit, low, high)}
    )


def choice(default: str, choices: tuple[str, ...], label: str, reason: str) -> Any:
    """Declare a setting that is one word of a list."""
    return dataclasses.field(
        default=default, metadata={"spec": Spec(label, reason, choices=choices)}
    )


def text(default: str, label: str, reason: str) -> Any:
    """Declare a setting that is free text."""
    return dataclasses.field(default=default, metadata={"spec": Spec(label, reason)})


def spec_of(field: dataclasses.Field[Any]) -> Spec:
    """Return what was declared of a field."""
    spec: Spec = field.metadata["spec"]
    return spec


class Checked:
    """A dataclass of settings that refuses values out of their range, with the reason."""

    __dataclass_fields__: ClassVar[dict[str, dataclasses.Field[Any]]]

    def __post_init__(self) -> None:
        for field in dataclasses.fields(self):
            _check(field, getattr(self, field.name))


def _check(field: dataclasses.Field[Any], value: object) -> None:
    spec = spec_of(field)
    kind = type(field.default)
    if kind is float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise BadSettingError(
                field.name, f"{value!r} is not a number; give one in {spec.unit or 'units'}."
            )
        if not spec.low <= value <= spec.high:
            bounds = f"{spec.low:g} to {spec.high:g} {spec.unit}".rstrip()
            message = f"{value:g} is out of range; {spec.label} goes from {bounds}."
            raise BadSettingError(field.name, message)
    elif not isinstance(value, kind):
        raise BadSettingError(field.name, f"{value!r} is not a text.")
    elif spec.choices and value not in spec.choices:
        raise BadSettingError(
            field.name, f"{value!r} is unknown; choose {', '.join(spec.choices)}."
        )
