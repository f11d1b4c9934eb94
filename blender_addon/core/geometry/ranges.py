"""Lists of different lengths laid end to end, without a loop."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from ..arrays import Ints


def spread(counts: Ints) -> tuple[Ints, Ints]:
    """Return the owner of each item and its rank within its owner's list.

    Parameters
    ----------
    counts : ndarray, shape (n,)
        How many items each owner has; below zero counts as none.

    Returns
    -------
    owner, rank : ndarray, shape (sum of counts,)

    Examples
    --------
    >>> [part.tolist() for part in spread(np.array([2, 0, 3]))]
    [[0, 0, 2, 2, 2], [0, 1, 0, 1, 2]]
    """
    counts = np.maximum(counts, 0)
    owner = np.repeat(np.arange(len(counts)), counts)
    first = np.cumsum(counts) - counts
    return owner, np.arange(len(owner)) - first[owner]
