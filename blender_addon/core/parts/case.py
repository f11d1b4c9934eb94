"""The case in two halves that open at the sides: a back (+y) and a front (-y)."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..constants import CONE_FROM_UPRIGHT_DEG, HOLE_SEGMENTS
from .flanges import Flanges, flanges_of
from .rounds import disc, rectangle, round_outline, upright

if TYPE_CHECKING:
    from ..case.result import CaseResult
    from .settings import PartsSettings


def case_back(case: CaseResult, settings: PartsSettings) -> manifold3d.Manifold:
    """Return the half at +y, in the job frame; its seams lie in the plane y = 0.

    The bore is never narrower than the circle that it stands for: no place has too little rubber.

    Raises
    ------
    BadSettingError
        If the flanges do not fit the case.
    """
    flanges = flanges_of(case, settings)
    radius = case.inner_diameter_mm / 2.0
    outer = radius + case.wall_mm
    far = outer + settings.flange_mm
    bore = disc(radius)
    half = (disc(outer) - bore) ^ rectangle((-2.0 * far, 0.0), (2.0 * far, 2.0 * far))
    wings = rectangle((-far, 0.0), (far, settings.flange_thickness_mm)) - disc(radius)
    solid = upright(half, 0.0, case.height_mm) + upright(
        half + wings, flanges.low_mm, flanges.high_mm
    )
    for hole in _holes(flanges, settings.flange_thickness_mm):
        solid -= hole
    return solid


def case_front(back: manifold3d.Manifold) -> manifold3d.Manifold:
    """Return the half at -y: the back, turned half round about the axis."""
    return back.rotate((0.0, 0.0, 180.0))


def _holes(flanges: Flanges, thickness_mm: float) -> list[manifold3d.Manifold]:
    """Return round bars along y, with a tip downward: up, as it is printed, so that none sags."""
    radius = flanges.hole_mm / 2.0
    tip = (0.0, radius / math.sin(math.radians(CONE_FROM_UPRIGHT_DEG)))
    section = manifold3d.CrossSection.hull_points(
        np.vstack([round_outline(radius, segments=HOLE_SEGMENTS), tip])
    )
    # extruded along z, then laid along y: the section's +y becomes -z
    bar = section.extrude(3.0 * thickness_mm).rotate((-90.0, 0.0, 0.0))
    return [
        bar.translate((side * flanges.bolt_x_mm, -thickness_mm, z))
        for side in (-1.0, 1.0)
        for z in flanges.bolt_z_mm
    ]
