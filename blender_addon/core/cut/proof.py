"""Proof by cutting: the block is cut by the ribbon, and counted and weighed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import CRUMB_SHARE, DUST_SHARE
from ..geometry.connect import chosen_faces, piece_of_faces
from ..geometry.manifold import to_solid
from ..geometry.mesh import Mesh
from ..units import ML_PER_MM3
from .blade import blade_of, into_piece, leaves_no_skin

if TYPE_CHECKING:
    import manifold3d

    from ..arrays import Ints
    from ..case.result import CaseResult
    from .block import Block
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


def prove_slit(case: CaseResult, block: Block, keying: Keying, base_mm: float) -> Proof:
    """Cut the block along a ribbon with a blade of a razor's thickness.

    Parameters
    ----------
    case : CaseResult
        Master and riser.
    block : Block
        Of the same.
    keying : Keying
        The ribbon.
    base_mm : float
        Where the wax between riser and piece ends.
    """
    rows = keying.rows
    into_mm, meets = into_piece(case, rows, keying.into_mm, base_mm)
    blade = to_solid(blade_of(rows, into_mm)).as_original()
    opened = block.without_piece(block.full - blade)
    shavings = block.without_piece(block.full ^ blade)
    whole = block.volume_mm3
    error = abs(opened.volume() + shavings.volume() - whole) / whole
    pieces = _more_pieces(block, opened, blade.original_id())
    return Proof(pieces, leaves_no_skin(rows, meets), whole * ML_PER_MM3, error)


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
    mesh, origin = _faces_and_origins(one)
    return proof, chosen_faces(mesh, origin == cutter.original_id())


def _more_pieces(block: Block, opened: manifold3d.Manifold, blade: int) -> int:
    """Return how many pieces a cut block is in; what was apart before does not count.

    A part that the blade did not touch was one before, and so was the only one that it touched.
    """
    mesh, origin = _faces_and_origins(opened)
    parts, of_face = piece_of_faces(mesh)
    a, b, c = (mesh.vertices[mesh.faces[:, corner]] for corner in range(3))
    volume = np.bincount(of_face, np.einsum("ij,ij->i", a, np.cross(b, c)) / 6.0, parts)
    large = volume > DUST_SHARE * block.volume_mm3
    pieces = int(np.count_nonzero(large))
    cut = np.bincount(of_face[origin == blade], minlength=parts) > 0
    if np.count_nonzero(large & cut) <= 1:
        return min(pieces, 1)
    return pieces + 1 - len(large_parts(block.solid, block.volume_mm3))


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


def _faces_and_origins(solid: manifold3d.Manifold) -> tuple[Mesh, Ints]:
    """Return the triangles of a solid, and the number of the solid that each comes from."""
    out = solid.to_mesh64()
    runs = np.asarray(out.run_index, dtype=np.int64) // 3
    origin = np.repeat(np.asarray(out.run_original_id, dtype=np.int64), np.diff(runs))
    return Mesh(np.array(out.vert_properties)[:, :3], np.array(out.tri_verts)), origin


def large_parts(solid: manifold3d.Manifold, whole_mm3: float) -> list[manifold3d.Manifold]:
    """Return the parts of a solid that are no dust."""
    return [part for part in solid.decompose() if part.volume() > DUST_SHARE * whole_mm3]
