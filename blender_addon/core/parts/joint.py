"""What the two faces of a seam have so that rubber does not find through: tongue or cord."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..constants.parts import (
    CORD_PRESSED_SHARE,
    LEAST_LAND_MM,
    LEAST_TONGUE_MM,
    TONGUE_HIGH_SHARE,
    TONGUE_MM,
    TONGUE_TOP_SHARE,
)
from ..errors import BadSettingError
from ..sentences import a_length
from .rounds import rectangle

if TYPE_CHECKING:
    from .settings import PartsSettings

NOTHING = manifold3d.CrossSection()


def tongue_room_mm(wall_mm: float, settings: PartsSettings) -> float:
    """Return how broad the tongue may be: it stands astride the wall's outside, in the flange.

    Examples
    --------
    >>> from .settings import PartsSettings
    >>> tongue_room_mm(4.0, PartsSettings()), round(tongue_room_mm(1.0, PartsSettings()), 3)
    (2.5, 0.0)
    """
    inward = 2.0 * (wall_mm - settings.fit_mm - LEAST_LAND_MM)
    return min(TONGUE_MM, max(inward, 0.0))


def has_tongue(wall_mm: float, settings: PartsSettings) -> bool:
    """Tell whether the seams have a tongue: asked for, and wall and flange thick enough."""
    room = tongue_room_mm(wall_mm, settings)
    deep = _tongue_high_mm(room, settings) + settings.fit_mm
    thick = deep <= settings.flange_thickness_mm - LEAST_LAND_MM
    return settings.seam == "tongue" and room >= LEAST_TONGUE_MM and thick


def _tongue_high_mm(broad_mm: float, settings: PartsSettings) -> float:
    return min(TONGUE_HIGH_SHARE * broad_mm, settings.flange_thickness_mm / 3.0)


def tongue(wall_mm: float, settings: PartsSettings) -> manifold3d.CrossSection:
    """Return the tongue in the seam's frame: rooted before the seam, it stands out behind it.

    It thins towards its top, so that it finds its groove.
    """
    if not has_tongue(wall_mm, settings):
        return NOTHING
    half = tongue_room_mm(wall_mm, settings) / 2.0
    return _trapezium(wall_mm, half, _tongue_high_mm(2.0 * half, settings), 0.5)


def groove(wall_mm: float, settings: PartsSettings) -> manifold3d.CrossSection:
    """Return what is cut from the piece behind the seam: room for the tongue or for a cord.

    Every side of it is the fit away from the tongue's.

    Raises
    ------
    BadSettingError
        If the cord finds no room in the wall.
    """
    if has_tongue(wall_mm, settings):
        root = _trapezium(
            wall_mm,
            tongue_room_mm(wall_mm, settings) / 2.0,
            _tongue_high_mm(tongue_room_mm(wall_mm, settings), settings),
            2.0 * settings.fit_mm + 1.0,
        )
        return root.offset(settings.fit_mm, manifold3d.JoinType.Miter)
    if settings.seam == "cord":
        needed = settings.cord_mm + 2.0 * LEAST_LAND_MM
        deep = (1.0 - CORD_PRESSED_SHARE) * settings.cord_mm
        if wall_mm < needed:
            message = (
                f"a cord of {a_length(settings.cord_mm)} needs a wall of {a_length(needed)},"
                f" and this one has {a_length(wall_mm)}. Take a thinner cord, a thicker"
                " case.printed_wall_mm or parts.seam = tongue."
            )
            raise BadSettingError("parts.cord_mm", message)
        if deep > settings.flange_thickness_mm - LEAST_LAND_MM:
            message = (
                f"the groove for a cord of {a_length(settings.cord_mm)} is"
                f" {a_length(deep)} deep, too much for a flange of"
                f" {a_length(settings.flange_thickness_mm)}. Take a thinner cord."
            )
            raise BadSettingError("parts.cord_mm", message)
        left = (wall_mm - settings.cord_mm) / 2.0
        return rectangle((left, -1.0), (left + settings.cord_mm, deep))
    return NOTHING


def _trapezium(
    middle_mm: float, half_mm: float, high_mm: float, root_mm: float
) -> manifold3d.CrossSection:
    """Return a tongue that stands on the line y = 0, carried on straight below it."""
    top = TONGUE_TOP_SHARE * half_mm
    corners = [(half_mm, -root_mm), (half_mm, 0.0), (top, high_mm)]
    right = [(middle_mm + x, y) for x, y in corners]
    left = [(middle_mm - x, y) for x, y in reversed(corners)]
    return manifold3d.CrossSection([np.array(right + left)])
