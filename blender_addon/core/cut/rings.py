"""The rings of rubber round the piece, and what of the piece has to pass each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import BESIDE_MM
from ..geometry.girth import band_mm
from ..geometry.level_tree import LevelTree
from ..geometry.winding import winding_number

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ..arrays import Bools, Floats, Ints
    from ..geometry.mesh import Mesh
    from ..geometry.plane_cuts import PlaneCuts


@dataclass(frozen=True, eq=False)
class Rings:
    """Rings of rubber, a row each (n,), from below; at one height there may be several.

    ``ring_mm`` is the girth by the convex hull, ``contour_mm`` the same along the true line of the
    surface, ``passing_mm`` the widest girth of the piece that has to pass, ``at_mm`` (n, 2) the
    middle of the ring in plan. ``level`` numbers the heights that were asked for.
    """

    level: Ints
    ring_mm: Floats
    contour_mm: Floats
    passing_mm: Floats
    at_mm: Floats

    @property
    def stretch(self) -> Floats:
        """How far each ring has to stretch: girth that passes / girth there - 1."""
        stretch: Floats = self.passing_mm / self.ring_mm - 1.0
        return stretch

    def chosen(self, rows: Bools) -> Rings:
        """Return some of the rings."""
        return Rings(
            self.level[rows], self.ring_mm[rows], self.contour_mm[rows], self.passing_mm[rows],
            self.at_mm[rows],
        )  # fmt: skip


def rings_of(mesh: Mesh, heights_mm: Floats, cuts: PlaneCuts, foot_mm: float) -> Rings:
    """Return the rings at each height of a piece that leaves downward.

    A ring closes round what goes on down to the foot, and round nothing that only hangs there: an
    arm or a brim is no neck, and the stem within a hollow brim is one. Legs and handles count as
    one, for the web between them is cut as well. What has to pass is all that hangs together with
    the ring's part of the piece above it.

    Girths are those of the convex hull: a band that is pulled over a hollow spans it, and the
    rubber outside the hollows, which has to stretch, is no longer than the band.

    Parameters
    ----------
    mesh : Mesh
        Closed.
    heights_mm : ndarray, shape (k,)
        Ascending.
    cuts : PlaneCuts
        Of the mesh at these heights.
    foot_mm : float
        What reaches below this height goes down to the foot.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> from blender_addon.core.geometry.plane_cuts import level_cuts
    >>> corners = [[0, 0, 0], [4, 0, 0], [0, 4, 0], [0, 0, 4]]
    >>> wedge = Mesh(corners, [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])
    >>> at = np.array([2.0])
    >>> rings_of(wedge, at, level_cuts(wedge, at), 0.5).ring_mm.round(3).tolist()
    [6.828]
    """
    order = np.argsort(cuts.plane, kind="stable")
    starts = np.searchsorted(cuts.plane[order], np.arange(len(heights_mm) + 1))
    corners, number = mesh.faces[cuts.face], np.arange(len(cuts.face))
    corner_z = mesh.vertices[corners, 2]
    lower = corners[number, corner_z.argmin(axis=1)]
    upper = corners[number, corner_z.argmax(axis=1)]
    tree = LevelTree(mesh, heights_mm)
    goes_down = _going_down(tree, order, starts, lower, mesh.vertices[:, 2] <= foot_mm)
    rows: list[tuple[int, float, float, float, float, float]] = []
    widest: dict[int, float] = {}
    for level, chosen in _planes(tree.downward(), order, starts, up=False):
        nodes = tree.node[upper[chosen]]
        part = _one_for_each_solid(tree, tree.parts(nodes), cuts.ends_mm[chosen])
        widest = _merged(widest, tree)
        ends, held = cuts.ends_mm[chosen], goes_down[chosen]
        rows += [(level, *row) for row in _rings_at(ends, part, held, widest)]
    table = np.array(rows[::-1], dtype=np.float64).reshape(-1, 6)
    level, ring, contour, passing = table[:, :4].T
    return Rings(level.astype(np.int64), ring, contour, passing, table[:, 4:])


def _planes(
    joints: tuple[LevelTree, Ints, Ints], order: Ints, starts: Ints, *, up: bool
) -> Iterator[tuple[int, Ints]]:
    """Yield each plane's number and segments, with the tree joined as far as that plane."""
    tree, pairs, slab = joints
    count = len(starts) - 1
    levels = np.arange(count)
    if up:
        done = np.searchsorted(slab, levels, side="right")
    else:
        levels = levels[::-1]
        done = np.searchsorted(-slab, -levels - 1, side="right")
    before = 0
    for level, last in zip(levels.tolist(), done.tolist(), strict=True):
        tree.join(pairs[before:last])
        before = last
        yield level, order[starts[level] : starts[level + 1]]


def _going_down(tree: LevelTree, order: Ints, starts: Ints, lower: Ints, foot: Bools) -> Bools:
    """Return whether what lies below each segment hangs together with the foot."""
    down = np.zeros(len(lower), dtype=np.bool_)
    if not foot.any():
        return down
    joints = tree.upward()
    feet = np.unique(tree.node[foot])
    tree.join(np.column_stack([np.full(len(feet), feet[0]), feet]))
    for _, chosen in _planes(joints, order, starts, up=True):
        down[chosen] = tree.parts(tree.node[lower[chosen]]) == tree.find(int(feet[0]))
    return down


def _one_for_each_solid(tree: LevelTree, part: Ints, ends: Floats) -> Ints:
    """Join the parts of a surface that bound the same solid in a plane, as a brim's two sides do.

    Just inside of one there is solid of the other.
    """
    names, first = np.unique(part, return_index=True)
    if len(names) < 2:
        return part
    along = ends[first, 1] - ends[first, 0]
    inside = (
        ends[first].mean(axis=1)
        + BESIDE_MM
        * np.column_stack([-along[:, 1], along[:, 0]])
        / (np.maximum(np.linalg.norm(along, axis=1), BESIDE_MM)[:, None])
    )
    pairs = []
    for name in names.tolist():
        own = ends[part == name]
        low, high = own[:, 0].min(axis=0), own[:, 0].max(axis=0)
        near = ((inside > low) & (inside < high)).all(axis=1) & (names != name)
        pairs += [
            (name, int(names[other]))
            for other in np.flatnonzero(near).tolist()
            if winding_number(own, inside[other])
        ]
    if pairs:
        tree.join(np.array(pairs))
    return tree.parts(part)


def _merged(widest: dict[int, float], tree: LevelTree) -> dict[int, float]:
    merged: dict[int, float] = {}
    for part, girth in widest.items():
        whole = tree.find(part)
        merged[whole] = max(girth, merged.get(whole, 0.0))
    return merged


def _rings_at(
    ends: Floats, part: Ints, goes_down: Bools, widest: dict[int, float]
) -> Iterator[tuple[float, float, float, float, float]]:
    """Yield ring, contour, what passes and the ring's middle, of each part; note its girth."""
    for one in np.unique(part).tolist():
        own = part == one
        girth = band_mm(ends[own, 0])
        widest[one] = max(girth, widest.get(one, 0.0))
        held = own & goes_down
        if held.any():
            ring = girth if held.sum() == own.sum() else band_mm(ends[held, 0])
            contour = float(np.linalg.norm(ends[held, 1] - ends[held, 0], axis=1).sum())
            low, high = ends[held, 0].min(axis=0), ends[held, 0].max(axis=0)
            if ring > 0.0:
                x, y = ((low + high) / 2.0).tolist()
                yield ring, contour, widest[one], x, y
