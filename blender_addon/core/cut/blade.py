"""The blade that cuts the block in the proof: how far into the piece it goes, and its body."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import BLADE_TRIALS_MM, KERF_MM, LOW_SKIN_MM, PROOF_MARGIN_MM, THIN_SKIN_MM
from ..geometry.connect import chosen_faces
from ..geometry.mesh import Mesh
from ..geometry.sections import horizontal_sections
from ..geometry.segments import least_apart_mm
from ..geometry.taut import near_box
from ..geometry.winding import winding_number
from .path import on_riser, ring_of

if TYPE_CHECKING:
    from ..arrays import Bools, Floats
    from ..case.result import CaseResult
    from ..geometry.sections import Sections
    from .keying import Keying


def opens_ring(case: CaseResult, keying: Keying, base_mm: float) -> bool:
    """Return whether a blade along a ribbon would open the ring of rubber at every height."""
    rows = keying.rows
    return leaves_no_skin(rows, into_piece(case, rows, keying.into_mm, base_mm)[1])


def leaves_no_skin(rows: Floats, meets: Bools) -> bool:
    """Return whether no skin is left but low strips at a ledge, which tear by themselves.

    Examples
    --------
    >>> rows = np.zeros((4, 4, 3))
    >>> rows[:, :, 2] = np.array([0.0, 2.0, 2.3, 4.0])[:, None]
    >>> leaves_no_skin(rows, np.array([True, False, True]))
    True
    >>> leaves_no_skin(rows, np.array([True, False, False]))
    False
    """
    z, missed = rows[:, 0, 2], np.concatenate([[False], ~meets, [False]])
    first, last = np.flatnonzero(np.diff(missed.astype(np.int8))).reshape(-1, 2).T
    return bool((z[last] - z[first] <= LOW_SKIN_MM).all())


def into_piece(
    case: CaseResult, rows: Floats, into_mm: Floats, base_mm: float
) -> tuple[Floats, Bools]:
    """Return how far the blade goes in, more or less where it would miss, and where it meets.

    The latter as `meets_piece`.
    """
    deepest = np.maximum(into_mm, max(BLADE_TRIALS_MM))
    lines = lines_along(case, rows, (np.minimum(into_mm, min(BLADE_TRIALS_MM)), deepest), base_mm)
    ringless = _between(rows[:, 0])[:, 2] < _foot_mm(case)
    meets = meets_piece(lines, rows, into_mm) | ringless
    for trial_mm in BLADE_TRIALS_MM:
        if meets.all():
            break
        missed = np.append(~meets, False) | np.append(False, ~meets)
        tried = np.where(missed, trial_mm, into_mm)
        found = meets_piece(lines, rows, tried) | ringless
        if np.count_nonzero(found) > np.count_nonzero(meets):
            into_mm, meets = tried, found
    return into_mm, meets


def _foot_mm(case: CaseResult) -> float:
    """Return the height under which there is no ring: the board, or where a piece on no riser is.

    A piece that stands on a point has none.
    """
    return 0.0 if len(case.riser_outline) else float(case.master.bounds[0][2])


def lines_along(
    case: CaseResult, rows: Floats, depths_mm: tuple[Floats, Floats], base_mm: float
) -> Sections:
    """Return the level lines of piece and riser between each two rows, as far as the blade goes.

    Of the piece only the triangles near the blade are cut, from the least to the greatest of two
    depths on and out: no other line can be met.
    """
    ends = np.stack([_inner_ends(rows, depth)[0] for depth in depths_mm])
    starts = np.stack([_between(ends.min(axis=0)), _between(ends.max(axis=0))])  # least, greatest
    way = _between(_inner_ends(rows, depths_mm[0])[1])
    corners = [starts[[x, y, 0], :, [0, 1, 2]].T for x in (0, 1) for y in (0, 1)]
    box = case.master.bounds
    near = np.vstack([*corners, *(_leaving(point, way, box) for point in corners)])
    near = np.vstack([near, _between(rows[:, 1])])
    faces = near_box(case.master, near, PROOF_MARGIN_MM)
    own = horizontal_sections(chosen_faces(case.master, faces), starts[0, :, 2])
    return on_riser(own, ring_of(case.riser_outline), base_mm)


def _between(rows: Floats) -> Floats:
    """Return the middle of each row and the next."""
    middles: Floats = (rows[1:] + rows[:-1]) / 2.0
    return middles


def _leaving(points: Floats, ways: Floats, box: tuple[Floats, Floats]) -> Floats:
    """Return where level rays (n, 2) from points (n, 3) leave a box for good."""
    far = np.where(ways > 0.0, box[1][:2], box[0][:2])
    apart = np.maximum((far - points[:, :2]) * np.sign(ways), 0.0)
    reach = np.divide(apart, np.abs(ways), out=np.full(ways.shape, np.inf), where=ways != 0.0)
    least = reach.min(axis=1)
    out = points.copy()
    out[:, :2] += np.where(np.isfinite(least), least, 0.0)[:, None] * ways
    return out


def meets_piece(lines: Sections, rows: Floats, into_mm: Floats) -> Bools:
    """Return whether the blade between each two rows meets the piece or its riser.

    It goes on to the outside, so that the ring of rubber is open there: whether it starts within
    the piece, crosses its level line, or touches it from beside.
    """
    inner, way = (_between(ends) for ends in _inner_ends(rows, into_mm))
    end = _between(rows[:, 1])
    meets = np.ones(len(inner), dtype=np.bool_)
    for row in range(len(inner)):
        if rows[row + 1, 0, 2] - rows[row, 0, 2] > THIN_SKIN_MM:
            own, start = lines.at(row), inner[row, :2]
            meets[row] = (
                winding_number(own, start, way[row]) != 0
                or least_apart_mm(own, start, end[row, :2]) <= THIN_SKIN_MM
            )
    return meets


def _inner_ends(rows: Floats, into_mm: Floats) -> tuple[Floats, Floats]:
    """Return where the blade starts (n, 3) and its way out (n, 2)."""
    first = rows[:, 1, :2] - rows[:, 0, :2]
    way = first / np.maximum(np.linalg.norm(first, axis=1), np.finfo(float).tiny)[:, None]
    inner = rows[:, 0].copy()
    inner[:, :2] -= into_mm[:, None] * way
    return inner, way


def blade_of(rows: Floats, into_mm: Floats) -> Mesh:
    """Return the closed body of a blade along rows (n, k, 3), each level, ascending.

    It goes on into the piece, out of the block and below the board.
    """
    start, way = _inner_ends(rows, into_mm)
    last = rows[:, -1] + PROOF_MARGIN_MM * np.column_stack([way, np.zeros(len(way))])
    lines = np.concatenate([start[:, None], rows[:, 1:-1], last[:, None]], axis=1)
    low = lines[:1] - [0.0, 0.0, PROOF_MARGIN_MM]
    lines = np.concatenate([low, lines])
    ways = np.concatenate([way[:1], way])
    left = KERF_MM / 2.0 * np.column_stack([-ways[:, 1], ways[:, 0], np.zeros(len(ways))])
    rings = np.concatenate([lines - left[:, None], (lines + left[:, None])[:, ::-1]], axis=1)
    return _tube(rings)


def _tube(rings: Floats) -> Mesh:
    """Return the closed surface over rings (n, k, 3), counter-clockwise from above, ascending.

    Each ring is a band: its point j and its point k - 1 - j lie opposite each other.
    """
    count, around = rings.shape[:2]
    number = np.arange(count * around).reshape(count, around)
    a, b = number[:-1], np.roll(number, -1, axis=1)[:-1]
    c, d = np.roll(number, -1, axis=1)[1:], number[1:]
    walls = [np.stack([a, b, c], axis=2), np.stack([a, c, d], axis=2)]
    half = around // 2
    one = np.arange(half - 1)
    quads = np.column_stack([one, one + 1, around - 2 - one, around - 1 - one])
    top = np.vstack([quads[:, [0, 1, 2]], quads[:, [0, 2, 3]]])
    ends = [number[-1][top], number[0][top[:, ::-1]]]
    return Mesh(rings.reshape(-1, 3), np.vstack([*(w.reshape(-1, 3) for w in walls), *ends]))
