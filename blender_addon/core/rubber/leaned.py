"""The pour into a leaned case: what is poured at each height, and the air that stays behind."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..arrays import Bools, Floats, locked
from ..bubbles.bodies import bodies_of
from ..bubbles.lean import lean_turn
from ..bubbles.pockets import listed, trapped_air
from ..geometry.manifold import prism, to_mesh
from ..geometry.volume_below import volume_below_ml
from ..watch import Watch

if TYPE_CHECKING:
    import manifold3d

    from ..bubbles.result import Pocket
    from ..case.result import CaseResult
    from ..geometry.mesh import Mesh

STEPS = 200
"""Of the table of what is poured: half a percent of the height each, and straight between them."""


@dataclass(frozen=True, eq=False)
class LeanedPour:
    """A pour into a case that leans, in the leaned frame: z is up, 0 the lowest place inside.

    ``turn`` (4, 4) brings the job frame there. ``levels_mm`` and ``poured_ml`` (n,) go from empty
    to where all the rubber is poured, or would run over the rim. ``bodies`` are the air of the
    largest of ``pockets``, in the same order.
    """

    degrees: float
    towards_deg: float
    turn: Floats
    levels_mm: Floats
    poured_ml: Floats
    trapped_ml: float
    pockets: tuple[Pocket, ...]
    bodies: tuple[Mesh, ...]


def leaned_pour(
    case: CaseResult,
    base_faces: Bools,
    pitch_mm: float,
    lean_deg: tuple[float, float],
    rubber_ml: float,
    watch: Watch | None = None,
) -> LeanedPour:
    """Return the pour into a case that leans.

    Parameters
    ----------
    case : CaseResult
    base_faces : ndarray, shape (m,)
        Faces of the master that stand on the riser.
    pitch_mm : float
        Of the columns that air is counted in.
    lean_deg : tuple of float
        How far, and towards where from +x of the job frame, counter-clockwise.
    rubber_ml : float
        All that fills the case upright: no more is poured.
    watch : Watch, optional
        Told of progress.
    """
    watch = watch or Watch()
    turn = leaned_frame(case.bore.outline_mm, *lean_deg)
    master = case.master.moved(turn)
    watch.at(0.1)
    air = trapped_air(master, base_faces, pitch_mm)
    found = listed(air)
    watch.at(0.5)
    bodies = bodies_of(master, air, found, watch)
    brim_mm = float((_ring(case.bore.outline_mm, case.height_mm) @ turn[2, :3] + turn[2, 3]).min())
    levels_mm = np.linspace(0.0, max(brim_mm, 0.0), STEPS + 1)
    poured_ml = _poured_ml(case, turn, levels_mm)
    if poured_ml[-1] > rubber_ml:
        full_mm = float(np.interp(rubber_ml, poured_ml, levels_mm))
        levels_mm = np.linspace(0.0, full_mm, STEPS + 1)
        poured_ml = _poured_ml(case, turn, levels_mm)
    return LeanedPour(
        *lean_deg, locked(turn, np.float64), levels_mm, poured_ml, air.trapped_ml, found.pockets,
        bodies,
    )  # fmt: skip


def leaned_frame(outline_mm: Floats, degrees: float, towards_deg: float) -> Floats:
    """Return the matrix (4, 4) that leans the job frame and sets its lowest place inside on z = 0.

    Parameters
    ----------
    outline_mm : ndarray, shape (k, 2)
        Of the bore, in plan.
    degrees, towards_deg : float
        How far, and towards where from +x, counter-clockwise.

    Examples
    --------
    >>> square = np.array([[-10.0, -10], [10, -10], [10, 10], [-10, 10]])
    >>> leaned_frame(square, 90.0, 0.0).round(9)[2].tolist()
    [-1.0, 0.0, 0.0, 10.0]
    """
    frame = np.eye(4)
    frame[:3, :3] = lean_turn(degrees, towards_deg)
    frame[2, 3] = -float((_ring(outline_mm, 0.0) @ frame[2, :3]).min())
    return frame


def leaned_rubber(outline_mm: Floats, height_mm: float, turn: Floats, level_mm: float) -> Mesh:
    """Return what stands in a leaned bore below a level surface, as a closed mesh.

    Parameters
    ----------
    outline_mm : ndarray, shape (k, 2)
        Of the bore, in plan; counter-clockwise.
    height_mm : float
        Of the rim.
    turn : ndarray, shape (4, 4)
        Of `leaned_frame`.
    level_mm : float
        Of the surface, in the leaned frame.
    """
    return to_mesh(_bore(outline_mm, height_mm, turn).trim_by_plane((0.0, 0.0, -1.0), -level_mm))


def _bore(outline_mm: Floats, height_mm: float, turn: Floats) -> manifold3d.Manifold:
    return prism([outline_mm], 0.0, height_mm).transform(turn[:3])


def _ring(outline_mm: Floats, z_mm: float) -> Floats:
    return np.column_stack([outline_mm, np.full(len(outline_mm), z_mm)])


def _poured_ml(case: CaseResult, turn: Floats, levels_mm: Floats) -> Floats:
    """Return what stands below each level in the bore, less master and riser."""
    bore = to_mesh(_bore(case.bore.outline_mm, case.height_mm, turn))
    share = case.bore.area_mm2 / _area_mm2(case)  # the outline of a round bore touches it outside
    poured_ml = volume_below_ml(bore, levels_mm) * share
    poured_ml -= volume_below_ml(case.master.moved(turn), levels_mm)
    if case.riser_outline and case.riser_mm > 0.0:
        riser = prism(case.riser_outline, 0.0, case.riser_mm).transform(turn[:3])
        poured_ml -= volume_below_ml(to_mesh(riser), levels_mm)
    return poured_ml


def _area_mm2(case: CaseResult) -> float:
    return float(case.bore.section().area())
