"""Soft shapes as fields: negative inside, near the distance in mm outside; points are (n, 3)."""

from __future__ import annotations

import numpy as np


def ball(at, center, radius):
    """Return the field of a ball."""
    return np.linalg.norm(at - np.asarray(center, float), axis=1) - radius


def egg(at, center, radii):
    """Return the field of an ellipsoid; scaled so that it is true to distance near its surface."""
    radii = np.asarray(radii, float)
    scaled = (at - np.asarray(center, float)) / radii
    length = np.linalg.norm(scaled, axis=1)
    slope = np.linalg.norm(scaled / radii, axis=1)
    return length * (length - 1.0) / np.maximum(slope, 1e-9)


def rod(at, start, end, start_radius, end_radius):
    """Return the field of a round bar whose radius goes evenly from one end to the other."""
    start, end = np.asarray(start, float), np.asarray(end, float)
    along = end - start
    share = np.clip((at - start) @ along / (along @ along), 0.0, 1.0)
    axis_distance = np.linalg.norm(at - start - share[:, None] * along, axis=1)
    return axis_distance - (start_radius + share * (end_radius - start_radius))


def ring(at, center, axis, ring_radius, tube_radius):
    """Return the field of a torus about an axis (unit length) through its center."""
    offset = at - np.asarray(center, float)
    height = offset @ np.asarray(axis, float)
    flat = np.sqrt(np.maximum((offset**2).sum(axis=1) - height**2, 0.0))
    return np.hypot(flat - ring_radius, height) - tube_radius


def drum(at, low_radius, high_radius, top, rounding):
    """Return the field of a tapering drum about z, from far below up to ``top``, edge rounded."""
    share = np.clip(at[:, 2] / top, 0.0, 1.0)
    side = np.hypot(at[:, 0], at[:, 1]) - (low_radius + share * (high_radius - low_radius))
    side, cap = side + rounding, at[:, 2] - top + rounding
    outside = np.hypot(np.maximum(side, 0.0), np.maximum(cap, 0.0))
    return outside + np.minimum(np.maximum(side, cap), 0.0) - rounding


def joined(first, second, width):
    """Return two fields pressed together, the seam smoothed over ``width`` mm."""
    share = np.maximum(width - np.abs(first - second), 0.0) / width
    return np.minimum(first, second) - share**2 * width / 4.0


def cut_away(field, tool, width):
    """Return a field with another taken away, the edge rounded over ``width`` mm."""
    return -joined(-field, tool, width)


def spread_points(count):
    """Return ``count`` directions spread evenly over the sphere, shape (count, 3)."""
    rank = np.arange(count) + 0.5
    height, turn = 1.0 - 2.0 * rank / count, np.pi * (1.0 + 5.0**0.5) * rank
    flat = np.sqrt(1.0 - height**2)
    return np.column_stack([flat * np.cos(turn), flat * np.sin(turn), height])


def bump(distance, radius):
    """Return 1 in the middle of a bump, 0 from its radius on, smooth in between."""
    return np.maximum(1.0 - (distance / radius) ** 2, 0.0) ** 2
