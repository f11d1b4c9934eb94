"""What the same cut would come to in each common class of rubber."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from ..catalog.materials import rubbers
from ..constants.cut import LEDGE_MM
from .lips import lips_end_mm, lips_of
from .opening import pull_at
from .stretch import slit_top_mm

if TYPE_CHECKING:
    from ..arrays import Floats
    from .settings import CutSettings
    from .stretch import StretchCurve


@dataclass(frozen=True)
class InClass:
    """A class of rubber with typical values: how high it would have to be slit, how hard it opens.

    ``word`` and ``force_n`` are those of `Pull`.
    """

    name: str
    allowed_stretch: float
    slit_to_mm: float
    word: str
    force_n: float


def in_classes(
    curve: StretchCurve, arcs: Floats, least_mm: float, thickness_mm: float, settings: CutSettings
) -> tuple[InClass, ...]:
    """Return the slit's end and the pull in each class of the library that comes with the program.

    Parameters
    ----------
    curve : StretchCurve
        Over n heights.
    arcs : ndarray, shape (n,)
        How far along the slit's line each height is.
    least_mm : float
        Height that is slit in any case.
    thickness_mm : float
        Of the rubber at the slit's end.
    settings : CutSettings
        The safe share of the elongation.
    """
    found = []
    for one in rubbers():
        allowed = one.elongation_percent * settings.safe_share_percent / 1e4
        must = slit_top_mm(curve.heights_mm, curve.needed, allowed)
        long = curve.heights_mm[arcs >= lips_end_mm(curve, arcs, allowed) - LEDGE_MM]
        must = max(must, float(np.min(long, initial=curve.heights_mm[-1])))
        end = float(np.clip(must, least_mm, max(float(curve.heights_mm[-1]), least_mm)))
        lips = lips_of(curve, arcs, float(np.interp(end, curve.heights_mm, arcs)), allowed)
        rubber = replace(
            settings,
            elongation_percent=one.elongation_percent,
            hardness_shore_a=one.hardness_shore_a,
        )
        pull = pull_at(curve, end, thickness_mm, rubber, lips)
        found.append(InClass(one.material, allowed, end, pull.word, pull.force_n))
    return tuple(found)
