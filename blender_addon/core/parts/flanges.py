"""The flanges along a seam: their plan, the bolts' holes through them, the seats of clips."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..constants.funnel import CONE_FROM_UPRIGHT_DEG
from ..constants.parts import (
    CLIP_SEAT_MM,
    EDGE_CHAMFER_MM,
    FLANGE_FOOT_MM,
    GUSSET_MM,
    HOLE_SEGMENTS,
    LEAST_LAND_MM,
)
from ..errors import BadSettingError
from ..sentences import a_length
from .bolts import heights, hole_mm, washer_mm
from .joint import groove
from .rounds import round_outline

if TYPE_CHECKING:
    from ..case.result import CaseResult
    from .seams import Seam
    from .settings import PartsSettings


def flange_plan(seam: Seam, sign: float, settings: PartsSettings) -> manifold3d.CrossSection:
    """Return the flange on one side of a seam, in plan: counter-clockwise (+1) or clockwise (-1).

    Its outer corner is broken where fingers go; a gusset stiffens it where it meets the wall.
    """
    end, thick = seam.wall_mm + settings.flange_mm, settings.flange_thickness_mm
    chamfer = min(EDGE_CHAMFER_MM, thick / 3.0)
    gusset = min(GUSSET_MM, (settings.flange_mm - _seat_mm(settings)) / 2.0 - LEAST_LAND_MM)
    corners = [(0.0, 0.0), (end, 0.0), (end, thick - chamfer), (end - chamfer, thick)]
    if gusset > LEAST_LAND_MM:
        corners += [(seam.wall_mm + gusset, thick), (seam.wall_mm, thick + gusset)]
        corners += [(0.0, thick + gusset)]
    else:
        corners += [(0.0, thick)]
    plan = manifold3d.CrossSection([np.array(corners)])
    return seam.placed(plan if sign > 0.0 else plan.mirror((0.0, 1.0)))


def _seat_mm(settings: PartsSettings) -> float:
    """Return what a washer or a clip's jaw takes of the flange's width."""
    return washer_mm(settings.bolt) if settings.closing == "bolts" else settings.flange_mm / 2.0


def refuse_flanges(case: CaseResult, wall_mm: float, settings: PartsSettings) -> None:
    """Raise where bolts or clips find no room on the flanges, or the flanges none on the case.

    Raises
    ------
    BadSettingError
        At the field that can mend it.
    """
    thickest = float(np.ptp(case.bore.outline_mm, axis=0).min()) / 4.0 + case.wall_mm / 2.0
    if settings.flange_thickness_mm > thickest:
        message = (
            f"{a_length(settings.flange_thickness_mm)} is too thick for a case of"
            f" {a_length(case.inner_diameter_mm)} inside. Take at most {a_length(thickest)}."
        )
        raise BadSettingError("parts.flange_thickness_mm", message)
    if settings.closing == "bolts":
        _refuse_bolts(wall_mm, settings)


def _refuse_bolts(wall_mm: float, settings: PartsSettings) -> None:
    washer = washer_mm(settings.bolt)
    cut = groove(wall_mm, settings)
    beyond = 0.0 if cut.is_empty() else cut.bounds()[2] - wall_mm
    needed = max(washer, 2.0 * (beyond + LEAST_LAND_MM) + hole_mm(settings.bolt))
    if settings.flange_mm < needed:
        message = (
            f"{a_length(settings.flange_mm)} is too narrow for an {settings.bolt} bolt with its"
            f" washer: {a_length(needed)}. Take wider flanges or thinner bolts."
        )
        raise BadSettingError("parts.flange_mm", message)


def fixing_heights(
    low_mm: float, high_mm: float, settings: PartsSettings, pitch_mm: float
) -> tuple[float, ...]:
    """Return the heights of the bolts or clips on the flange of one ring.

    Raises
    ------
    BadSettingError
        If not even one finds room, or they would have to stand nearer than they have room.
    """
    bolts = settings.closing == "bolts"
    room = washer_mm(settings.bolt) if bolts else settings.clip_mm + 4.0 * CLIP_SEAT_MM
    what = f"an {settings.bolt} bolt and its washer" if bolts else "a clip"
    if high_mm - low_mm < room:
        message = (
            f"a ring of the case has only {a_length(max(high_mm - low_mm, 0.0))} of flange, no"
            f" room for {what} ({a_length(room)}). Take a smaller one, a taller print bed, or"
            " more case.cover_mm or case.freeboard_mm."
        )
        raise BadSettingError("parts.bolt" if bolts else "parts.clip_mm", message)
    if pitch_mm < room:
        message = (
            f"flanges of {a_length(settings.flange_thickness_mm)} would gape or break unless"
            f" held every {a_length(pitch_mm)}, and {what} takes {a_length(room)}. Take"
            " thicker or wider flanges."
        )
        raise BadSettingError("parts.flange_thickness_mm", message)
    return heights(low_mm, high_mm, room, pitch_mm)


def flange_low_mm(foot_mm: float) -> float:
    """Return where the flanges of a ring begin: over the board's rim on the lowest ring."""
    return max(foot_mm, FLANGE_FOOT_MM)


