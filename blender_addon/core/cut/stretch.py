"""How far the rubber must stretch to let the piece out, and how much of it must be slit."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from ..arrays import Floats


def needed_stretches(girths_mm: Floats) -> Floats:
    """Return at each height how far the ring of rubber there must stretch.

    The piece leaves through its base: the widest girth above has to pass each place below it.

    Parameters
    ----------
    girths_mm : ndarray, shape (n,)
        From the base up; 0 where there is nothing of the piece, and so no ring to pass.

    Returns
    -------
    ndarray, shape (n,)
        Fractions: widest girth above / girth there - 1.

    Examples
    --------
    A ball of 70 mm behind a neck of 40 mm [1]_:

    >>> needed_stretches(np.array([40.0, 70.0, 20.0])).tolist()
    [0.75, 0.0, 0.0]

    References
    ----------
    .. [1] Hoop strain is the change of a ring's length by its length: engineering strain, ISO 37.
    """
    widest = np.maximum.accumulate(girths_mm[::-1])[::-1]
    met = girths_mm > 0.0
    return np.divide(widest, girths_mm, out=np.ones(len(widest)), where=met) - 1.0


def slit_top_mm(heights_mm: Floats, needed: Floats, allowed: float) -> float:
    """Return the highest place that must stretch too far, minus infinity if there is none."""
    return float(np.max(heights_mm[needed > allowed], initial=-np.inf))
