"""The one door to manifold3d, the library that adds, subtracts and slices solids."""

from __future__ import annotations

from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary

import manifold3d
import numpy as np

from ..errors import UnusableMeshError
from .mesh import Mesh

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..arrays import Floats


def to_solid(mesh: Mesh) -> manifold3d.Manifold:
    """Return the library's solid of a closed mesh; double precision, vertices as they are.

    Raises
    ------
    UnusableMeshError
        If it is not a closed manifold.
    """
    tri = np.array(mesh.faces, dtype=np.uint64)  # copies: the library takes no locked arrays
    given = manifold3d.Mesh64(vert_properties=np.array(mesh.vertices), tri_verts=tri)
    solid = manifold3d.Manifold(given)
    if solid.status() != manifold3d.Error.NoError:
        message = f"The surface is not one closed manifold ({solid.status().name})."
        raise UnusableMeshError(message)
    return solid


_SOLIDS: WeakKeyDictionary[Mesh, manifold3d.Manifold] = WeakKeyDictionary()


def solid_of(mesh: Mesh) -> manifold3d.Manifold:
    """Return `to_solid` of a mesh, the very same again for as long as the mesh is held.

    For a scan, of which several stages want it: it takes seconds to make.

    Raises
    ------
    UnusableMeshError
        If it is not a closed manifold.

    Examples
    --------
    >>> wedge = Mesh([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]],
    ...              [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])
    >>> solid_of(wedge) is solid_of(wedge), solid_of(wedge) is solid_of(wedge.moved(np.eye(4)))
    (True, False)
    """
    if mesh not in _SOLIDS:
        _SOLIDS[mesh] = to_solid(mesh)
    return _SOLIDS[mesh]


def to_mesh(solid: manifold3d.Manifold) -> Mesh:
    """Return the triangles of a solid."""
    out = solid.to_mesh64()
    return Mesh(np.array(out.vert_properties)[:, :3], np.array(out.tri_verts))


def prism(outlines: Sequence[Floats], low_mm: float, high_mm: float) -> manifold3d.Manifold:
    """Return the upright solid over closed outlines (k, 2), outer ones counter-clockwise."""
    section = manifold3d.CrossSection(
        [np.array(outline) for outline in outlines], manifold3d.FillRule.Positive
    )
    return section.extrude(high_mm - low_mm).translate((0.0, 0.0, low_mm))


def first_outline(section: manifold3d.CrossSection) -> Floats:
    """Return the outline (k, 2) of a section of one piece; (0, 2) where it is empty."""
    outlines = section.to_polygons()
    return np.array(outlines[0], dtype=np.float64) if outlines else np.zeros((0, 2))