def cut_fixings(
    seam: Seam, sign: float, at_z_mm: tuple[float, ...], settings: PartsSettings
) -> list[manifold3d.Manifold]:
    """Return what is cut from the flange on one side of a seam: holes, or seats of clips."""
    cut = _holes(seam, at_z_mm, settings) if settings.closing == "bolts" else _seats(
        seam, sign, at_z_mm, settings
    )  # fmt: skip
    return [seam.stood(one) for one in cut]


def _holes(
    seam: Seam, at_z_mm: tuple[float, ...], settings: PartsSettings
) -> list[manifold3d.Manifold]:
    """Return round bars along y, with a tip downward: up, as it is printed, so that none sags."""
    radius = hole_mm(settings.bolt) / 2.0
    tip = (0.0, radius / math.sin(math.radians(CONE_FROM_UPRIGHT_DEG)))
    outline = manifold3d.CrossSection.hull_points(
        np.vstack([round_outline(radius, segments=HOLE_SEGMENTS), tip])
    )
    long = 2.0 * (settings.flange_thickness_mm + LEAST_LAND_MM)  # never into the wall behind
    # extruded along z, then laid along y: the section's +y becomes -z
    bar = outline.extrude(long).rotate((-90.0, 0.0, 0.0))
    x = seam.wall_mm + settings.flange_mm / 2.0
    return [bar.translate((x, -long / 2.0, z)) for z in at_z_mm]


def _seats(
    seam: Seam, sign: float, at_z_mm: tuple[float, ...], settings: PartsSettings
) -> list[manifold3d.Manifold]:
    """Return shallow seats on the flange's outside, open outward, with ends that slope."""
    thick, half = settings.flange_thickness_mm, settings.clip_mm / 2.0
    floor = thick - CLIP_SEAT_MM
    slope = CLIP_SEAT_MM / math.tan(math.radians(CONE_FROM_UPRIGHT_DEG))
    corners = [
        (floor, -half), (thick, -half - slope), (thick + 1.0, -half - slope),
        (thick + 1.0, half + slope), (thick, half + slope), (floor, half),
    ]  # fmt: skip
    profile = manifold3d.CrossSection([np.array(corners)])
    # the section lies in y and z; extruded along x, from the middle of the flange out past its end
    bar = profile.extrude(settings.flange_mm).rotate((90.0, 0.0, 90.0))
    if sign < 0.0:
        bar = bar.mirror((0.0, 1.0, 0.0))
    x = seam.wall_mm + settings.flange_mm / 2.0
    return [bar.translate((x, 0.0, z)) for z in at_z_mm]
