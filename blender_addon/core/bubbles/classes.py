"""The classes of each face: trapped, clinging, narrow, and what of it all is to be brushed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..units import CM2_PER_MM2
from .clinging import clinging_faces
from .flags import trapped_faces
from .narrow import narrow_faces
from .surface import grown, without_islands

if TYPE_CHECKING:
    from ..arrays import Bools, Floats, Ints
    from ..geometry.mesh import Mesh
    from ..watch import Watch
    from .pockets import Air, Listed
    from .settings import BubblesSettings


@dataclass(frozen=True, eq=False)
class Classes:
    """One entry for each face (m,); ``pocket`` is -1 outside all; ``to_brush`` has the margin."""

    trapped_depth_mm: Floats
    pocket: Ints
    clinging: Bools
    narrow: Bools
    to_brush: Bools


def classes_of(
    mesh: Mesh,
    base_faces: Bools,
    air: Air,
    found: Listed,
    settings: BubblesSettings,
    watch: Watch,
    behind: Bools | None = None,
) -> Classes:
    """Return the classes of a master's faces; those on the riser have none.

    Parameters
    ----------
    mesh : Mesh
        Closed, upright.
    base_faces : ndarray, shape (m,)
        Faces that stand on the riser.
    air : Air
        Round the mesh.
    found : Listed
        Its pockets.
    settings : BubblesSettings
        Angles, brush, margin.
    watch : Watch
        Told of progress from 0.4 to 0.6.
    behind : ndarray, shape (m,), optional
        Faces behind ways out that rubber may shut: to brush like those in trapped air.
    """
    watch.at(0.4)
    depth, gate = trapped_faces(mesh, air)
    depth[base_faces] = 0.0
    pocket = np.full(len(gate), -1, dtype=np.int64)
    for number, own in enumerate(found.gates):
        pocket[(gate == own) & (depth > 0.0)] = number
    least_mm2 = settings.least_island_cm2 / CM2_PER_MM2
    flat = clinging_faces(mesh, settings.clinging_deg, settings.noise_mm) & ~base_faces
    clinging = without_islands(mesh, flat, least_mm2)
    watch.at(0.5)
    tight = narrow_faces(mesh, settings.brush_mm) & ~base_faces
    narrow = without_islands(mesh, tight, least_mm2)
    watch.at(0.6)
    wanted = (depth > 0.0) | clinging | narrow
    if behind is not None:
        wanted |= behind & ~base_faces
    to_brush = grown(mesh, wanted, settings.margin_mm) & ~base_faces
    return Classes(depth, pocket, clinging, narrow, to_brush)
