"""One slit: from where on the base, over the piece, with the blade pointing where."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import LEDGE_MM, LONG_WAVE_MM, PATH_CELLS, SETBACK_MM, TEETH_PITCH_MM
from ..errors import NoWayForSlitError
from ..sentences import a_length
from .aim import aims
from .keying import Blade
from .lips import arcs_mm, lips_end_mm, lips_of
from .path import by_height, contact_mm
from .start import starts_of
from .under import length_under_mm
from .way import Ways

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..case.result import CaseResult
    from ..geometry.sections import Sections
    from .lips import Lips
    from .measure import Measured
    from .settings import CutSettings
    from .way import Ground


@dataclass(frozen=True, eq=False)
class Slit:
    """The line on the piece (n, 3) as it was drawn taut, the blade at heights along it, lips.

    ``drawn`` is the blade by the line alone; where it really meets the level lines of ``sections``
    is looked up when it is asked for. ``arcs`` says how far along the line each height of the
    curve is.
    """

    line_mm: Floats
    drawn: Blade
    sections: Sections
    lips: Lips
    arcs: Floats

    @property
    def top_mm(self) -> float:
        """Its end."""
        return float(self.drawn.points_mm[-1, 2])

    @cached_property
    def blade(self) -> Blade:
        """Where the blade meets the piece, from the board up, and the way that it points."""
        points, ways = self.drawn.points_mm.copy(), self.drawn.ways
        for level in range(len(points)):
            points[level, :2] = contact_mm(points[level, :2], self.sections.at(level))
        if points[0, 2] > 0.0:  # the block is open at its underside
            points = np.vstack([points[0] * [1.0, 1.0, 0.0], points])
            ways = np.vstack([ways[:1], ways])
        return Blade(points, ways)

    @property
    def tip(self) -> Blade:
        """The blade at its upper end only."""
        point = self.drawn.points_mm[-1].copy()
        level = len(self.drawn.points_mm) - 1
        point[:2] = contact_mm(point[:2], self.sections.at(level))
        return Blade(point[None], self.drawn.ways[-1:])


@dataclass(frozen=True, eq=False)
class Lines:
    """Lines for slits up a piece: slits that end at one height share theirs.

    Of the settings those count that say where a slit may start and how its teeth are.
    """

    case: CaseResult
    found: Measured
    ground: Ground
    settings: CutSettings
    _known: dict[float, Floats] = field(default_factory=dict, init=False)

    @property
    def heights_mm(self) -> Floats:
        """Where the piece was measured."""
        return self.found.sections.heights_mm

    def line_to(self, top_mm: float) -> Floats:
        """Return the line (n, 3) of a slit from the base up to a height.

        Raises
        ------
        NoWayForSlitError
            If marks bar every way.
        """
        if top_mm not in self._known:
            self._known[top_mm] = _line(self._ways, self.found, top_mm)
        return self._known[top_mm]

    def slit_to(self, top_mm: float, allowed: float) -> Slit:
        """Return the slit whose own line ends at a height."""
        return self.slit_along(self.line_to(top_mm), top_mm, allowed)

    def slit_along(self, line: Floats, top_mm: float, allowed: float) -> Slit:
        """Return the slit along a line (n, 3) up to a height."""
        heights, curve = self.heights_mm, self.found.curve
        drawn = _drawn(self.case, self.found, line, heights[heights <= top_mm], self.settings)
        arcs = arcs_mm(line, curve.heights_mm)
        length = float(arcs_mm(line, np.array([top_mm + LEDGE_MM]))[0])
        lips = lips_of(curve, arcs, length, allowed)
        return Slit(line, drawn, self.found.sections, lips, arcs)

    @cached_property
    def _ways(self) -> Ways:
        mesh = self.ground.mesh
        starts = starts_of(mesh, self.found.base_mm, self.case, self.settings)
        return Ways(self.ground, starts, float(np.ptp(mesh.vertices[:, 2])) / PATH_CELLS)


def find_slit(lines: Lines, must_mm: float, allowed: float) -> Slit:
    """Find the way of one slit from the base up to a height, and on until its lips are long enough.

    Raises
    ------
    NoWayForSlitError
        If marks bar every way.
    """
    slit = lines.slit_to(must_mm, allowed)
    curve = lines.found.curve
    wanted = lips_end_mm(curve, slit.arcs, allowed)
    if wanted <= slit.lips.length_mm or must_mm >= lines.heights_mm[-1]:
        return slit
    under = length_under_mm(lines.ground.mesh, slit.tip)
    if wanted > slit.lips.length_mm + under:
        longer = _lengthened(slit, lines, allowed)
        if longer is not None:
            return longer
    lips = lips_of(curve, slit.arcs, slit.lips.length_mm + under, allowed)
    return replace(slit, lips=lips)


def _lengthened(short: Slit, lines: Lines, allowed: float) -> Slit | None:
    """Return a slit that goes on up the piece until its lips are long enough, or to the top.

    None where it would leave a ring that has to be cut, to go on outside: up from a hollow.
    """
    curve, heights = lines.found.curve, lines.heights_mm
    wanted = lips_end_mm(curve, curve.heights_mm, allowed)
    high = float(heights[min(int(np.searchsorted(heights, wanted)), len(heights) - 1)])
    try:
        line = lines.line_to(high)
    except NoWayForSlitError:
        return None
    below = line[line[:, 2] <= short.top_mm, 2]
    if np.max(np.maximum.accumulate(below) - below, initial=0.0) > SETBACK_MM:
        return None
    reach = arcs_mm(line, heights + LEDGE_MM)  # the blade is at a ledge as soon as it is under it
    enough = (heights >= short.top_mm) & (
        reach >= lips_end_mm(curve, arcs_mm(line, curve.heights_mm), allowed)
    )
    enough[heights >= high] = True
    return lines.slit_along(line, float(heights[enough.argmax()]), allowed)


def _drawn(
    case: CaseResult, found: Measured, line: Floats, heights: Floats, settings: CutSettings
) -> Blade:
    """Return the blade at each height of a line."""
    points = by_height(line, heights)
    tooth = settings.tooth_mm or TEETH_PITCH_MM[1]
    corridor = tooth / 4.0 + LONG_WAVE_MM + settings.keep_off_mm
    return Blade(points, aims(points, found.sections, case.bore, corridor))


def _line(ways: Ways, found: Measured, top_mm: float) -> Floats:
    mesh, step = ways.ground.mesh, ways.step_mm
    z = mesh.vertices[:, 2]
    curve = found.curve
    row = int(np.argmin(np.abs(curve.heights_mm - top_mm)))
    near = np.linalg.norm(mesh.vertices[:, :2] - curve.at_mm[row], axis=1)
    ends = (z >= min(top_mm, float(z.max()))) & (z <= top_mm + 4.0 * step)
    # a hull that touches all sides of its box is twice as long round as the box's diagonal, or more
    ends &= near <= curve.ring_mm[row] / 4.0 + step
    if not ends.any():
        ends = z >= min(top_mm, float(z.max()))
    line = ways.cheapest(ends)
    if line is None:
        place = ways.highest_reached()
        message = (
            f"No slit can run from the base up to {a_length(top_mm)}: every way ends at"
            f" {a_length(place[2])}. Faces marked Not Here, the side or the start that is set,"
            " or a gap in the surface bar it. Clear some of the marks, free side and start, or"
            " take two halves."
        )
        raise NoWayForSlitError(message, place)
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
