"""A triangle mesh: two locked arrays, nothing else."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from ..arrays import Floats, Ints, locked
from ..errors import UnusableMeshError
from .edges import Edges, edges_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy.typing as npt


@dataclass(frozen=True, eq=False)
class Mesh:
    """Corners in mm and the triangles between them, counter-clockwise seen from outside.

    Parameters
    ----------
    vertices : array_like, shape (n, 3)
        Locked as float64.
    faces : array_like, shape (m, 3)
        Vertex numbers, locked as int64.

    Raises
    ------
    UnusableMeshError
        If the shapes are wrong, a coordinate is not a finite number or a face names no vertex.

    Examples
    --------
    >>> wedge = Mesh([[0, 0, 0], [1, 0, 0], [0, 1, 0]], [[0, 1, 2]])
    >>> wedge.corners.shape
    (1, 3, 3)
    """

    vertices: Floats
    faces: Ints

    def __post_init__(self) -> None:
        vertices = locked(self.vertices, np.float64)
        faces = locked(self.faces, np.int64)
        if vertices.ndim != 2 or vertices.shape[1] != 3 or faces.ndim != 2 or faces.shape[1] != 3:
            raise UnusableMeshError(
                "The mesh has no triangles. Export it again as a triangle mesh."
            )
        if bad := int(np.count_nonzero(~np.isfinite(vertices).all(axis=1))):
            message = (
                f"{bad} of {len(vertices)} vertices have no finite position. Export the scan again."
            )
            raise UnusableMeshError(message)
        if faces.size and (faces.min() < 0 or faces.max() >= len(vertices)):
            raise UnusableMeshError(
                "A triangle names a vertex that is not there. Export the scan again."
            )
        object.__setattr__(self, "vertices", vertices)
        object.__setattr__(self, "faces", faces)

    def __getstate__(self) -> dict[str, Floats | Ints]:
        """Leave out what is counted from the two arrays when sent to another process.

        That is several times as large, and there it is seldom asked for.

        Examples
        --------
        >>> wedge = Mesh([[0, 0, 0], [1, 0, 0], [0, 1, 0]], [[0, 1, 2]])
        >>> len(wedge.edges.ends), sorted(wedge.__getstate__())
        (3, ['faces', 'vertices'])
        """
        return {"vertices": self.vertices, "faces": self.faces}

    def __setstate__(self, state: dict[str, Floats | Ints]) -> None:
        """Lock what was sent; it is not looked through again."""
        for name, array in state.items():
            array.flags.writeable = False
            self.__dict__[name] = array

    @property
    def corners(self) -> Floats:
        """The corners of each triangle, shape (m, 3, 3)."""
        return self.vertices[self.faces]

    @cached_property
    def edges(self) -> Edges:
        """The edges, counted once: the arrays never change."""
        return edges_of(self.faces, len(self.vertices))

    @cached_property
    def vectors_mm2(self) -> Floats:
        """Each face's normal times its area, shape (m, 3)."""
        a, b, c = (self.vertices[self.faces[:, k]] for k in range(3))
        (ux, uy, uz), (vx, vy, vz) = (b - a).T, (c - a).T
        cross = np.column_stack([uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx])
        vectors: Floats = locked(cross / 2.0, np.float64)
        return vectors

    @property
    def bounds(self) -> tuple[Floats, Floats]:
        """The least and the greatest corner of the box round the vertices that are used."""
        used = np.zeros(len(self.vertices), dtype=bool)
        used[self.faces] = True
        vertices = self.vertices if used.all() else self.vertices[used]
        return vertices.min(axis=0), vertices.max(axis=0)

    def moved(self, matrix: npt.ArrayLike) -> Mesh:
        """Return the mesh under a (4, 4) matrix acting on columns; a mirror keeps outside out."""
        matrix = np.asarray(matrix, dtype=np.float64)
        vertices = self.vertices @ matrix[:3, :3].T + matrix[:3, 3]
        if np.linalg.det(matrix[:3, :3]) > 0:
            return self.with_vertices(vertices)
        return Mesh(vertices, self.faces[:, ::-1])

    def with_vertices(self, vertices: npt.ArrayLike) -> Mesh:
        """Return the same triangles on other positions."""
        moved = replace(self, vertices=np.asarray(vertices, dtype=np.float64))
        if "edges" in self.__dict__:
            moved.__dict__["edges"] = self.edges  # how triangles join does not depend on where
        return moved


def joined(meshes: Sequence[Mesh]) -> Mesh:
    """Return several meshes as one; what touches is not welded.

    Examples
    --------
    >>> wedge = Mesh([[0, 0, 0], [1, 0, 0], [0, 1, 0]], [[0, 1, 2]])
    >>> joined([wedge, wedge]).faces.tolist()
    [[0, 1, 2], [3, 4, 5]]
    """
    starts = np.cumsum([0, *(len(mesh.vertices) for mesh in meshes[:-1])])
    faces = [mesh.faces + start for mesh, start in zip(meshes, starts, strict=True)]
    return Mesh(np.vstack([mesh.vertices for mesh in meshes]), np.vstack(faces))
