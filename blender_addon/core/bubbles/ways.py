"""Other ways of standing the piece, and the air that each would trap: for who can choose."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.bubbles import LEAN_COLUMNS
from ..geometry.connect import clustered
from ..scan.riser import faces_on_the_riser
from ..scan.upright import AXIS_VECTORS, Up, nearest_axis, turn_to
from .pockets import trapped_air
from .result import WayUp

if TYPE_CHECKING:
    from ..scan.result import ScanResult


def ways_up(scan: ScanResult) -> tuple[WayUp, ...]:
    """Return what would stay trapped with each axis of the scan as given upward, least first.

    A first look on a coarser mesh, as for leans: what faces down within a column's width of the
    lowest point is taken to stand on the board. ``up`` is what the setting of that name takes.

    Parameters
    ----------
    scan : ScanResult
        The closed master.
    """
    pitch = max(scan.size_mm) / LEAN_COLUMNS
    rough, _ = clustered(scan.mesh, 0.75 * pitch)
    turn = scan.placement[:3, :3] / scan.scale
    found = []
    for axis, vector in AXIS_VECTORS.items():
        up = turn @ np.array(vector)
        rotation = turn_to(Up(up, nearest_axis(up), flat_base=True))
        stood = rough.with_vertices(rough.vertices @ rotation.T)
        air = trapped_air(stood, faces_on_the_riser(stood, pitch), pitch)
        found.append(WayUp(axis, air.trapped_ml))
    return tuple(sorted(found, key=lambda way: way.trapped_ml))
