"""The throat: as wide as the channel lets it be, and where it stands."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from ..constants import GROUND_MM, LEAST_THROAT_MM
from ..errors import BadSettingError

if TYPE_CHECKING:
    from ..case.result import CaseResult
    from ..geometry.mesh import Mesh
    from .settings import FunnelSettings


def throat_mm(case: CaseResult, settings: FunnelSettings) -> float:
    """Return the inner diameter: the channel's disc less clearance and wall on both sides.

    Raises
    ------
    BadSettingError
        If the channel leaves no throat.
    """
    taken = 2.0 * (settings.clearance_mm + settings.wall_mm)
    if case.channel_mm - taken < LEAST_THROAT_MM:
        message = (
            f"the clear channel is {case.channel_mm:.1f} mm wide, but the least throat of"
            f" {LEAST_THROAT_MM:g} mm needs {LEAST_THROAT_MM + taken:.1f} mm with the funnel's wall"
            " and clearance. Widen the channel, or lower funnel.wall_mm or funnel.clearance_mm."
        )
        raise BadSettingError("case.least_channel_mm", message)
    return min(case.channel_mm - taken, settings.widest_throat_mm)


def throat_at_mm(
    case: CaseResult, outer_radius_mm: float, clearance_mm: float
) -> tuple[float, float]:
    """Return the throat's axis: at the wall when that is clear of the master, else in the channel.

    Parameters
    ----------
    case : CaseResult
        The tube, the master in it and the channel.
    outer_radius_mm : float
        Of the throat, wall included.
    clearance_mm : float
        Air wanted round it.
    """
    x, y = case.channel_at_mm
    reach = case.inner_diameter_mm / 2.0 - clearance_mm - outer_radius_mm
    if reach <= abs(x):
        return x, y
    by_wall = (x, math.sqrt(reach**2 - x**2))
    clear_mm = plan_distance_mm(case.master, by_wall) + GROUND_MM
    if clear_mm >= outer_radius_mm + clearance_mm:
        return by_wall
    return by_wall if clear_mm >= plan_distance_mm(case.master, (x, y)) else (x, y)


def plan_distance_mm(mesh: Mesh, at_mm: tuple[float, float]) -> float:
    """Return how far a vertical line stands from a mesh; 0 where it runs through a triangle.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> wedge = Mesh([[0, 0, 0], [4, 0, 1], [0, 4, 2]], [[0, 1, 2]])
    >>> plan_distance_mm(wedge, (5.0, 0.0)), plan_distance_mm(wedge, (1.0, 1.0))
    (1.0, 0.0)
    """
    plan = mesh.vertices[:, :2] - np.asarray(at_mm)
    start = plan[mesh.faces]
    # no triangle is nearer than its box: keep those whose box is as near as the nearest corner
    box = np.maximum(np.maximum(start.min(axis=1), -start.max(axis=1)), 0.0)
    start = start[(box**2).sum(axis=1) <= (start[:, 0] ** 2).sum(axis=1).min()]
    end = start[:, [1, 2, 0]]
    side = start[..., 0] * end[..., 1] - start[..., 1] * end[..., 0]
    if bool(((side > 0.0).all(axis=1) | (side < 0.0).all(axis=1)).any()):
        return 0.0
    along = end - start
    length2 = np.maximum((along**2).sum(axis=2), GROUND_MM**2)
    share = np.clip(-(start * along).sum(axis=2) / length2, 0.0, 1.0)
    nearest = start + share[..., None] * along
    return float(np.sqrt((nearest**2).sum(axis=2).min()))
