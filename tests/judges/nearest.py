"""The nearest places of a surface, by general libraries. Nothing here knows the add-on."""

from __future__ import annotations

import numpy as np
import trimesh
from scipy.spatial import cKDTree


def nearest(vertices, faces, points, tried=24):
    """Return for each point the face that is nearest and how far it is.

    Parameters
    ----------
    tried : int
        Faces, by their middles, that are measured for each point.
    """
    corners = np.asarray(vertices, float)[np.asarray(faces)]
    points = np.asarray(points, float)
    tried = min(tried, len(corners))
    _, found = cKDTree(corners.mean(axis=1)).query(points, k=tried)
    found = found.reshape(len(points), tried)
    every = np.repeat(points, tried, axis=0)
    spots = trimesh.triangles.closest_point(corners[found.ravel()], every)
    off = np.linalg.norm(spots - every, axis=1).reshape(len(points), tried)
    best = off.argmin(axis=1)
    rows = np.arange(len(points))
    return found[rows, best], off[rows, best]
