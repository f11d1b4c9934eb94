"""Core's words about settings, as people find them in the panels: labels in the place of keys."""

from __future__ import annotations

import dataclasses
import re
from typing import TYPE_CHECKING

from ..core.fields import spec_of
from ..core.sentences import in_unit
from .lengths import in_inches
from .properties import STAGES

if TYPE_CHECKING:
    import bpy

_LABELS = {
    f"{stage}.{field.name}": (stage.title(), spec_of(field).label)
    for stage, settings in STAGES.items()
    for field in dataclasses.fields(settings)
}
_KEY = re.compile(r"\b[a-z]+\.[a-z_0-9]+\b")
_TOLD = re.compile(r"Setting ([a-z]+\.[a-z_0-9]+): (.+)", re.DOTALL)


def worded(text: str, *, inches: bool = False) -> str:
    """Return a text in which settings bear their labels, and say in which panel they stand.

    Examples
    --------
    >>> worded("Setting parts.groove_mm: too deep. Take a thicker parts.board_mm.")
    'Board Groove (Parts): too deep. Take a thicker Board (Parts).'
    >>> worded("Written to parts.stl")
    'Written to parts.stl'
    """
    said = in_unit(text, inches=inches)
    return _KEY.sub(_label, re.sub(r"^Setting (?=[a-z]+\.)", "", said))


def said_in(scene: bpy.types.Scene, text: str) -> str:
    """Return a sentence of core as panels and reports say it: labels, and the scene's unit."""
    return worded(text, inches=in_inches(scene))


def _label(found: re.Match[str]) -> str:
    stage, label = _LABELS.get(found[0], ("", found[0]))
    return label if stage in {"", label} else f"{label} ({stage})"


def refused_at(trouble: str, *, inches: bool = False) -> tuple[str, str]:
    """Return which setting a refusal is about, as ``stage.name``, and the reason; or two blanks.

    Examples
    --------
    >>> refused_at("Setting parts.groove_mm: too deep. Take a thicker parts.board_mm.")
    ('parts.groove_mm', 'Too deep. Take a thicker Board (Parts).')
    >>> refused_at("The scan has no faces.")
    ('', '')
    """
    told = _TOLD.match(in_unit(trouble, inches=inches))
    if told is None or told[1] not in _LABELS:
        return "", ""
    why = worded(told[2])
    return told[1], why[:1].upper() + why[1:]
