"""Convex outlines in plan: grown evenly, swept by a profile into a wall, filled into a plate."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..geometry.manifold import to_solid
from ..geometry.mesh import Mesh

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..arrays import Floats, Ints


def grown(outline: Floats, by_mm: float) -> Floats:
    """Return a convex outline (k, 2), counter-clockwise, with every side moved outward.

    Corners stay corners, so it keeps its number of points; every side lies exactly ``by_mm``
    further out, or inside where that is negative and no side is lost by it.

    Examples
    --------
    >>> square = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
    >>> grown(square, 0.5).tolist()
    [[-1.5, -1.5], [1.5, -1.5], [1.5, 1.5], [-1.5, 1.5]]
    """
    after = np.roll(outline, -1, axis=0) - outline
    normals = np.column_stack([after[:, 1], -after[:, 0]])
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    before = np.roll(normals, 1, axis=0)
    turn = 1.0 + np.einsum("ij,ij->i", normals, before)
    moved: Floats = outline + by_mm * (normals + before) / turn[:, None]
    return moved


def section(outline: Floats) -> manifold3d.CrossSection:
    """Return the section of a bar with this outline."""
    return manifold3d.CrossSection([np.array(outline)])


def swept(outline: Floats, profile: Sequence[tuple[float, float]]) -> manifold3d.Manifold:
    """Return a ring: a closed profile carried round a convex outline.

    Parameters
    ----------
    outline : ndarray, shape (k, 2)
        Counter-clockwise.
    profile : sequence of (float, float)
        Distance outward from the outline and height, counter-clockwise with the first to the right
        and the second up.
    """
    rows = np.array([_row(outline, *point) for point in profile])
    points, count = len(profile), len(outline)
    faces = np.vstack([_strip(j, (j + 1) % points, count) for j in range(points)])
    return to_solid(Mesh(rows.reshape(-1, 3), faces))


def filled(outline: Floats, profile: Sequence[tuple[float, float]]) -> manifold3d.Manifold:
    """Return a plate over a convex outline whose edge follows a profile from below to above."""
    rows = np.array([_row(outline, *point) for point in profile])
    count = len(outline)
    sides = [_strip(j, j + 1, count) for j in range(len(profile) - 1)]
    fan = np.column_stack([np.zeros(count - 2, int), np.arange(1, count - 1), np.arange(2, count)])
    top = fan + (len(profile) - 1) * count
    return to_solid(Mesh(rows.reshape(-1, 3), np.vstack([*sides, fan[:, ::-1], top])))


def _row(outline: Floats, out_mm: float, z_mm: float) -> Floats:
    plan = grown(outline, out_mm) if out_mm else outline
    return np.column_stack([plan, np.full(len(plan), z_mm)])


def _strip(low: int, high: int, count: int) -> Ints:
    """Return the triangles between two rows of vertices, seen from outside."""
    here = np.arange(count)
    ahead = np.roll(here, -1)
    a, b, c, d = (
        low * count + here, low * count + ahead, high * count + ahead, high * count + here,
    )  # fmt: skip
    return np.vstack([np.column_stack([a, b, c]), np.column_stack([a, c, d])])


def way_out_mm(outline: Floats, start: Floats, way: Floats) -> float:
    """Return how far it is from a point inside a convex outline to its rim along a unit vector.

    Examples
    --------
    >>> square = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
    >>> way_out_mm(square, np.zeros(2), np.array([0.6, 0.8]))
    1.25
    """
    sides = np.roll(outline, -1, axis=0) - outline
    normals = np.column_stack([sides[:, 1], -sides[:, 0]])
    speed = normals @ way
    left = np.einsum("ij,ij->i", normals, outline - start)
    return float((left[speed > 0.0] / speed[speed > 0.0]).min())
