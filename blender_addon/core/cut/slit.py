"""One slit: from where on the base, over the piece, with the blade pointing where."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import BASE_START_DEG, LONG_WAVE_MM, PATH_CELLS, SIDE_HALF_DEG, TEETH_PITCH_MM
from ..errors import NoWayForSlitError
from ..units import length_text
from .aim import aims
from .keying import Blade
from .path import by_height, contact_mm
from .way import cheapest_way

if TYPE_CHECKING:
    from ..arrays import Bools, Floats
    from ..case.result import CaseResult
    from ..geometry.mesh import Mesh
    from .measure import Measured
    from .settings import CutSettings
    from .way import Ground

SIDES_DEG = {"back": 0.0, "front": 180.0, "left": 90.0, "right": -90.0}
"""From the channel, counter-clockwise seen from above: left and right as one stands in front, who
looks to the channel."""


@dataclass(frozen=True, eq=False)
class Slit:
    """The line on the piece (n, 3) as it was drawn taut, and the blade at the heights asked for."""

    line_mm: Floats
    blade: Blade


def find_slit(
    case: CaseResult, found: Measured, top_mm: float, ground: Ground, settings: CutSettings
) -> Slit:
    """Find the way of one slit from the base up to a height.

    Raises
    ------
    NoWayForSlitError
        If marks bar every way.
    """
    line = _line(ground, case, found, top_mm, settings)
    heights = found.sections.heights_mm
    cut = np.flatnonzero(heights <= top_mm)
    points = by_height(line, heights[cut])
    tooth = settings.tooth_mm or TEETH_PITCH_MM[1]
    corridor = tooth / 4.0 + LONG_WAVE_MM + settings.keep_off_mm
    ways = aims(points, found.sections, case.bore, corridor)
    for row, level in enumerate(cut.tolist()):
        segments = found.sections.at(level)
        points[row, :2] = contact_mm(points[row, :2], segments)
    if points[0, 2] > 0.0:  # the block is open at its underside
        points = np.vstack([points[0] * [1.0, 1.0, 0.0], points])
        ways = np.vstack([ways[:1], ways])
    return Slit(line, Blade(points, ways))


def _line(
    ground: Ground, case: CaseResult, found: Measured, top_mm: float, settings: CutSettings
) -> Floats:
    mesh = ground.mesh
    z = mesh.vertices[:, 2]
    curve = found.curve
    row = int(np.argmin(np.abs(curve.heights_mm - top_mm)))
    step = float(np.ptp(z)) / PATH_CELLS
    near = np.linalg.norm(mesh.vertices[:, :2] - curve.at_mm[row], axis=1)
    ends = (z >= min(top_mm, float(z.max()))) & (z <= top_mm + 4.0 * step)
    ends &= near <= curve.ring_mm[row] / 2.0  # no point of a ring is farther from its middle
    if not ends.any():
        ends = z >= min(top_mm, float(z.max()))
    starts = z <= found.base_mm + 1e-6 * float(np.ptp(z))
    line = cheapest_way(ground, starts & _allowed(mesh, case, settings), ends, step)
    if line is None:
        message = (
            "No slit can run from the base up to "
            f"{length_text(top_mm)}: faces marked Not Here, the side or the start that is set bar "
            "every way. Clear some of the marks, or free the side and the start."
        )
        raise NoWayForSlitError(message)
    return _ending_at(line, top_mm)


def _ending_at(line: Floats, top_mm: float) -> Floats:
    """Return a line up to where it first reaches a height."""
    over = np.flatnonzero(line[:, 2] >= top_mm)
    if not len(over) or over[0] == 0:
        return line
    last = int(over[0])
    a, b = line[last - 1], line[last]
    share = (top_mm - a[2]) / (b[2] - a[2])
    return np.vstack([line[:last], a + share * (b - a)])


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
