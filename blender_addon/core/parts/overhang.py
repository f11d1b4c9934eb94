"""Does a part print without supports, as it lies: measured on the part itself."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from ..constants.parts import BED_TOUCH_MM, OVERHANG_MM2, STEEPEST_OVERHANG_DEG, THINNEST_LAYER_MM
from ..geometry.solid import face_areas_mm2

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from ..geometry.mesh import Mesh


@dataclass(frozen=True)
class Overhang:
    """What hangs over too far, and what begins in the air.

    ``steepest_deg`` is the greatest lean outward from upright of any face off the bed, 90 for a
    ceiling; ``area_mm2`` the area of those that lean more than a printer builds; ``islands`` the
    places where a layer begins on nothing.
    """

    steepest_deg: float
    area_mm2: float
    islands: int

    @property
    def prints_without_supports(self) -> bool:
        """Whether nothing hangs over too far and nothing begins in the air."""
        return self.area_mm2 <= OVERHANG_MM2 and self.islands == 0


def overhang_of(mesh: Mesh) -> Overhang:
    """Return what hangs over of a closed mesh that lies on the bed at z = 0.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> corners = [[0, 0, 0], [3, 0, 0], [0, 3, 0], [0, 0, 1]]
    >>> pyramid = Mesh(corners, [[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])
    >>> overhang_of(pyramid).prints_without_supports
    True
    >>> overhang_of(pyramid.moved(np.diag([1.0, -1.0, -1.0, 1.0]))).prints_without_supports
    False
    """
    areas = face_areas_mm2(mesh)
    z = mesh.vertices[:, 2] - mesh.vertices[mesh.faces, 2].min()
    off = z[mesh.faces].max(axis=1) > BED_TOUCH_MM
    down = np.where(off & (areas > 0.0), -mesh.vectors_mm2[:, 2] / np.maximum(areas, 1e-300), 0.0)
    limit = math.sin(math.radians(STEEPEST_OVERHANG_DEG))
    real = areas > OVERHANG_MM2 / 100.0
    steepest = float(np.clip(down[real], 0.0, 1.0).max(initial=0.0))
    return Overhang(
        steepest_deg=math.degrees(math.asin(steepest)),
        area_mm2=float(areas[down > limit].sum()),
        islands=len(_island_places(mesh)),
    )


def _island_places(mesh: Mesh) -> Ints:
    """Return a vertex of each place that has nothing of the part below or beside it.

    Vertices on one level that are joined by edges are one place. What is lowest in its
    surroundings with faces that look down begins in the air; a pit's floor looks up.
    """
    z = mesh.vertices[:, 2]
    edges = mesh.faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    level = np.abs(z[edges[:, 0]] - z[edges[:, 1]]) < BED_TOUCH_MM / 10.0
    flat = edges[level]
    links = (np.ones(len(flat), dtype=np.int8), (flat[:, 0], flat[:, 1]))
    place = connected_components(coo_array(links, shape=(len(z), len(z))), directed=False)[1]
    count = int(place.max(initial=-1)) + 1
    held = np.zeros(count, dtype=bool)
    held[place[z <= z.min() + BED_TOUCH_MM]] = True
    higher = np.where(z[edges[:, 0]] < z[edges[:, 1]], edges[:, 1], edges[:, 0])
    held[place[higher[~level]]] = True
    looks = np.zeros(count)
    np.add.at(looks, place[mesh.faces].ravel(), np.repeat(mesh.vectors_mm2[:, 2], 3))
    first = np.unique(place, return_index=True)[1][~held & (looks < 0.0)]
    hangs = [_stays_alone(int(one), edges, z) for one in first]
    alone: Ints = first[np.array(hangs, dtype=bool)]
    return alone


def _stays_alone(vertex: int, edges: Ints, z: Floats) -> bool:
    """Tell whether a lowest place is joined to nothing lower within the thinnest layer above it."""
    soon = edges[z[edges].max(axis=1) <= z[vertex] + THINNEST_LAYER_MM]
    links = (np.ones(len(soon), dtype=np.int8), (soon[:, 0], soon[:, 1]))
    piece = connected_components(coo_array(links, shape=(len(z), len(z))), directed=False)[1]
    return bool(z[piece == piece[vertex]].min() >= z[vertex] - BED_TOUCH_MM / 10.0)
