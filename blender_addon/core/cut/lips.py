"""The two lips of a slit: with the ring of rubber that they end in, they let the piece out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import LEDGE_MM
from .path import last_rise

if TYPE_CHECKING:
    from ..arrays import Floats
    from .stretch import StretchCurve


@dataclass(frozen=True)
class Lips:
    """What the two lips of a slit have to let pass; each is ``length_mm`` along the piece.

    ``girth_mm`` is the widest girth that has to leave, ``alone_mm`` the shortest slit whose lips
    let it pass by themselves at the safe stretch, and ``alone_stretch`` how far these lips would
    have to stretch by themselves. ``stretch`` is what they do have to, for they open the rings that
    they cut; the tightest rim, of lips and ring, is ``rim_mm`` long and begins at ``z_mm``.
    """

    length_mm: float
    girth_mm: float
    alone_mm: float
    alone_stretch: float
    stretch: float
    rim_mm: float
    z_mm: float


def lips_mm(girth_mm: float, stretch: float, ring_mm: float = 0.0) -> float:
    """Return the length of a slit whose two lips, each stretched, let a girth pass; at least 0.

    The opening's rim is both lips and the ring that they begin at: 2 s + ring, stretched. Without a
    ring the length is on the safe side.

    Examples
    --------
    >>> round(lips_mm(70.0 * np.pi, 0.5), 2), round(lips_mm(70.0 * np.pi, 0.5, 40.0 * np.pi), 2)
    (73.3, 10.47)
    """
    return max(girth_mm / (1.0 + stretch) - ring_mm, 0.0) / 2.0


def lips_stretch(girth_mm: float, slit_mm: float, ring_mm: float = 0.0) -> float:
    """Return how far the lips of a slit and the ring must stretch to let a girth pass; at least 0.

    Examples
    --------
    >>> round(lips_stretch(70.0 * np.pi, 60.0), 4)
    0.8326
    """
    rim_mm = max(2.0 * slit_mm + ring_mm, LEDGE_MM)
    return max(girth_mm / rim_mm - 1.0, 0.0)


def arcs_mm(line_mm: Floats, heights_mm: Floats) -> Floats:
    """Return how far along a line (n, 3) it last rises through each height (k,).

    Above its end it is taken to go on upright.

    Examples
    --------
    >>> under_a_cap = np.array([[1.0, 0, 0], [1, 0, 4], [3, 0, 4], [3, 0, 6]])
    >>> arcs_mm(under_a_cap, np.array([-1.0, 3.0, 5.0, 9.0])).tolist()
    [0.0, 3.0, 7.0, 11.0]
    """
    above: Floats = np.maximum(heights_mm - line_mm[:, 2].max(), 0.0)
    if len(line_mm) < 2:
        return above
    steps = np.linalg.norm(np.diff(line_mm, axis=0), axis=1)
    before = np.append(0.0, np.cumsum(steps))
    first, share = last_rise(line_mm, heights_mm)
    arcs: Floats = before[first] + share * steps[first] + above
    return arcs


def lips_end_mm(curve: StretchCurve, arcs: Floats, allowed: float) -> float:
    """Return how far along its line a slit goes until its lips let pass what its rings do not.

    From every ring that would stretch too far there is as much of the line left as the lips take.

    Parameters
    ----------
    curve : StretchCurve
        Over n heights.
    arcs : ndarray, shape (n,)
        How far along the line each height is.
    allowed : float
        Stretch of the rubber.
    """
    short = np.maximum(curve.passing_mm / (1.0 + allowed) - curve.ring_mm, 0.0) / 2.0
    return float(np.max((arcs + short)[short > 0.0], initial=0.0))


def lips_of(curve: StretchCurve, arcs: Floats, end_arc_mm: float, allowed: float) -> Lips:
    """Return what the lips of a slit that ends so far along its line have to do.

    Parameters
    ----------
    curve, arcs, allowed
        As those of `lips_end_mm`.
    end_arc_mm : float
    """
    girth = float(np.max(curve.passing_mm, initial=0.0))
    alone = (end_arc_mm, girth, lips_mm(girth, allowed), lips_stretch(girth, end_arc_mm))
    rims = curve.ring_mm + 2.0 * np.maximum(end_arc_mm - arcs, 0.0)
    needed = np.where(arcs <= end_arc_mm, curve.passing_mm / rims - 1.0, 0.0)
    row = int(needed.argmax())
    worst = max(float(needed[row]), 0.0)
    return Lips(*alone, worst, float(rims[row]), float(curve.heights_mm[row]))
