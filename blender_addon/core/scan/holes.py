"""Openings of the scan: the base is closed flat in its own plane, the others by a smooth patch."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.scan import EVEN_RIM_SHARE, RAGGED_RIM_SHARE, WIDE_RIM_SHARE
from ..geometry.loops import simple_loops
from ..geometry.mesh import Mesh
from ..geometry.solid import open_edges
from .patches import area_vector, spanned
from .result import Hole
from .smooth_patches import smoothly_spanned

if TYPE_CHECKING:
    from ..arrays import Floats, Ints


@dataclass(frozen=True, eq=False)
class Closed:
    """The mesh with faces added at its end; ``base`` are the openings that it stood on."""

    mesh: Mesh
    holes: tuple[Hole, ...]
    base: tuple[Hole, ...]


def rims_of(mesh: Mesh) -> list[Ints]:
    """Return the rim of each opening, walked so that a patch on it faces outward."""
    return simple_loops(open_edges(mesh)[:, ::-1])


def closed(mesh: Mesh) -> Closed:
    """Close every opening of an upright mesh.

    What the piece stood on is closed flat in the plane of its lowest point: a wide rim near that
    plane that opens downward, ragged as it may be, or a small one all but in the plane.

    Parameters
    ----------
    mesh : Mesh
        Faces agree on which side is out; z up.

    Returns
    -------
    Closed
    """
    vertices, curtains = mesh.vertices, [np.zeros((0, 3), dtype=np.int64)]
    feet: list[Ints] = []
    rims: list[Ints] = []
    holes, base = [], []
    low, high = mesh.bounds
    for rim in rims_of(mesh):
        points = vertices[rim]
        if _stood_on(points, low, high):
            vertices, curtain, foot = _curtain(vertices, rim, float(low[2]))
            curtains.append(curtain)
            feet.append(foot)
            base.append(_hole(points))
        else:
            rims.append(rim)
            holes.append(_hole(points))
    draped = Mesh(vertices, np.vstack([mesh.faces, *curtains]))
    based, _ = spanned(draped, feet)
    return Closed(smoothly_spanned(based, rims), tuple(holes), tuple(base))


def _stood_on(points: Floats, low: Floats, high: Floats) -> bool:
    size = high - low
    across = np.linalg.norm(np.ptp(points[:, :2], axis=0))
    wide = across > WIDE_RIM_SHARE * np.linalg.norm(size[:2])
    band = (RAGGED_RIM_SHARE if wide else EVEN_RIM_SHARE) * size[2]
    return bool(points[:, 2].max() <= low[2] + band) and _faces_down(points)


def _faces_down(points: Floats) -> bool:
    """Return whether a patch on this rim would face the table rather than sideways or up."""
    vector = area_vector(points)
    return bool(vector[2] < -0.7 * np.linalg.norm(vector))


def _hole(points: Floats) -> Hole:
    x, y, z = points.mean(axis=0).tolist()
    across = float(np.linalg.norm(np.ptp(points, axis=0)))
    return Hole(len(points), across, (x, y, z))


def _curtain(vertices: Floats, rim: Ints, lowest: float) -> tuple[Floats, Ints, Ints]:
    """Let a curtain fall from a rim onto the plane; return its faces, and the rim at its foot."""
    foot = vertices[rim].copy()
    high = foot[:, 2] > lowest
    foot[:, 2] = lowest
    below = rim.copy()
    below[high] = len(vertices) + np.arange(np.count_nonzero(high))
    rim_next, below_next = np.roll(rim, -1), np.roll(below, -1)
    first = np.column_stack([rim, rim_next, below_next])[below_next != rim_next]
    second = np.column_stack([rim, below_next, below])[below != rim]
    return np.vstack([vertices, foot[high]]), np.vstack([first, second]), below
