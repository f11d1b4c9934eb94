"""Pieces of a sculpture that stick in each other, as one surface: nothing is counted twice."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..constants.scan import UNITED_SHARE
from ..geometry.connect import chosen_faces, piece_of_faces
from ..geometry.manifold import to_mesh
from ..geometry.mesh import Mesh, joined

if TYPE_CHECKING:
    from ..arrays import Bools, Ints


@dataclass(frozen=True, eq=False)
class United:
    """The mesh with no piece in another; ``kept`` (k,) the faces it was, ``joined`` pieces."""

    mesh: Mesh
    kept: Ints
    joined: int


def united(mesh: Mesh) -> United:
    """Join those pieces of a closed mesh that reach into each other, or lie face on face.

    A piece that is no closed manifold cannot be joined: then all stay as they are, and what is
    counted twice is told with the amounts.

    Parameters
    ----------
    mesh : Mesh
        Closed, each piece facing out.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh, joined
    >>> from blender_addon.core.geometry.solid import enclosed_volume_ml
    >>> corners = [[0, 0, 0], [30, 0, 0], [0, 20, 0], [0, 0, 10]]
    >>> wedge = Mesh(corners, [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])
    >>> inside = wedge.with_vertices(wedge.vertices / 2.0 + 1.0)
    >>> found = united(joined([wedge, inside]))
    >>> found.joined, round(enclosed_volume_ml(found.mesh), 6)
    (2, 1.0)
    """
    same = United(mesh, np.arange(len(mesh.faces)), 0)
    count, piece = piece_of_faces(mesh)
    near = _near_another(mesh, count, piece)
    if not near.any():
        return same
    apart = np.flatnonzero(~near[piece])
    solids = [_solid(mesh, np.flatnonzero(piece == one)) for one in np.flatnonzero(near)]
    if any(solid.status() != manifold3d.Error.NoError for solid in solids):
        return same
    whole = manifold3d.Manifold.batch_boolean(solids, manifold3d.OpType.Add)
    area = sum(solid.surface_area() for solid in solids)
    largest = max(solid.volume() for solid in solids)
    if area - whole.surface_area() <= UNITED_SHARE * area or whole.volume() < 0.999 * largest:
        return same
    own = np.array(whole.to_mesh64().face_id, dtype=np.int64)
    rest = chosen_faces(mesh, apart)
    return United(
        joined([to_mesh(whole), rest]), np.concatenate([own, apart]), int(np.count_nonzero(near))
    )


def _near_another(mesh: Mesh, count: int, piece: Ints) -> Bools:
    """Return the pieces (count,) whose box meets that of another one."""
    low, high = np.full((count, 3), np.inf), np.full((count, 3), -np.inf)
    np.minimum.at(low, piece, mesh.corners.min(axis=1))
    np.maximum.at(high, piece, mesh.corners.max(axis=1))
    near = np.zeros(count, dtype=bool)
    for one in range(count):
        meets = ((low[one] <= high) & (low <= high[one])).all(axis=1)
        near[one] = np.count_nonzero(meets) > 1
    return near


def _solid(mesh: Mesh, faces: Ints) -> manifold3d.Manifold:
    """Return a piece as the library's solid, each triangle with its number in the whole."""
    part = chosen_faces(mesh, faces)
    given = manifold3d.Mesh64(
        vert_properties=np.array(part.vertices),
        tri_verts=np.array(part.faces, dtype=np.uint64),
        face_id=faces.astype(np.uint64),
    )
    return manifold3d.Manifold(given)
