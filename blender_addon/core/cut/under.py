"""What of the piece a slit lays open beyond its line: the underside that its blade runs along."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import CONTACT_MM, LEDGE_MM, OFF_END_MM
from ..geometry.zero_loops import zero_loops

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..geometry.mesh import Mesh
    from ..geometry.sections import Sections
    from .keying import Blade


def length_under_mm(mesh: Mesh, blade: Blade) -> float:
    """Return how much longer the lips of a slit are than its line.

    At its end, too, the blade goes from the piece to the outside of the block. Where the piece
    spreads over it there, like a cap over its stem, it lays the underside open as well.

    Parameters
    ----------
    mesh : Mesh
        The piece, closed.
    blade : Blade
        Of the slit.

    Examples
    --------
    Under a plate that reaches 30 mm further than the post that bears it:

    >>> from blender_addon.core.cut.keying import Blade
    >>> from blender_addon.core.geometry.manifold import prism, to_mesh
    >>> post = np.array([[-5.0, -5], [5, -5], [5, 5], [-5, 5]])
    >>> plate = post + [[0.0, 0], [30, 0], [30, 0], [0, 0]]
    >>> piece = to_mesh(prism([post], 0.0, 20.0) + prism([plate], 20.0, 25.0))
    >>> points = np.array([[5.0, 0.0, 0.0], [5.0, 0.0, 20.0]])
    >>> round(length_under_mm(piece, Blade(points, np.array([[1.0, 0.0], [1.0, 0.0]]))), 6)
    30.0
    """
    end, way = blade.points_mm[-1], blade.ways[-1]
    off = (mesh.vertices[:, :2] - end[:2]) @ [-way[1], way[0]]
    off = np.where(off == 0.0, np.finfo(float).tiny, off)
    loops, _ = zero_loops(mesh, off)
    if not loops:
        return 0.0
    near = [float(np.linalg.norm(loop - end, axis=1).min()) for loop in loops]
    return _ahead_mm(loops[int(np.argmin(near))], end, way)


def rubber_along_mm(sections: Sections, blade: Blade, depth_mm: float) -> float:
    """Return how much of the blade's depth at its end is rubber, and not piece beyond a hollow.

    Parameters
    ----------
    sections : Sections
        Of the piece.
    blade : Blade
    depth_mm : float
        From the piece at the blade's end to the outside of the block.
    """
    last = len(blade.points_mm) - 1
    level = int(np.abs(sections.heights_mm - blade.points_mm[last, 2]).argmin())
    ends = blade.frame(sections.at(level), last)
    met = (ends[:, 0, 1] > 0.0) != (ends[:, 1, 1] > 0.0)
    along, side = ends[met, :, 0], ends[met, :, 1]
    share = side[:, 0] / (side[:, 0] - side[:, 1])
    crossed = np.sort(along[:, 0] + share * (along[:, 1] - along[:, 0]))
    crossed = crossed[(crossed > CONTACT_MM) & (crossed < depth_mm)]
    inside = crossed[: len(crossed) // 2 * 2].reshape(-1, 2)
    return depth_mm - float(np.diff(inside, axis=1).sum())


def _ahead_mm(loop: Floats, end: Floats, way: Floats) -> float:
    """Return how long a loop goes on out from a point near it, below it or not far above.

    Where the piece draws back above the end, the blade's edge goes straight through the rubber.
    """
    loop = np.roll(loop, -int(np.linalg.norm(loop - end, axis=1).argmin()), axis=0)
    up = _rise(loop[1:], end) >= _rise(loop[:0:-1], end)
    line = np.vstack([end, loop[1:] if up else loop[:0:-1]])
    line = line[: int(line[:, 2].argmax()) + 1]
    out = (line - end)[:, :2] @ way
    last = int(np.flatnonzero((line[:, 2] <= end[2] + LEDGE_MM) & (out >= 0.0))[-1])
    steps = np.hypot(np.diff(np.maximum(out, 0.0)), np.diff(np.minimum(line[:, 2], end[2])))
    beside = np.maximum(out[1:], out[:-1]) >= 0.0
    return float(steps[:last][beside[:last]].sum())


def _rise(line: Floats, end: Floats) -> float:
    """Return how high over a point a line is once it is a little off it."""
    off = np.flatnonzero(np.linalg.norm(line - end, axis=1) > OFF_END_MM)
    return float(line[off[0], 2] - end[2]) if len(off) else 0.0
