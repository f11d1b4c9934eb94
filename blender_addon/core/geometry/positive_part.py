"""Where a field on a grid is positive; cells that its border cuts count in part."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from ..arrays import Floats

_CORNERS = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [1, 1, 0],
                     [0, 0, 1], [1, 0, 1], [0, 1, 1], [1, 1, 1]])  # fmt: skip
_TETRAHEDRA = np.array([[0, 1, 3, 7], [0, 3, 2, 7], [0, 2, 6, 7],
                        [0, 6, 4, 7], [0, 4, 5, 7], [0, 5, 1, 7]])  # fmt: skip


def positive_shares(field: Floats) -> Floats:
    """Return the share of each cube between eight grid points in which the field is positive.

    Each cube is cut in six tetrahedra in which the field runs straight: exact for a plane border,
    off by the square of the pitch for a round one.

    Parameters
    ----------
    field : ndarray, shape (nx, ny, nz)
        Signed; only its sign matters in cubes that have the same sign all over.

    Returns
    -------
    ndarray, shape (nx - 1, ny - 1, nz - 1)
        From 0 to 1.

    Examples
    --------
    >>> x, y, z = np.mgrid[:3, :2, :2]
    >>> positive_shares(1.25 - x).round(9).ravel().tolist()
    [1.0, 0.25]
    """
    nx, ny, nz = field.shape
    positive = field > 0.0
    views = [
        (slice(i, nx - 1 + i), slice(j, ny - 1 + j), slice(k, nz - 1 + k)) for i, j, k in _CORNERS
    ]
    count = np.zeros((nx - 1, ny - 1, nz - 1), dtype=np.int8)
    for view in views:
        count += positive[view]
    shares = np.where(count == 8, 1.0, 0.0)
    cut = np.nonzero((count > 0) & (count < 8))
    values = np.stack([field[view][cut] for view in views], axis=1)
    shares[cut] = np.mean([_positive_share(values[:, four]) for four in _TETRAHEDRA], axis=0)
    return shares


def _positive_share(values: Floats) -> Floats:
    """Return the share of each tetrahedron where a linear field is positive, from its corners."""
    values = np.sort(values, axis=1)[:, ::-1]
    count = np.count_nonzero(values > 0.0, axis=1)
    share = np.where(count == 4, 1.0, 0.0)
    one, two, three = (count == k for k in (1, 2, 3))
    share[one] = _tip(values[one])
    share[three] = 1.0 - _tip(-values[three, ::-1])
    a, b, c, d = values[two].T
    ac, ad, bc, bd = a / (a - c), a / (a - d), b / (b - c), b / (b - d)
    share[two] = ac * ad + (1.0 - ac) * bc * bd + ac * (1.0 - ad) * bd
    return share


def _tip(values: Floats) -> Floats:
    lone, others = values[:, :1], values[:, 1:]
    share: Floats = np.prod(lone / (lone - others), axis=1)
    return share
