"""What every part must be before it is handed on: one closed solid, as its file will hold it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree

from ..constants.parts import SLIVER_MM, WELD_MM
from ..errors import OpenPartError
from ..geometry.mesh import Mesh
from ..geometry.solid import enclosed_volume_ml, face_areas_mm2, open_edges
from ..sentences import a_length
from .overhang import overhang_of
from .result import AS_IT_STANDS, Part

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from .bed import Bed


def checked_part(
    name: str,
    role: str,
    placed: Mesh,
    to_assembly: Floats,
    lies: str = AS_IT_STANDS,
    bed: Bed | None = None,
) -> Part:
    """Return a part as it lies on the printer, its positions rounded as an STL file rounds them.

    Parameters
    ----------
    name, role : str
        As in the list of parts.
    placed : Mesh
        The part at its place in the job frame.
    to_assembly : ndarray, shape (4, 4)
        Turns the printed pose into the job frame; the shift that stands the part on z = 0, its plan
        box centred, is added here.
    lies : str
        How it lies on the printer.
    bed : Bed, optional
        Of the printer.

    Raises
    ------
    OpenPartError
        If it is not one closed solid.
    """
    lying = placed.moved(np.linalg.inv(to_assembly))
    low, high = lying.bounds
    rest = np.array([(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0, low[2]])
    mesh = as_filed(lying.with_vertices(lying.vertices - rest))
    check_solid(name, mesh)
    shift = np.eye(4)
    shift[:3, 3] = rest
    matrix = np.asarray(to_assembly) @ shift
    matrix.flags.writeable = False
    size = high - low
    return Part(
        name=name,
        role=role,
        mesh=mesh,
        to_assembly=matrix,
        size_mm=(float(size[0]), float(size[1]), float(size[2])),
        volume_ml=enclosed_volume_ml(mesh),
        lies=lies,
        over_bed_mm=0.0
        if bed is None
        else bed.over_mm((float(size[0]), float(size[1]), float(size[2]))),
        overhang=overhang_of(mesh),
    )


def as_filed(mesh: Mesh) -> Mesh:
    """Return the mesh on float32 positions: near ones become one vertex, what collapses goes.

    Examples
    --------
    >>> twin = Mesh([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 1, 1e-9]], [[0, 1, 2], [0, 2, 3]])
    >>> as_filed(twin).faces.tolist(), len(as_filed(twin).vertices)
    ([[0, 1, 2]], 3)
    """
    near = cKDTree(mesh.vertices).query_pairs(WELD_MM, output_type="ndarray")
    faces = _joined(near, len(mesh.vertices))[mesh.faces]
    a, b, c = faces.T
    used, faces = np.unique(faces[(a != b) & (b != c) & (c != a)], return_inverse=True)
    rounded = mesh.vertices[used].astype(np.float32) + np.float32(0.0)  # no minus zero
    return Mesh(rounded, faces.reshape(-1, 3))


def _joined(pairs: Ints, count: int) -> Ints:
    """Return for each of ``count`` things the first of those that the pairs join it to."""
    links = (np.ones(len(pairs), dtype=np.int8), (pairs[:, 0], pairs[:, 1]))
    labels = connected_components(coo_array(links, shape=(count, count)), directed=False)[1]
    first = np.unique(labels, return_index=True)[1]
    joined: Ints = first[labels]
    return joined


def refuse_empty(name: str, mesh: Mesh) -> None:
    """Raise when nothing is left of a part.

    Raises
    ------
    OpenPartError
    """
    if not len(mesh.faces):
        raise OpenPartError(f"Part {name!r} is empty. Check the sizes of case and parts.")


def check_solid(name: str, mesh: Mesh) -> None:
    """Raise when a mesh is not one closed solid.

    Raises
    ------
    OpenPartError
        Says what is wrong, and where.
    """
    refuse_empty(name, mesh)
    for what, at in (_bad_edges(mesh), _slivers(mesh)):
        if len(at):
            place = ", ".join(a_length(one, ".2f") for one in at[0])
            message = (
                f"Part {name!r} has {len(at)} {what}, the first at"
                f" ({place}) as it lies. Change a size by {a_length(0.1)}, then retry."
            )
            raise OpenPartError(message)
    if (count := _pieces(mesh)) != 1:
        message = (
            f"Part {name!r} fell into {count} pieces. Make walls thicker or clearances smaller."
        )
        raise OpenPartError(message)
    if enclosed_volume_ml(mesh) <= 0.0:
        raise OpenPartError(f"Part {name!r} is inside out. Check the sizes of case and parts.")


def _bad_edges(mesh: Mesh) -> tuple[str, Floats]:
    bad = np.vstack([mesh.edges.ends[mesh.edges.uses != 2], open_edges(mesh)])
    return "edges without exactly two faces", mesh.vertices[bad].mean(axis=1)


def _slivers(mesh: Mesh) -> tuple[str, Floats]:
    corners = mesh.corners
    longest = np.linalg.norm(corners - corners[:, [1, 2, 0]], axis=2).max(axis=1)
    low = 2.0 * face_areas_mm2(mesh) < SLIVER_MM * longest
    return "triangles without area", corners[low].mean(axis=1)


def _pieces(mesh: Mesh) -> int:
    edges = mesh.faces[:, [0, 1, 1, 2]].reshape(-1, 2)
    return len(np.unique(_joined(edges, len(mesh.vertices))[mesh.faces]))
