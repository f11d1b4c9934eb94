"""A mesh of fewer triangles to look at, each of which knows the given ones that it stands for.

Corners that lie in one cell of a cubic grid become one, at their mean.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np
from scipy.spatial import cKDTree

from ..arrays import locked
from ..constants.geometry import AIM_SHARE, CELL_ROUNDS, ENOUGH_SHARE, FACES_PER_CELL
from .mesh import Mesh

if TYPE_CHECKING:
    import numpy.typing as npt

    from ..arrays import Bools, Floats, Ints


@dataclass(frozen=True, eq=False)
class Lighter:
    """A lighter mesh, and which of its faces each given one (m,) belongs to: to exactly one.

    Each face of ``mesh`` stands for one given face at least. No point of it is farther than
    ``off_mm`` from the surface that was given.
    """

    mesh: Mesh
    face_of: Ints
    off_mm: float

    @cached_property
    def _by_face(self) -> tuple[Ints, Ints]:
        """The given faces, sorted by the face that they belong to, and where each of those begins.

        Sorted in the order in which they were given, within each.
        """
        order = np.argsort(self.face_of, kind="stable")
        return order, np.searchsorted(self.face_of[order], np.arange(len(self.mesh.faces)))

    def gathered(self, values: npt.NDArray[Any], how: np.ufunc) -> npt.NDArray[Any]:
        """Return one value (k,) for each face from those (m,) of what it stands for.

        Parameters
        ----------
        values : ndarray, shape (m,)
        how : numpy.ufunc
            Of two values, as ``np.maximum``.

        Examples
        --------
        >>> wedge = Mesh([[0, 0, 0], [1, 0, 0], [0, 1, 0]], [[0, 1, 2]])
        >>> Lighter(wedge, np.array([0, 0, 0]), 0.0).gathered(np.array([2, 5, 3]), np.maximum)
        array([5])
        """
        order, starts = self._by_face
        gathered: npt.NDArray[Any] = how.reduceat(values[order], starts)
        return gathered


def lighter(mesh: Mesh, most_faces: int) -> Lighter:
    """Return a mesh with no more triangles than wanted, as fine as that allows.

    A mesh that has no more, or that no grid makes lighter, is returned as it is.

    Parameters
    ----------
    mesh : Mesh
        In mm, open or closed.
    most_faces : int

    Returns
    -------
    Lighter

    References
    ----------
    .. [1] Rossignac, Borrel: Multi-resolution 3D approximations for rendering complex scenes, 1993.

    Examples
    --------
    >>> corners = [[0, 0, 0], [30, 0, 0], [30, 30, 0], [0, 30, 0], [29, 30, 0]]
    >>> found = lighter(Mesh(corners, [[0, 1, 2], [0, 2, 4], [0, 4, 3]]), 2)
    >>> len(found.mesh.faces), found.face_of.tolist(), found.off_mm
    (2, [0, 1, 1], 0.5)
    """
    own = Lighter(mesh, locked(np.arange(len(mesh.faces)), np.int64), 0.0)
    if len(mesh.faces) <= most_faces:
        return own
    used = np.zeros(len(mesh.vertices), dtype=bool)
    used[mesh.faces] = True
    vertices, faces = mesh.vertices[used], (np.cumsum(used) - 1)[mesh.faces]
    cells = _cells(vertices, faces, most_faces, _first_cell_mm(mesh, most_faces))
    return own if cells is None else _merged(mesh, vertices, cells[faces], cells)


def _first_cell_mm(mesh: Mesh, most_faces: int) -> float:
    area_mm2 = float(np.linalg.norm(mesh.vectors_mm2, axis=1).sum())
    return float(np.sqrt(FACES_PER_CELL * area_mm2 / most_faces))


def _cells(vertices: Floats, faces: Ints, most_faces: int, cell_mm: float) -> Ints | None:
    """Return the cell (n,) of each vertex, numbered from 0, or None where no grid will do."""
    best, most = None, 0
    for _ in range(CELL_ROUNDS):
        cells = _in_grid(vertices, cell_mm)
        count = int(np.count_nonzero(_is_whole(cells[faces])))
        if most < count <= most_faces:
            best, most = cells, count
        if ENOUGH_SHARE * most_faces <= count <= most_faces:
            break
        cell_mm *= float(np.sqrt(max(count, 1) / (AIM_SHARE * most_faces)))
    return best


def _in_grid(vertices: Floats, cell_mm: float) -> Ints:
    """Return the cell of each vertex in a grid with that side, numbered from 0."""
    x, y, z = np.floor((vertices - vertices.min(axis=0)) / cell_mm).astype(np.int64).T
    columns = np.unique(x * (y.max() + 1) + y, return_inverse=True)[1].reshape(-1)
    cells: Ints = np.unique(columns * (z.max() + 1) + z, return_inverse=True)[1].reshape(-1)
    return cells


def _is_whole(faces: Ints) -> Bools:
    """Tell which triangles (m,) have three different corners."""
    a, b, c = faces.T
    whole: Bools = (a != b) & (b != c) & (c != a)
    return whole


def _merged(mesh: Mesh, vertices: Floats, faces: Ints, cells: Ints) -> Lighter:
    """Return the mesh through the cells' means: ``faces`` are the given ones by cell."""
    whole, count = _is_whole(faces), int(cells.max()) + 1
    means = np.column_stack([np.bincount(cells, one) for one in vertices.T])
    means /= np.bincount(cells)[:, None]
    off_mm = float(np.linalg.norm(vertices - means[cells], axis=1).max())
    first, number = _different(faces[whole], count)
    left, corners = np.unique(faces[whole][first], return_inverse=True)
    made = Mesh(means[left], corners.reshape(-1, 3))
    face_of = np.zeros(len(faces), dtype=np.int64)
    face_of[whole] = number
    face_of[~whole] = _nearest(made, mesh, ~whole, off_mm)
    return Lighter(made, locked(face_of, np.int64), off_mm)


def _different(faces: Ints, count: int) -> tuple[Ints, Ints]:
    """Return the first of all equal triangles, and of each triangle (m,) the number among them.

    Equal are those with the same corners, turned the same way round.
    """
    rows, low = np.arange(len(faces)), faces.argmin(axis=1)
    a, b, c = (faces[rows, (low + k) % 3] for k in range(3))
    pairs = np.unique(a * count + b, return_inverse=True)[1].reshape(-1)
    _, first, number = np.unique(pairs * count + c, return_index=True, return_inverse=True)
    return first, number.reshape(-1)


def _nearest(made: Mesh, mesh: Mesh, chosen: Bools, reach_mm: float) -> Ints:
    """Return the face of the lighter mesh nearest to each chosen given one.

    Middles are compared a step out along the normal: the two sides of a thin wall are apart then.
    """
    tree = cKDTree(_lifted(made.corners, made.vectors_mm2, reach_mm))
    found: Ints = tree.query(_lifted(mesh.corners[chosen], mesh.vectors_mm2[chosen], reach_mm))[1]
    return found


def _lifted(corners: Floats, vectors: Floats, step_mm: float) -> Floats:
    lengths = np.linalg.norm(vectors, axis=1, keepdims=True)
    normals = np.divide(vectors, lengths, out=np.zeros_like(vectors), where=lengths > 0.0)
    lifted: Floats = corners.mean(axis=1) + step_mm * normals
    return lifted
