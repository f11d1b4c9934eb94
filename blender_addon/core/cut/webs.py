"""The webs of rubber in through-holes: each must be cut as well, or the piece stays where it is."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import (
    HAIR_LOOP_MM,
    LOOP_ROOTS,
    LOOP_STEPS,
    PROOF_MARGIN_MM,
    RISER_OVERLAP_MM,
    THICK_WEB_MM,
)
from ..errors import UnusableMeshError
from ..geometry.connect import handles
from ..geometry.hole_loops import hole_loops
from ..geometry.hull import hull_corners
from ..geometry.manifold import prism, to_mesh
from ..geometry.mesh import Mesh, joined
from ..geometry.short_edges import in_small_triangles
from ..geometry.taut import WeightedSurface, loop_drawn_taut, near_box
from ..units import CM2_PER_MM2

if TYPE_CHECKING:
    import manifold3d

    from ..arrays import Floats
    from ..watch import Watch


@dataclass(frozen=True, eq=False)
class Web:
    """A web's rim on the piece, ``loop_mm`` (k, 3), closed; the blade goes in its plane.

    ``at_mm`` is its middle, ``normal`` the unit vector of the plane, ``width_mm`` its narrowest
    width. A thick one is wider than a blade cuts through in one stroke.
    """

    loop_mm: Floats
    length_mm: float
    area_cm2: float
    width_mm: float
    at_mm: tuple[float, float, float]
    normal: tuple[float, float, float]
    thick: bool

    @property
    def sheet(self) -> Mesh:
        """The web as a surface: triangles from its middle to its rim."""
        count = len(self.loop_mm)
        number = np.arange(count)
        faces = np.column_stack([number, np.roll(number, -1), np.full(count, count)])
        return Mesh(np.vstack([self.loop_mm, self.loop_mm.mean(axis=0)]), faces)

    def placed(self, placement: Floats) -> Web:
        """Return it turned about the upright and shifted in plan by a matrix (4, 4)."""
        turn, shift = placement[:3, :3], np.append(placement[:2, 3], 0.0)
        x, y, z = (turn @ np.array(self.at_mm) + shift).tolist()
        a, b, c = (turn @ np.array(self.normal)).tolist()
        loop = self.loop_mm @ turn.T + shift
        return replace(self, loop_mm=loop, at_mm=(x, y, z), normal=(a, b, c))


@dataclass(frozen=True)
class Webs:
    """The webs, the largest first; ``hairs`` are through-holes so narrow that theirs tear."""

    webs: tuple[Web, ...]
    hairs: int

    def placed(self, placement: Floats) -> Webs:
        """Return them turned about the upright and shifted in plan by a matrix (4, 4)."""
        return Webs(tuple(one.placed(placement) for one in self.webs), self.hairs)


def webs_of(
    mesh: Mesh,
    riser_outline: tuple[Floats, ...],
    riser_mm: float,
    simple: manifold3d.Manifold | None,
    watch: Watch,
) -> Webs:
    """Return the web in each through-hole of the piece, or under an arch between two feet.

    Parameters
    ----------
    mesh : Mesh
        The closed master, z = 0 on the board, which closes the holes between several feet.
    riser_outline : tuple of ndarray, shape (k, 2)
    riser_mm : float
    simple : manifold3d.Manifold, optional
        Of the master, simplified: the holes of a scan's noise are gone. No web without it.
    watch : Watch
        Told of progress.
    """
    if simple is None:
        return Webs((), 0)
    watch.at(0.25)
    holes = handles(mesh)
    solid = _on_board(riser_outline, riser_mm, simple)
    parts = [to_mesh(part) for part in solid.decompose() if part.genus() > 0]
    surface = mesh if solid is simple else joined([mesh, *parts])
    loops = [part.vertices[loop] for part in parts for loop in hole_loops(part, LOOP_ROOTS)]
    rims = [_taut(surface, loop) for loop in loops if _length_mm(loop) > HAIR_LOOP_MM]
    webs = [web_within(rim) for rim in rims if _length_mm(rim) > HAIR_LOOP_MM]
    return Webs(tuple(sorted(webs, key=_by_area)), max(holes - len(webs), 0))


def _by_area(web: Web) -> float:
    return -web.area_cm2


def _on_board(
    riser_outline: tuple[Floats, ...], riser_mm: float, master: manifold3d.Manifold
) -> manifold3d.Manifold:
    """Return the master, and where it has several feet, the riser and the board under it."""
    feet = [one for one in riser_outline if _area_mm2(one) > 0.0]
    if len(feet) < 2:
        return master
    plate = prism([hull_corners(np.vstack(feet))], -PROOF_MARGIN_MM, 0.0)
    risers = prism(riser_outline, -PROOF_MARGIN_MM, riser_mm + RISER_OVERLAP_MM)
    return master + plate + risers


def _area_mm2(outline: Floats) -> float:
    x, y = (outline - outline[0]).T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0


def _taut(mesh: Mesh, loop: Floats) -> Floats:
    step = _length_mm(loop) / LOOP_STEPS
    near = mesh.vertices[mesh.faces[near_box(mesh, loop, LOOP_STEPS / 10.0 * step)]]
    corners = in_small_triangles(near, 4.0 * step)
    count = len(corners)
    surface = WeightedSurface(corners, np.ones(count), np.zeros(count, dtype=np.bool_))
    return loop_drawn_taut(loop, surface, step)


def _length_mm(loop: Floats) -> float:
    return float(np.linalg.norm(loop - np.roll(loop, -1, axis=0), axis=1).sum())


def web_within(loop: Floats) -> Web:
    """Return the web that a closed line (k, 3) bounds.

    Examples
    --------
    >>> web = web_within(np.array([[0.0, 0, 0], [20, 0, 0], [20, 30, 0], [0, 30, 0]]))
    >>> web.area_cm2, web.length_mm, web.width_mm, web.thick
    (6.0, 100.0, 20.0, True)
    """
    middle = loop.mean(axis=0)
    ahead = np.roll(loop, -1, axis=0)
    fan = np.cross(loop - middle, ahead - middle) / 2.0
    whole = fan.sum(axis=0)
    normal = whole / max(float(np.linalg.norm(whole)), np.finfo(float).tiny)
    width = _narrowest_mm(loop - middle, normal)
    return Web(
        loop_mm=loop,
        length_mm=_length_mm(loop),
        area_cm2=float(np.linalg.norm(fan, axis=1).sum()) * CM2_PER_MM2,
        width_mm=width,
        at_mm=(float(middle[0]), float(middle[1]), float(middle[2])),
        normal=(float(normal[0]), float(normal[1]), float(normal[2])),
        thick=width > THICK_WEB_MM,
    )


def _narrowest_mm(points: Floats, normal: Floats) -> float:
    """Return the least distance of two parallel lines that hold points, seen along a normal."""
    side = np.cross(normal, np.eye(3)[np.abs(normal).argmin()])
    side /= max(float(np.linalg.norm(side)), np.finfo(float).tiny)
    plan = np.column_stack([points @ side, points @ np.cross(normal, side)])
    try:
        hull = hull_corners(plan)
    except UnusableMeshError:
        return 0.0
    edges = np.roll(hull, -1, axis=0) - hull
    across = np.column_stack([-edges[:, 1], edges[:, 0]])
    across /= np.maximum(np.linalg.norm(across, axis=1), np.finfo(float).tiny)[:, None]
    reach = hull @ across.T
    return float(np.ptp(reach, axis=0).min())
