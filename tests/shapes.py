"""Shapes whose numbers are known, as meshes: what the tests measure against closed forms."""

from __future__ import annotations

import itertools

import numpy as np

from blender_addon.core.geometry.mesh import Mesh


def box(size, low=(0.0, 0.0, 0.0)):
    """Return a box from ``low``, of the given three sizes."""
    corners = np.array([[x, y, z] for z in (0, 1) for y in (0, 1) for x in (0, 1)], dtype=float)
    faces = [[0, 2, 1], [1, 2, 3], [4, 5, 6], [5, 7, 6], [0, 1, 4], [1, 5, 4],
             [2, 6, 3], [3, 6, 7], [0, 4, 2], [2, 4, 6], [1, 3, 5], [3, 7, 5]]  # fmt: skip
    return Mesh(corners * np.asarray(size, float) + np.asarray(low, float), faces)


def turned(profile, segments=96):
    """Return a closed profile (k, 2) of radius and height turned about z.

    Walk the profile with the solid on its left hand (seen with r to the right, z up). Points on the
    axis become one vertex. A profile that starts and ends on the axis is closed by the axis itself;
    any other is closed from its last point to its first.
    """
    profile = np.asarray(profile, float)
    angle = 2 * np.pi * np.arange(segments) / segments
    rings, vertices = [], []
    for r, z in profile:
        start = len(vertices)
        if abs(r) < 1e-12:
            vertices.append([0.0, 0.0, z])
            rings.append(np.full(segments, start))
        else:
            vertices += [[r * np.cos(a), r * np.sin(a), z] for a in angle]
            rings.append(start + np.arange(segments))
    pairs = list(itertools.pairwise(rings))
    if not (max(abs(profile[0, 0]), abs(profile[-1, 0])) < 1e-12):
        pairs.append((rings[-1], rings[0]))
    faces = []
    for low, high in pairs:
        low_next, high_next = np.roll(low, -1), np.roll(high, -1)
        faces.append(np.column_stack([low, low_next, high_next]))
        faces.append(np.column_stack([low, high_next, high]))
    faces = np.vstack(faces)
    whole = (
        (faces[:, 0] != faces[:, 1]) & (faces[:, 1] != faces[:, 2]) & (faces[:, 0] != faces[:, 2])
    )
    return Mesh(vertices, faces[whole])


def cylinder(radius, height, segments=96, low=0.0):
    """Return an upright round bar."""
    return turned([(0, low), (radius, low), (radius, low + height), (0, low + height)], segments)


def sphere(radius, segments=192, center=(0.0, 0.0, 0.0)):
    """Return a ball of rings; its vertices lie on the sphere, so it holds a little less."""
    angle = np.linspace(-np.pi / 2, np.pi / 2, segments // 2 + 1)
    profile = np.column_stack([radius * np.cos(angle), radius * np.sin(angle)])
    profile[0, 0] = profile[-1, 0] = 0.0
    ball = turned(profile, segments)
    return ball.with_vertices(ball.vertices + np.asarray(center, float))


def torus(ring_radius, tube_radius, segments=192):
    """Return a ring about z."""
    angle = 2 * np.pi * np.arange(segments) / segments
    profile = np.column_stack(
        [ring_radius + tube_radius * np.cos(angle), tube_radius * np.sin(angle)]
    )
    return turned(profile, segments)


def joined(*meshes):
    """Return several meshes as one, without joining them."""
    starts = np.cumsum([0] + [len(mesh.vertices) for mesh in meshes[:-1]])
    vertices = np.vstack([mesh.vertices for mesh in meshes])
    return Mesh(vertices, np.vstack([m.faces + s for m, s in zip(meshes, starts, strict=True)]))


def cup(radius, depth, wall=5.0, segments=256):
    """Return a cup with its mouth down at z = 0."""
    outer = radius + wall
    return turned(
        [(radius, 0), (outer, 0), (outer, depth + wall), (0, depth + wall), (0, depth),
         (radius, depth)],
        segments,
    )  # fmt: skip


def dome(radius, half_angle_deg, wall=5.0, segments=256, rings=128):
    """Return part of a hollow ball with its mouth down at z = 0; 90 degrees make a hemisphere."""
    angle = np.radians(np.linspace(0.0, half_angle_deg, rings))
    lip = radius * np.cos(angle[-1])
    inner, outer = (
        np.column_stack([r * np.sin(angle), r * np.cos(angle) - lip])
        for r in (radius, radius + wall)
    )
    return turned(np.vstack([outer[::-1], inner]), segments)


def cone_recess(radius, depth, segments=256):
    """Return a block with a conical recess, its mouth down at z = 0, its tip up."""
    outer, top = radius + 8.0, depth + 8.0
    return turned([(radius, 0), (outer, 0), (outer, top), (0, top), (0, depth)], segments)


def ring_groove(ring_radius, tube_radius, segments=256, points=64):
    """Return a block with a half-round ring groove that opens downward at z = 0."""
    angle = np.linspace(0.0, np.pi, points)
    groove = np.column_stack(
        [ring_radius + tube_radius * np.cos(angle), tube_radius * np.sin(angle)]
    )[::-1]
    wide, top = ring_radius + 2.0 * tube_radius, 2.0 * tube_radius
    return turned(np.vstack([[(0, 0)], groove, [(wide, 0), (wide, top), (0, top)]]), segments)


def tilted(mesh, degrees):
    """Return the mesh with its +x side lifted: x, z becomes x cos - z sin, z cos + x sin."""
    turn = np.radians(degrees)
    cos, sin = np.cos(turn), np.sin(turn)
    return mesh.with_vertices(
        mesh.vertices @ np.array([[cos, 0, -sin], [0, 1, 0], [sin, 0, cos]]).T
    )


def spun(mesh, degrees):
    """Return the mesh turned about z."""
    turn = np.radians(degrees)
    cos, sin = np.cos(turn), np.sin(turn)
    return mesh.with_vertices(
        mesh.vertices @ np.array([[cos, -sin, 0], [sin, cos, 0], [0, 0, 1]]).T
    )


def refined(mesh):
    """Return the same surface with every triangle cut into four."""
    edges = mesh.edges
    middles = mesh.vertices[edges.ends].mean(axis=1)
    a, b, c = mesh.faces.T
    ab, bc, ca = (len(mesh.vertices) + edges.of_face).T
    quarters = [(a, ab, ca), (ab, b, bc), (ca, bc, c), (ab, bc, ca)]
    faces = np.vstack([np.column_stack(corners) for corners in quarters])
    return Mesh(np.vstack([mesh.vertices, middles]), faces)
