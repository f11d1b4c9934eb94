"""The opening at the rim that resin is poured through, and the plug that closes it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..units import CM2_PER_MM2

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..arrays import Floats

HALVINGS = 20
"""Of the search for the widest disc: to a millionth of the opening."""


@dataclass(frozen=True)
class Opening:
    """Inside the shell at the rim: its area, and the widest stick that goes straight in.

    ``plug_ml`` and ``plug_g`` close it, as thick as asked for.
    """

    area_cm2: float
    across_mm: float
    plug_ml: float
    plug_g: float


def opening_size(outlines: Sequence[Floats], shell_mm: float) -> tuple[float, float]:
    """Return area in cm2 and widest disc in mm of what a shell leaves open of the rim.

    Parameters
    ----------
    outlines : sequence of ndarray, shape (k, 2)
        Of the riser, outer ones counter-clockwise.
    shell_mm : float
        That stands on the walls.

    Examples
    --------
    >>> area, across = opening_size([np.array([[0.0, 0], [60, 0], [60, 40], [0, 40]])], 4.0)
    >>> round(area, 2), round(across, 2)
    (16.64, 32.0)
    """
    rim = manifold3d.CrossSection([np.array(one) for one in outlines], manifold3d.FillRule.Positive)
    area = _inset(rim, shell_mm).area() * CM2_PER_MM2
    if area <= 0.0:
        return 0.0, 0.0
    left, low, right, high = rim.bounds()
    least, most = shell_mm, max(min(right - left, high - low) / 2.0, shell_mm)
    for _ in range(HALVINGS):
        middle = (least + most) / 2.0
        if _inset(rim, middle).area() > 0.0:
            least = middle
        else:
            most = middle
    return area, 2.0 * (least - shell_mm)


def _inset(section: manifold3d.CrossSection, by_mm: float) -> manifold3d.CrossSection:
    return section.offset(-by_mm, manifold3d.JoinType.Round, 2.0, 64)
