"""Three garden ornaments as a potter might model them: fields in mm, upright, standing on z = 0.

Each front looks to -y or +x. Below z = 0 the fields go on, so that the base comes out open.
"""

from __future__ import annotations

import numpy as np
from clay import ball, bump, cut_away, drum, egg, joined, ring, rod, spread_points
from scipy.spatial import cKDTree


def tool_marks(at, depth, length):
    """Return what fingers and tools leave on clay: shallow waves of about ``length`` mm."""
    ways = spread_points(7) * 2 * np.pi / length
    return depth * np.sin(at @ ways.T + np.arange(7.0)).sum(axis=1) / 7.0**0.5


def toadstool(at):
    """Return a toadstool house: a brim that overhangs all round, and a young one beside it."""
    stem = rod(at, (0, 0, -10), (4, 2, 86), 30.0, 19.0)
    front = at[:, 1] < 0
    arch = np.hypot(at[:, 0], np.maximum(at[:, 2] - 28.0, 0.0)) - 11.0
    frame = bump(arch, 3.2) * 3.0
    planks = 0.9 * bump(np.abs(at[:, 0]) - 3.4, 1.0) * (arch < 0)
    porthole = np.hypot(at[:, 0] - 2.0, at[:, 2] - 57.0) - 7.0
    frame = np.maximum(frame, bump(porthole, 2.6) * 2.6)
    sunk = 1.8 * ((arch < -1) | (porthole < -1)) + planks
    stem = stem + np.where(front, sunk - frame, 0.0)
    stem = joined(stem, ball(at, (6.0, -25.4, 22.0), 2.6), 2.0)
    stem = joined(stem, ring(at, (3.4, 1.6, 71), (0, 0, 1), 19.5, 2.6), 2.0)

    middle, radii = np.array([6.0, 3, 80]), np.array([65.0, 63, 66])
    cap = egg(at, middle, radii)
    cap = cut_away(cap, egg(at, (5, 3, 70), (56, 54, 26)), 6.0)
    spots = spread_points(40)
    spots = spots[spots[:, 2] > 0.2]
    sizes = 8.0 + 5.0 * np.abs(np.sin(7.0 * np.arange(len(spots))))
    out = (at - middle) / radii
    out /= np.maximum(np.linalg.norm(out, axis=1), 1e-9)[:, None]
    reach, nearest = cKDTree(spots).query(out)
    disc = np.clip((sizes[nearest] - reach * 64.0) / 3.0, 0.0, 1.0)
    cap = cap - 2.6 * disc * (2.0 - disc)
    cap = cut_away(cap, at[:, 2] - 74.0, 3.0)
    house = joined(stem, cap, 5.0)

    young = rod(at, (-36, -22, 0), (-50, -27, 42), 11.0, 7.0)
    hat = egg(at, (-51, -27, 44), (23, 22, 23))
    hat = np.maximum(cut_away(hat, egg(at, (-50.5, -27, 37), (18, 17, 10)), 3.0), 37.0 - at[:, 2])
    mound = egg(at, (-6, -2, -6), (62, 50, 20))
    both = joined(joined(house, joined(young, hat, 3.0), 1.5), mound, 9.0)
    return both + tool_marks(at, 0.18, 17.0)


def _robin(at):
    body = joined(egg(at, (8, 0, 96), (17, 13, 15)), ball(at, (20, 0, 112), 10.5), 9.0)
    body = joined(body, rod(at, (28, 0, 112), (38, 0, 110), 3.8, 1.3), 2.5)
    tail = rod(at, (-4, 0, 95), (-27, 0, 102), 6.0, 3.0)
    body = joined(body, tail, 7.0)
    for side in (-1.0, 1.0):
        wing = joined(egg(at, (4, 12 * side, 97), (14, 4, 8)), body, 2.5)
        body = joined(wing, ball(at, (25, 6.6 * side, 115), 2.4), 0.8)
    return body


def watering_can(at):
    """Return a watering can with a robin on it: the handle is a true through-hole."""
    can = drum(at, 43.0, 36.0, 78.0, 4.0)
    can = joined(can, ring(at, (0, 0, 76), (0, 0, 1), 35.5, 3.6), 2.0)
    for height, radius in ((18.0, 41.2), (58.0, 37.6)):
        can = joined(can, ring(at, (0, 0, height), (0, 0, 1), radius, 1.9), 1.5)
    soil = egg(at, (0, 0, 74), (33, 33, 11)) + tool_marks(at, 0.5, 9.0)
    can = joined(can, soil, 2.0)
    spout = rod(at, (32, 0, 20), (84, 0, 84), 11.5, 6.5)
    rose = rod(at, (82, 0, 81.5), (90, 0, 91.5), 6.0, 15.0)
    across = at - (91, 0, 92.5)
    along = across @ (np.array([8.0, 0, 10.0]) / 164**0.5)
    rose = cut_away(rose, 1.5 - along, 2.5)
    side, up = across[:, 1], across @ (np.array([-10.0, 0, 8.0]) / 164**0.5)
    for turn in np.arange(6) * np.pi / 3:
        dot = np.hypot(side - 7.0 * np.cos(turn), up - 7.0 * np.sin(turn))
        rose = rose + 1.3 * bump(dot, 2.4) * (along > -2.0)
    can = joined(joined(can, spout, 7.0), rose, 3.0)
    handle = ring(at, (-45, 0, 46), (0, 1, 0), 25.0, 6.0)
    can = joined(can, handle, 6.0)
    return joined(can, _robin(at), 3.0) + tool_marks(at, 0.15, 15.0)


def hedgehog(at):
    """Return a squat hedgehog that carries an apple: wide, low, with a coat of blunt spines."""
    center, radii = np.array([-6.0, 0, 24]), np.array([66.0, 52, 46])
    out = (at - center) / radii
    out /= np.maximum(np.linalg.norm(out, axis=1), 1e-9)[:, None]
    spines = spread_points(330)
    reach, _ = cKDTree(spines).query(out)
    coat = np.clip((0.52 - out[:, 0] + 0.25 * out[:, 2]) * 6.0, 0, 1)
    coat *= np.clip((out[:, 2] + 0.30) * 6.0, 0, 1)
    body = egg(at, center, radii) - 6.5 * coat * np.maximum(1.0 - reach / 0.105, 0.0)
    face = rod(at, (40, 0, 22), (84, 0, 17), 27.0, 7.5)
    body = joined(body, face, 10.0)
    body = joined(body, ball(at, (91, 0, 19), 6.2), 1.5)
    for side in (-1.0, 1.0):
        body = joined(body, ball(at, (70, 12.5 * side, 31), 4.2), 1.0)
        ear = cut_away(
            egg(at, (42, 25 * side, 50), (6, 9, 10)), ball(at, (50, 27 * side, 51), 7.0), 2.0
        )
        body = joined(body, ear, 3.0)
        for foot in (44.0, -40.0):
            body = joined(body, egg(at, (foot, 33 * side, 3), (17, 12, 9)), 4.0)
    apple = egg(at, (-8, 0, 84), (17, 17, 15))
    apple = apple + 5.0 * bump(np.hypot(at[:, 0] + 8, at[:, 1]), 9.0) * (at[:, 2] > 84)
    apple = joined(apple, rod(at, (-8, 0, 92), (-4, 2, 104), 1.8, 2.6), 2.0)
    leaf = egg(at, (5, 6, 104), (11, 6, 2.8))
    return joined(joined(body, joined(apple, leaf, 1.5), 2.0), apple, 0.5) + tool_marks(
        at, 0.15, 14.0
    )
