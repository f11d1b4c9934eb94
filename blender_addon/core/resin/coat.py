"""How thick a coat gets that is turned in the bare mold, from what was mixed for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.interpolate import PchipInterpolator

from ..arrays import locked
from ..constants.common import SMALLEST_ML

if TYPE_CHECKING:
    from ..arrays import Floats
    from .shell import Cavity


def shell_table(cavity: Cavity, shell_ml: float) -> Floats:
    """Return what shells of other thickness take, by the real shape.

    Parameters
    ----------
    cavity : Cavity
        Whose table runs to twice the shell that is set.
    shell_ml : float
        Of the shell that is set: the table is brought to agree with it.

    Returns
    -------
    ndarray, shape (k, 2)
        Thickness in mm and ml, from (0, 0) up; it ends where the piece is solid.
    """
    mm, ml = cavity.by_shell.T
    at_set = max(float(np.interp(mm[-1] / 2.0, mm, ml)), SMALLEST_ML)
    grows = np.append(True, np.diff(ml) > 0.0).cumprod().astype(np.bool_)
    return locked(np.column_stack([mm, ml * shell_ml / at_set])[grows], np.float64)


def thickness_mm(table: Floats, mixed_ml: float) -> float | None:
    """Return how thick the coat gets, or None if the table does not tell of so thick a one.

    Parameters
    ----------
    table : ndarray, shape (k, 2)
        mm and ml, as `shell_table` returns it.
    mixed_ml : float
        Volume of the mix, all of which stays on the walls, as thick everywhere.

    Examples
    --------
    >>> table = np.array([[0.0, 0.0], [2.0, 60.0], [4.0, 120.0]])
    >>> thickness_mm(table, 90.0), thickness_mm(table, 130.0)
    (3.0, None)
    """
    if mixed_ml > table[-1, 1]:
        return None
    if mixed_ml <= 0.0:
        return 0.0
    return float(PchipInterpolator(table[:, 1], table[:, 0])(mixed_ml))
