"""Where on the base a slit may start, and where one does, as the setting counts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import BASE_START_DEG, BESIDE_RISER_MM, SIDE_HALF_DEG
from ..geometry.plan import edge_distances_mm
from ..geometry.segments import inside
from .path import ring_of

if TYPE_CHECKING:
    from ..arrays import Bools, Floats
    from ..case.result import CaseResult
    from ..geometry.mesh import Mesh
    from .settings import CutSettings

SIDES_DEG = {"back": 0.0, "front": 180.0, "left": 90.0, "right": -90.0}
"""From the channel, counter-clockwise seen from above: left and right as one stands in front, who
looks to the channel."""


def starts_of(mesh: Mesh, base_mm: float, case: CaseResult, settings: CutSettings) -> Bools:
    """Return the vertices (n,) of the base that a slit may start from; at the riser if any are."""
    z = mesh.vertices[:, 2]
    starts = z <= base_mm + 1e-6 * float(np.ptp(z))
    starts &= _allowed(mesh, case, settings)
    return _at_riser(mesh, starts, case)


def _at_riser(mesh: Mesh, starts: Bools, case: CaseResult) -> Bools:
    """Return those of some vertices that lie on the riser or just beside it, all where none does.

    A slit that starts under a part that hangs low beside the foot leaves the foot's ring whole.
    """
    rim, rows = ring_of(case.riser_outline), np.flatnonzero(starts)
    plan = mesh.vertices[rows, :2]
    near = (edge_distances_mm(plan, rim) <= BESIDE_RISER_MM) | inside(plan, rim)
    if not near.any():
        return starts
    kept = np.zeros_like(starts)
    kept[rows[near]] = True
    return kept


def _allowed(mesh: Mesh, case: CaseResult, settings: CutSettings) -> Bools:
    """Return the vertices that the slit may start from, as far as directions go."""
    low, high = mesh.bounds
    off = mesh.vertices[:, :2] - (low + high)[:2] / 2.0
    angle = np.degrees(np.arctan2(off[:, 1], off[:, 0]))
    if settings.start_deg >= 0.0:
        turn = np.degrees(np.arctan2(case.placement[1, 0], case.placement[0, 0]))
        wanted, half = settings.start_deg + turn, BASE_START_DEG
    elif settings.side != "best":
        wanted, half = 90.0 + SIDES_DEG[settings.side], SIDE_HALF_DEG
    else:
        return np.ones(len(off), dtype=np.bool_)
    apart: Bools = np.abs((angle - wanted + 180.0) % 360.0 - 180.0) <= half
    return apart


def start_deg(case: CaseResult, point: Floats) -> float:
    """Return where a point (3,) of the job's frame lies, as the setting of a slit's start counts.

    From the scan's +x counter-clockwise, about the middle of the piece's plan.
    """
    low, high = case.master.bounds
    x, y = (point - (low + high) / 2.0)[:2]
    turn = np.arctan2(case.placement[1, 0], case.placement[0, 0])
    return float(np.degrees(np.arctan2(y, x) - turn) % 360.0)
