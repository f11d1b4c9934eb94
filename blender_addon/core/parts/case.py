"""The case in pieces: an even number round the axis, and rings that stand on each other."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import manifold3d

from ..constants.funnel import CONE_FROM_UPRIGHT_DEG
from ..constants.parts import EDGE_CHAMFER_MM
from .flanges import cut_fixings, flange_low_mm, flange_plan
from .joint import groove, tongue
from .mark import mark
from .naming import SIDES, ring_names
from .outlines import section, swept
from .rings import rings_of
from .rounds import upright
from .split import sector

if TYPE_CHECKING:
    from ..case.result import CaseResult
    from .seams import Seam
    from .settings import PartsSettings
    from .split import Split


@dataclass(frozen=True, eq=False)
class Piece:
    """One piece of the case in the job frame."""

    name: str
    solid: manifold3d.Manifold


def case_pieces(
    case: CaseResult, split: Split, at_z_mm: tuple[float, ...], settings: PartsSettings
) -> list[Piece]:
    """Return the pieces, those of the lowest ring first, each ring from the back round by the left.

    The bore is never narrower than what it stands for: no place has too little rubber.

    Parameters
    ----------
    case : CaseResult
    split : Split
        The seams, and the heights at which rings meet.
    at_z_mm : tuple of float
        Heights of the bolts or clips on every seam.
    settings : PartsSettings

    Raises
    ------
    BadSettingError
        If flanges, bolts, clips or a cord find no room.
    """
    count = len(split.seams)
    sides = []
    for k, name in enumerate(SIDES[count]):
        begin, end = split.seams[k], split.seams[(k + 1) % count]
        whole = _whole(case, split, begin, end, at_z_mm, settings)
        if not k:
            whole += mark(case)
        sides.append((name, rings_of(whole, case, split.floors_mm, settings)))
    return [
        Piece(f"case {side} {ring}".strip(), rings[row])
        for row, ring in enumerate(ring_names(split.rings))
        for side, rings in sides
    ]


def _whole(
    case: CaseResult,
    split: Split,
    begin: Seam,
    end: Seam,
    at_z_mm: tuple[float, ...],
    settings: PartsSettings,
) -> manifold3d.Manifold:
    """Return the piece between two seams over the whole height: wall, flanges, tongue, groove."""
    low, high = split.floors_mm[0], split.floors_mm[-1]
    bore = case.bore.outline_mm
    rooted = end.placed(tongue(end.wall_mm, settings))
    kept_off = begin.placed(groove(begin.wall_mm, settings))
    plan = (sector(begin, end, len(split.seams)) + rooted) - kept_off
    flanges = flange_plan(begin, 1.0, settings) + flange_plan(end, -1.0, settings) + rooted
    flanges = flanges - section(bore) - kept_off
    wall = swept(bore, _wall_profile(case.wall_mm, low, high)) ^ upright(
        plan, low - 1.0, high + 1.0
    )
    solid = wall + upright(flanges, flange_low_mm(low), high)
    cuts = cut_fixings(begin, 1.0, at_z_mm, settings) + cut_fixings(end, -1.0, at_z_mm, settings)
    return manifold3d.Manifold.batch_boolean([solid, *cuts], manifold3d.OpType.Subtract)


def _wall_profile(wall_mm: float, low_mm: float, high_mm: float) -> list[tuple[float, float]]:
    """Return the wall's section: its outer edges are broken, for fingers and to find the groove."""
    broken = min(EDGE_CHAMFER_MM, wall_mm / 4.0)
    up = broken / math.tan(math.radians(CONE_FROM_UPRIGHT_DEG))
    return [
        (0.0, low_mm),
        (wall_mm - broken, low_mm),
        (wall_mm, low_mm + up),
        (wall_mm, high_mm - up),
        (wall_mm - broken, high_mm),
        (0.0, high_mm),
    ]
