"""The best place for a master in a round bore, found by trying: a judge that shares no code.

How wide the drop about a point can be, over all places of the axis, changes by no more than the
point moves. So a square about a tried point holds nothing better than that point's width and half
its diagonal: squares that cannot beat the best are dropped, the others are cut into four, until
what they might still hold is next to nothing. The shadow comes from a general library.
"""

from __future__ import annotations

import numpy as np
import shapely


def shadow(mesh):
    """Return the plan of a mesh as the union of all its triangles."""
    corners = mesh.corners[:, :, :2]
    side, other = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    flat = np.abs(side[:, 0] * other[:, 1] - side[:, 1] * other[:, 0]) < 1e-9
    joined = shapely.unary_union(shapely.polygons(corners[~flat]))
    return shapely.buffer(joined, 0.0)  # whatever is no area goes


def outside(shape):
    """Return a shadow with its holes filled: no stream is poured into a hole."""
    parts = shapely.get_parts(shape)
    return shapely.unary_union([shapely.Polygon(one.exterior) for one in parts])


def room_for_axis(shape, reach_mm):
    """Return where the axis may pass: no farther from any corner of the hull than a reach."""
    corners = np.asarray(shapely.convex_hull(shape).exterior.coords)[:-1]
    discs = shapely.buffer(shapely.points(corners), reach_mm, quad_segs=256)
    return shapely.intersection_all(discs)


def widest_drop_mm(shape, bore_mm, least_mm, within_mm=0.01):
    """Return the width of the widest drop, at the most ``within_mm`` too small.

    Parameters
    ----------
    shape : shapely geometry
        The shadow.
    bore_mm, least_mm : float
        Radius of the bore, and rubber left at the least.
    within_mm : float
        How much may be missed.
    """
    room = room_for_axis(shape, bore_mm - least_mm)
    filled = outside(shape)
    shapely.prepare(filled)
    low, high = np.array(shapely.bounds(room)).reshape(2, 2)
    half = (high - low).max() / 2 + bore_mm
    spots, best = ((low + high) / 2)[None], 0.0
    while half * np.sqrt(2) > within_mm / 2:
        quarter = half / 2 * np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)])
        spots = (spots[:, None] + quarter).reshape(-1, 2)
        half /= 2
        points = shapely.points(spots)
        clear = shapely.distance(filled, points)
        radius = np.minimum(clear, bore_mm - shapely.distance(room, points))
        best = max(best, radius.max())
        spots = spots[radius + half * np.sqrt(2) > best]
    return 2 * best


def widest_drop_with_cut_mm(shape, bore_mm, least_mm, cut_mm, seed=0):
    """Return about the width of the widest drop whose back has enough rubber, never too much.

    Tried are axes and directions of the back all over, then the best of them are shaken by ever
    less. On the way from the axis to the back the drop may stand anywhere.
    """
    random = np.random.default_rng(seed)
    filled = outside(shape)
    shapely.prepare(filled)
    corners = np.asarray(shapely.convex_hull(shape).exterior.coords)[:-1]
    low, high = np.array(shapely.bounds(room_for_axis(shape, bore_mm - least_mm))).reshape(2, 2)

    def clear(points):
        return shapely.distance(filled, shapely.points(points))

    def width(tried):
        """Return the width (n,) of rows of axis x, y, angle and share of the way to the back."""
        axis, share = tried[:, :2], np.clip(tried[:, 3], 0, 1)
        way = np.column_stack([np.cos(tried[:, 2]), np.sin(tried[:, 2])])
        radius = np.minimum(clear(axis + (share * bore_mm)[:, None] * way), bore_mm * (1 - share))
        far = np.linalg.norm(axis[:, None] - corners, axis=2).max(axis=1)
        good = (far <= bore_mm - least_mm) & (clear(axis + bore_mm * way) >= cut_mm)
        return np.where(good, 2 * radius, -1.0)

    count = 60_000
    spans = np.array([*(high - low), 2 * np.pi, 1.0])
    tried = np.array([*low, 0, 0]) + random.random((count, 4)) * spans
    best = tried[np.argsort(width(tried))[-40:]]
    step = 0.1 * spans
    while step[0] > 1e-3:
        shaken = np.vstack(
            [best, (best[:, None] + step * random.normal(size=(40, 40, 4))).reshape(-1, 4)]
        )
        found = width(shaken)
        best, step = shaken[np.argsort(found)[-40:]], 0.7 * step
    return float(width(best).max())
