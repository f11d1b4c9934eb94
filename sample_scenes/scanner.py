"""From a field to what a scanner hands over: noisy triangles, an open base, dust, a hole."""

from __future__ import annotations

import numpy as np
from skimage.measure import marching_cubes


def grid_values(field, low, high, pitch):
    """Return the field on a grid from ``low`` (exactly) to ``high`` or just past it."""
    axes = [np.arange(a, b + pitch, pitch) for a, b in zip(low, high, strict=True)]
    values = np.zeros([len(axis) for axis in axes])
    for number, x in enumerate(axes[0]):  # a slab at a time: the whole grid would not fit
        y, z = np.meshgrid(axes[1], axes[2], indexing="ij")
        at = np.column_stack([np.full(y.size, x), y.ravel(), z.ravel()])
        values[number] = field(at).reshape(y.shape)
    return values


def surface(field, low, high, pitch):
    """Return vertices and outward faces of a field's surface, open where it meets z = ``low``."""
    values = grid_values(field, low, high, pitch)
    vertices, faces, _, _ = marching_cubes(
        values, 0.0, spacing=(pitch,) * 3, gradient_direction="descent"
    )
    vertices = vertices.astype(np.float64) + np.asarray(low, float)
    floor = vertices[:, 2] < low[2] + 1e-6
    for _ in range(2):
        normal, value = slope(field, vertices)
        step = np.clip(value / np.maximum((normal**2).sum(axis=1), 0.05), -pitch / 3, pitch / 3)
        moved = vertices - step[:, None] * normal
        moved[floor, 2] = low[2]
        vertices = moved
    return vertices, faces.astype(np.int64)


def slope(field, at, step=0.05):
    """Return the gradient (n, 3) and the value (n,) of a field."""
    shifts = np.eye(3) * step
    pairs = [(field(at + shift) - field(at - shift)) / (2 * step) for shift in shifts]
    return np.column_stack(pairs), field(at)


def with_noise(vertices, field, rng, noise_mm):
    """Return vertices with a scanner's noise along the normal: ripples of 3 to 25 mm, fine grain.

    Between neighbours a scanner has smoothed already, so most of the noise is not grain.
    """
    normal, _ = slope(field, vertices, 0.4)
    normal /= np.maximum(np.linalg.norm(normal, axis=1), 1e-9)[:, None]
    lengths = np.geomspace(3.0, 25.0, 60)
    ways = rng.normal(size=(60, 3))
    ways *= (2 * np.pi / lengths / np.linalg.norm(ways, axis=1))[:, None]
    ripples = np.sin(vertices @ ways.T + rng.uniform(0, 7, 60)).sum(axis=1) / 30**0.5
    offset = noise_mm * ripples + rng.normal(scale=noise_mm / 10, size=len(vertices))
    return vertices + offset[:, None] * normal


def with_missed_spot(vertices, faces, near, radius):
    """Return the faces less those round a place: a spot the scanner missed."""
    middle = vertices[np.argmin(np.linalg.norm(vertices - np.asarray(near, float), axis=1))]
    missed = np.linalg.norm(vertices[faces].mean(axis=1) - middle, axis=1) < radius
    return faces[~missed]


def specks(rng, count, low, high):
    """Return loose eight-sided dust in a box: vertices and faces."""
    corners = np.vstack([np.eye(3), -np.eye(3)])
    sides = np.array(
        [[0, 1, 2], [1, 3, 2], [3, 4, 2], [4, 0, 2], [1, 0, 5], [3, 1, 5], [4, 3, 5], [0, 4, 5]]
    )
    centers = rng.uniform(low, high, (count, 3))
    sizes = rng.uniform(0.4, 1.1, (count, 1, 3))
    vertices = (corners[None] * sizes + centers[:, None]).reshape(-1, 3)
    return vertices, (sides[None] + 6 * np.arange(count)[:, None, None]).reshape(-1, 3)


def in_use(vertices, faces):
    """Return the mesh without vertices that no face names."""
    used, faces = np.unique(faces, return_inverse=True)
    return vertices[used], faces.reshape(-1, 3)
