"""Proof by cutting: the block is cut by the ribbon, and counted and weighed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import (
    BLADE_TRIALS_MM,
    CRUMB_SHARE,
    DUST_SHARE,
    KERF_MM,
    PROOF_MARGIN_MM,
    THIN_SKIN_MM,
)
from ..geometry.connect import chosen_faces
from ..geometry.manifold import prism, to_solid
from ..geometry.mesh import Mesh
from ..geometry.sections import horizontal_sections
from ..geometry.segments import least_apart_mm
from ..geometry.winding import winding_number
from ..units import ML_PER_MM3
from .path import on_riser, ring_of

if TYPE_CHECKING:
    import manifold3d

    from ..arrays import Bools, Floats
    from ..case.result import CaseResult
    from .keying import Keying


@dataclass(frozen=True)
class Proof:
    """What cutting the block came to.

    ``pieces`` of it are left, dust not counted. ``opens`` says that a slit opens the ring of rubber
    at every height up to its end, with no skin left on the piece, or that two halves come apart.
    ``block_ml`` is the whole, ``error_share`` by how much the parts together differ from it.
    ``crumbs_ml`` is what halves cut off from themselves behind the piece; it stays on the other.
    """

    pieces: int
    opens: bool
    block_ml: float
    error_share: float
    crumbs_ml: float = 0.0


def block_of(case: CaseResult, master: manifold3d.Manifold, base_mm: float) -> manifold3d.Manifold:
    """Return the rubber: the bore up to its level, less the master, its riser and the wax on it."""
    outline = [np.array(case.bore.outline_mm)]
    block = prism(outline, 0.0, case.level_z_mm) - master
    if base_mm > 0.0 and len(case.riser_outline):
        block -= prism(case.riser_outline, -PROOF_MARGIN_MM, base_mm + KERF_MM)
    return block


def prove_slit(
    case: CaseResult, block: manifold3d.Manifold, keying: Keying, base_mm: float
) -> Proof:
    """Cut the block along a ribbon with a blade of a razor's thickness.

    Parameters
    ----------
    case : CaseResult
        Master and riser.
    block : manifold3d.Manifold
        Of `block_of`.
    keying : Keying
        The ribbon.
    base_mm : float
        Where the wax between riser and piece ends.
    """
    rows = keying.rows
    into_mm, meets = _into_piece(case, rows, keying.into_mm, base_mm)
    blade = to_solid(blade_of(rows, into_mm))
    shavings, opened = block.split(blade)
    whole = block.volume()
    error = abs(opened.volume() + shavings.volume() - whole) / whole
    pieces = _more_pieces(block, [opened])
    return Proof(pieces, bool(meets.all()), whole * ML_PER_MM3, error)


def opens_ring(case: CaseResult, keying: Keying, base_mm: float) -> bool:
    """Return whether a blade along a ribbon would open the ring of rubber at every height."""
    return bool(_into_piece(case, keying.rows, keying.into_mm, base_mm)[1].all())


def _into_piece(
    case: CaseResult, rows: Floats, into_mm: Floats, base_mm: float
) -> tuple[Floats, Bools]:
    """Return how far the blade goes in, more or less where it would miss, and where it meets.

    The latter as `meets_piece`.
    """
    meets = meets_piece(case, rows, into_mm, base_mm)
    for trial_mm in BLADE_TRIALS_MM:
        if meets.all():
            break
        missed = np.append(~meets, False) | np.append(False, ~meets)
        tried = np.where(missed, trial_mm, into_mm)
        found = meets_piece(case, rows, tried, base_mm)
        if np.count_nonzero(found) > np.count_nonzero(meets):
            into_mm, meets = tried, found
    return into_mm, meets


def meets_piece(case: CaseResult, rows: Floats, into_mm: Floats, base_mm: float) -> Bools:
    """Return whether the blade between each two rows meets the piece or its riser.

    It goes on to the outside, so that the ring of rubber is open there: whether it starts within
    the piece, crosses its level line, or touches it from beside.
    """
    inner, way = _inner_ends(rows, into_mm)
    z = (inner[1:, 2] + inner[:-1, 2]) / 2.0
    start, way = (inner[1:, :2] + inner[:-1, :2]) / 2.0, (way[1:] + way[:-1]) / 2.0
    end = (rows[1:, 1, :2] + rows[:-1, 1, :2]) / 2.0
    sections = on_riser(horizontal_sections(case.master, z), ring_of(case.riser_outline), base_mm)
    meets = np.ones(len(z), dtype=np.bool_)
    for row in range(len(z)):
        if rows[row + 1, 0, 2] - rows[row, 0, 2] > THIN_SKIN_MM:
            own = sections.at(row)
            meets[row] = (
                winding_number(own, start[row], way[row]) != 0
                or least_apart_mm(own, start[row], end[row]) <= THIN_SKIN_MM
            )
    return meets


def _inner_ends(rows: Floats, into_mm: Floats) -> tuple[Floats, Floats]:
    """Return where the blade starts (n, 3) and its way out (n, 2)."""
    first = rows[:, 1, :2] - rows[:, 0, :2]
    way = first / np.maximum(np.linalg.norm(first, axis=1), np.finfo(float).tiny)[:, None]
    inner = rows[:, 0].copy()
    inner[:, :2] -= into_mm[:, None] * way
    return inner, way


def prove_halves(block: manifold3d.Manifold, side: Mesh) -> tuple[Proof, Mesh]:
    """Cut a block in what lies in a solid and what does not; return the surface between as well.

    Parameters
    ----------
    block : manifold3d.Manifold
    side : Mesh
        Closed; it holds one half and all beyond it.
    """
    cutter = to_solid(side).as_original()
    one, other = block.split(cutter)
    whole = block.volume()
    pieces, crumbs = _halves_and_crumbs(block, one, other)
    error = abs(one.volume() + other.volume() - whole) / whole
    proof = Proof(pieces, pieces == 2, whole * ML_PER_MM3, error, crumbs)
    return proof, _faces_from(one, cutter.original_id())


def _more_pieces(block: manifold3d.Manifold, parts: list[manifold3d.Manifold]) -> int:
    """Return how many pieces a block is cut in; what was apart before does not count."""
    whole = block.volume()
    pieces = sum(len(large_parts(part, whole)) for part in parts)
    return pieces if pieces == len(parts) else pieces + 1 - len(large_parts(block, whole))


def _halves_and_crumbs(
    block: manifold3d.Manifold, one: manifold3d.Manifold, other: manifold3d.Manifold
) -> tuple[int, float]:
    """Return how many pieces two sides of a block make, and how much of them is crumbs, in ml.

    A crumb is cut off from its own half by the piece; it is left on the other, which it must touch,
    as the block was whole.
    """
    whole = block.volume()
    pieces, crumbs = 0, 0.0
    for side in (one, other):
        volumes = sorted(part.volume() for part in large_parts(side, whole))
        small = [volume for volume in volumes[:-1] if volume < CRUMB_SHARE * whole]
        crumbs += sum(small)
        pieces += len(volumes) - len(small)
    return pieces, crumbs * ML_PER_MM3


def _faces_from(solid: manifold3d.Manifold, origin: int) -> Mesh:
    """Return the triangles of a solid that come from another."""
    out = solid.to_mesh64()
    runs = np.asarray(out.run_index, dtype=np.int64) // 3
    owner = np.repeat(np.asarray(out.run_original_id), np.diff(runs))
    whole = Mesh(np.array(out.vert_properties)[:, :3], np.array(out.tri_verts))
    return chosen_faces(whole, owner == origin)


def large_parts(solid: manifold3d.Manifold, whole_mm3: float) -> list[manifold3d.Manifold]:
    """Return the parts of a solid that are no dust."""
    return [part for part in solid.decompose() if part.volume() > DUST_SHARE * whole_mm3]


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
