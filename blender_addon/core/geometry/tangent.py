"""Discs that touch a bore from inside at one point and grow until they meet a shadow."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from ..arrays import Floats

_ENDLESS = 1e-12


def tangent_radii_at_points_mm(walls: Floats, backs: Floats, points: Floats) -> Floats:
    """Return the radius of the disc at each wall point (n, 2) as it meets the first point (k, 2).

    The disc touches the bore at w, where the unit vector b points out; its middle is w - r b. It
    meets p where |w - r b - p| = r, so r = |w - p|^2 / (2 b (w - p)).

    Examples
    --------
    >>> wall, back = np.array([[0.0, 10.0]]), np.array([[0.0, 1.0]])
    >>> tangent_radii_at_points_mm(wall, back, np.array([[0.0, 4.0], [9.0, 9.0]]))
    array([3.])
    """
    x = walls[:, 0, None] - points[:, 0]  # not as a product: of two columns it is slower
    y = walls[:, 1, None] - points[:, 1]
    away = np.maximum(backs[:, 0, None] * x + backs[:, 1, None] * y, 0.0)
    with np.errstate(divide="ignore"):
        radii = (x * x + y * y) / (2.0 * away)
    nearest: Floats = radii.min(axis=1)
    return nearest


def tangent_radii_mm(walls: Floats, backs: Floats, edges: Floats) -> Floats:
    """Return the radius of the disc at each wall point (n, 2) as it meets the first edge (k, 2, 2).

    It meets an edge's line at height h over it, seen from w, with the normal m towards w, where
    h - r (m b) = r, so r = h / (1 + m b), if the foot of its middle lies on the edge; else it meets
    an end first.

    Examples
    --------
    >>> wall, back = np.array([[0.0, 10.0]]), np.array([[0.0, 1.0]])
    >>> tangent_radii_mm(wall, back, np.array([[[-5.0, 4.0], [5.0, 4.0]]]))
    array([3.])
    """
    ends = tangent_radii_at_points_mm(walls, backs, edges.reshape(-1, 2))
    start, along = edges[:, 0], edges[:, 1] - edges[:, 0]
    length = np.maximum(np.linalg.norm(along, axis=1), np.finfo(float).tiny)
    along = along / length[:, None]
    x = walls[:, 0, None] - start[:, 0]
    y = walls[:, 1, None] - start[:, 1]
    height = x * along[:, 1] - y * along[:, 0]
    slope = backs[:, 0, None] * along[:, 1] - backs[:, 1, None] * along[:, 0]
    radius = np.abs(height) / np.maximum(1.0 + np.sign(height) * slope, _ENDLESS)
    foot = x * along[:, 0] + y * along[:, 1] - radius * (backs @ along.T)
    on = (foot >= 0.0) & (foot <= length)
    nearest: Floats = np.minimum(ends, np.where(on, radius, np.inf).min(axis=1))
    return nearest
