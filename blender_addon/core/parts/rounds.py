"""Round sections and turned solids with flats that touch the true circle from outside."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..constants.common import ROUND_SEGMENTS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..arrays import Floats

CORNER_SHARE = 1.0 / math.cos(math.pi / ROUND_SEGMENTS)
"""A corner's distance from the axis, by the flat's."""


def round_outline(
    radius_mm: float, at_mm: tuple[float, float] = (0.0, 0.0), segments: int = ROUND_SEGMENTS
) -> Floats:
    """Return the polygon (k, 2) round a circle, with corners on both axes.

    Examples
    --------
    >>> corners = round_outline(10.0)
    >>> middles = (corners + np.roll(corners, 1, axis=0)) / 2.0
    >>> float(np.hypot(*middles.T).min().round(9))
    10.0
    """
    angle = 2.0 * np.pi * np.arange(segments) / segments
    corners = np.column_stack([np.cos(angle), np.sin(angle)]) * radius_mm
    placed: Floats = corners / math.cos(math.pi / segments) + np.asarray(at_mm)
    return placed


def disc(radius_mm: float, at_mm: tuple[float, float] = (0.0, 0.0)) -> manifold3d.CrossSection:
    """Return the section of a round bar."""
    return manifold3d.CrossSection([round_outline(radius_mm, at_mm)])


def rectangle(low_mm: tuple[float, float], high_mm: tuple[float, float]) -> manifold3d.CrossSection:
    """Return a section with sides along the axes."""
    (left, front), (right, back) = low_mm, high_mm
    corners = [(left, front), (right, front), (right, back), (left, back)]
    return manifold3d.CrossSection([np.array(corners)])


def upright(section: manifold3d.CrossSection, low_mm: float, high_mm: float) -> manifold3d.Manifold:
    """Return the bar of a section between two heights; nothing where the section is empty.

    The library takes that for an error, and with it all that the bar is joined to.
    """
    if section.is_empty():
        return manifold3d.Manifold()
    return section.extrude(high_mm - low_mm).translate((0.0, 0.0, low_mm))


def turned(profile: Sequence[tuple[float, float]]) -> manifold3d.Manifold:
    """Return a profile of radius and height, counter-clockwise, turned about the z axis."""
    points = np.array(profile) * (CORNER_SHARE, 1.0)
    return manifold3d.CrossSection([points]).revolve(ROUND_SEGMENTS)
