"""Back-filling the upturned mold in stages, and what is still to fill at a reading."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants import FILL_STEP_MM
from ..geometry.volume_below import volume_below_ml
from .result import Fill

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..geometry.mesh import Mesh


def fill_table(copy: Mesh) -> Floats:
    """Return what is still to fill of the copy when the resin stands so far below the rim.

    The mold stands upside down: the rim is z = 0, and deeper is higher up the piece.

    Parameters
    ----------
    copy : Mesh
        Closed, with the riser, down to z = 0.

    Returns
    -------
    ndarray, shape (n, 2)
        mm below the rim and ml, from (0, 0) to the whole copy.
    """
    deepest = float(copy.bounds[1][2])
    depth = np.append(np.arange(0.0, deepest, FILL_STEP_MM), deepest)
    ml = volume_below_ml(copy, depth)
    ml[0] = 0.0
    return np.column_stack([depth, ml])


def staged_fills(
    cavity_ml: float, layers: Floats, levels_mm: Floats, density_g_ml: float, stage_g: float
) -> tuple[Fill, ...]:
    """Share a cavity out in the fewest equal fills that are light enough, the deepest first.

    Parameters
    ----------
    cavity_ml : float
        To fill.
    layers : ndarray, shape (n,)
        How it is spread over the height, in any unit.
    levels_mm : ndarray, shape (n + 1,)
        Heights between the layers, from the rim.
    density_g_ml : float
        Of the resin.
    stage_g : float
        No fill is heavier.

    Examples
    --------
    >>> fills = staged_fills(100.0, np.ones(4), np.arange(0.0, 41.0, 10.0), 1.0, 60.0)
    >>> [(fill.to_mm_below_rim, fill.ml) for fill in fills]
    [(20.0, 50.0), (0.0, 50.0)]
    """
    count = max(int(np.ceil(cavity_ml * density_g_ml / stage_g - 1e-9)), 1)
    still = np.concatenate([[0.0], np.cumsum(layers)]) / layers.sum()
    open_share = np.arange(count - 1, -1, -1) / count
    to_mm = np.interp(open_share, still, levels_mm)
    to_mm[-1] = 0.0
    ml = cavity_ml / count
    return tuple(Fill(float(depth), ml, ml * density_g_ml) for depth in to_mm)
