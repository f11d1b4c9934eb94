"""Names for the arrays that core passes round, and the lock that keeps them as they are."""

from __future__ import annotations

from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

Floats: TypeAlias = npt.NDArray[np.float64]
Ints: TypeAlias = npt.NDArray[np.int64]
Bools: TypeAlias = npt.NDArray[np.bool_]


def locked(array: npt.ArrayLike, dtype: npt.DTypeLike) -> npt.NDArray[Any]:
    """Return an array of the given type that nobody can write to.

    Parameters
    ----------
    array : array_like
        Any numbers. An array that is locked already and has the type is returned as it is.
    dtype : dtype_like
        The type wanted.

    Returns
    -------
    ndarray
        Contiguous, with ``flags.writeable`` off; the input itself stays writable.

    Examples
    --------
    >>> locked([1, 2], float).flags.writeable
    False
    """
    given = np.asarray(array)
    if given.dtype == dtype and not given.flags.writeable and given.flags.c_contiguous:
        return given
    copy = np.array(given, dtype=dtype, order="C")
    copy.flags.writeable = False
    return copy
