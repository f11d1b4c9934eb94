"""The mark at the back: an upright rib on the outside of the case, to be felt with gloves on."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..constants.funnel import CONE_FROM_UPRIGHT_DEG
from ..constants.parts import FLANGE_FOOT_MM, HOOK_DROP_MM, MARK_MM
from .outlines import grown, way_out_mm

if TYPE_CHECKING:
    from ..case.result import CaseResult

BACK = np.array([0.0, 1.0])


def mark(case: CaseResult) -> manifold3d.Manifold:
    """Return the rib, from over the board's rim to below the funnel's hook; nothing in a low case.

    Its upper end slopes: it is printed upside down.
    """
    outline = case.bore.outline_mm
    inner = way_out_mm(outline, np.zeros(2), BACK) + case.wall_mm / 2.0
    outer = way_out_mm(grown(outline, case.wall_mm), np.zeros(2), BACK) + MARK_MM
    low, high = FLANGE_FOOT_MM, case.height_mm - HOOK_DROP_MM - MARK_MM
    bend = high - (outer - inner) / math.tan(math.radians(CONE_FROM_UPRIGHT_DEG))
    if bend <= low + MARK_MM:
        return manifold3d.Manifold()
    root = [(side * MARK_MM, inner, z) for side in (-1.0, 1.0) for z in (low, high)]
    edge = [(0.0, outer, low), (0.0, outer, bend)]
    return manifold3d.Manifold.hull_points(np.array(root + edge))
