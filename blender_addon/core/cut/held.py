"""Parts that stay held fast though the slit is cut: small ones, and large ones that it misses."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import FAR_LENGTHS, LEAST_PART_GIRTH_MM, MINOR_PART_SHARE

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from .rings import Rings


@dataclass(frozen=True)
class TightPlace:
    """A ring that holds a part of the piece fast, and that the slit does not open."""

    at_mm: tuple[float, float, float]
    needed_stretch: float
    passing_mm: float


def tight_places(rings: Rings, heights_mm: Floats, allowed: float) -> tuple[TightPlace, ...]:
    """Return the small parts whose rings must stretch too far, the tightest ring of each."""
    small = ~_large(rings) & (rings.passing_mm >= LEAST_PART_GIRTH_MM)
    return _tightest(rings, heights_mm, small & (rings.stretch > allowed))


def missed_places(
    rings: Rings, heights_mm: Floats, allowed: float, slit_mm: Floats
) -> tuple[TightPlace, ...]:
    """Return the large parts whose rings must stretch too far and that a slit runs past.

    At each height a slit opens one ring, the one that it is nearest to, by the ring's size.

    Parameters
    ----------
    rings : Rings
    heights_mm : ndarray, shape (k,)
        That the rings number.
    allowed : float
        Stretch of the rubber.
    slit_mm : ndarray, shape (n, 3)
        The slit's points, ascending.

    Examples
    --------
    Two knobs side by side on necks half as wide, and a slit up the first:

    >>> from blender_addon.core.cut.rings import Rings
    >>> rings = Rings(np.array([0, 0]), np.array([60.0, 60.0]), np.array([60.0, 60.0]),
    ...               np.array([120.0, 120.0]), np.array([[-40.0, 0], [40, 0]]))
    >>> slit = np.array([[-40.0, 9.5, 0.0], [-40.0, 9.5, 20.0]])
    >>> [one.at_mm for one in missed_places(rings, np.array([10.0]), 0.5, slit)]
    [(40.0, 0.0, 10.0)]
    """
    z = heights_mm[rings.level]
    on_slit = np.stack([np.interp(z, slit_mm[:, 2], slit_mm[:, axis]) for axis in (0, 1)], axis=1)
    off = np.linalg.norm(rings.at_mm - on_slit, axis=1) / np.maximum(rings.ring_mm, 1e-9)
    nearest = np.full(len(heights_mm), np.inf)
    np.minimum.at(nearest, rings.level, off)
    missed = (off > nearest[rings.level]) & (z <= slit_mm[-1, 2])
    return _tightest(rings, heights_mm, missed & _large(rings) & (rings.stretch > allowed))


def _large(rings: Rings) -> Bools:
    """Return whether what passes each ring is a part that decides about the slit."""
    large: Bools = rings.passing_mm >= MINOR_PART_SHARE * np.max(rings.passing_mm, initial=0.0)
    return large


def _tightest(rings: Rings, heights_mm: Floats, chosen: Bools) -> tuple[TightPlace, ...]:
    """Return the tightest of the chosen rings of each part.

    Rings of one part lie over each other, as near as the part is wide.
    """
    rows: Ints = np.flatnonzero(chosen)
    found: list[int] = []
    for row in rows[np.argsort(-rings.stretch[rows], kind="stable")].tolist():
        reach = rings.passing_mm[row] / np.pi  # a round part of that girth is as wide
        apart = np.linalg.norm(rings.at_mm[found] - rings.at_mm[row], axis=1) > reach
        higher = np.abs(heights_mm[rings.level[found]] - heights_mm[rings.level[row]])
        if (apart | (higher > FAR_LENGTHS * reach)).all():
            found.append(row)
    return tuple(
        TightPlace(
            (*rings.at_mm[row].tolist(), float(heights_mm[rings.level[row]])),
            float(rings.stretch[row]),
            float(rings.passing_mm[row]),
        )
        for row in found
    )
