"""The piece measured for the cut: level lines, rings of rubber, where its base is sealed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import GIRTH_CELLS, KNIFE_STEP_MM, SEAM_MOST_MM, TEETH_PITCH_MM
from ..geometry.girth import band_mm
from ..geometry.plane_cuts import level_cuts
from ..geometry.sections import Sections, section_heights_mm, sections_of
from .path import on_riser, ring_of, seam_top_mm
from .rings import rings_of
from .stretch import stretch_curve

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..geometry.mesh import Mesh
    from ..watch import Watch
    from .rings import Rings
    from .stretch import StretchCurve


@dataclass(frozen=True, eq=False)
class Measured:
    """``sections`` are of the piece on its riser, at all heights from the board up.

    ``rings`` number ``sections.heights_mm``; ``curve`` begins over the riser. ``base_mm`` is where
    the wax round the base ends.
    """

    sections: Sections
    rings: Rings
    curve: StretchCurve
    base_mm: float

    def placed(self, placement: Floats) -> Measured:
        """Return it turned about the upright and shifted in plan by a matrix (4, 4)."""
        turn, shift = placement[:2, :2].T, placement[:2, 3]
        return Measured(
            replace(self.sections, segments=self.sections.segments @ turn + shift),
            replace(self.rings, at_mm=self.rings.at_mm @ turn + shift),
            replace(self.curve, at_mm=self.curve.at_mm @ turn + shift),
            self.base_mm,
        )


def measured(
    mesh: Mesh,
    riser_outline: tuple[Floats, ...],
    riser_mm: float,
    tooth_mm: float,
    least_slit_mm: float,
    watch: Watch,
) -> Measured:
    """Measure a piece on its riser, wherever it stands.

    Parameters
    ----------
    mesh : Mesh
        The closed master, z = 0 on the board.
    riser_outline : tuple of ndarray, shape (k, 2)
    riser_mm : float
    tooth_mm : float
        Pitch of the teeth, 0 where it is not known yet.
    least_slit_mm : float
        Height over the riser that is slit in any case.
    watch : Watch
        Told of progress.
    """
    heights = _heights_mm(mesh, riser_mm, tooth_mm, least_slit_mm)
    cuts = level_cuts(mesh, heights)
    watch.at(0.05)
    own = sections_of(cuts, heights)
    ring = ring_of(riser_outline)
    riser_girth = band_mm(ring[:, 0]) if len(ring) else 0.0
    base_mm = _base_mm(own, riser_girth, riser_mm)
    low = float(mesh.bounds[0][2])
    foot_mm = max(base_mm, low) + 1e-6 * (heights[-1] - low)
    rings = rings_of(mesh, heights, cuts, foot_mm)
    sealed = heights[rings.level] < base_mm
    rings = replace(rings, ring_mm=np.where(sealed, np.maximum(rings.ring_mm, riser_girth),
                                            rings.ring_mm))  # fmt: skip
    curve = stretch_curve(rings, heights)
    return Measured(on_riser(own, ring, base_mm), rings, curve, base_mm)


def _heights_mm(mesh: Mesh, riser_mm: float, tooth_mm: float, least_slit_mm: float) -> Floats:
    """Return where to measure: at ledges, at the corners of the teeth, where the knife is told."""
    own = section_heights_mm(mesh, GIRTH_CELLS)
    pitch = tooth_mm or TEETH_PITCH_MM[0]
    corners = np.arange(0.0, own[-1], pitch / 4.0)
    told = np.arange(0.0, own[-1], KNIFE_STEP_MM)
    least = np.array([riser_mm + least_slit_mm])
    heights = np.unique(np.concatenate([own, corners, told, least]))
    kept: Floats = heights[(heights < riser_mm) | ((heights >= own[0]) & (heights <= own[-1]))]
    return kept


def _base_mm(own: Sections, riser_girth_mm: float, riser_mm: float) -> float:
    """Return up to where the piece is sealed on its riser."""
    if riser_girth_mm <= 0.0:
        return riser_mm
    heights = own.heights_mm
    near = np.flatnonzero((heights >= riser_mm) & (heights <= riser_mm + SEAM_MOST_MM))
    lines = [own.at(level)[:, 0] for level in near.tolist()]
    girths = np.array([band_mm(points) if len(points) else 0.0 for points in lines])
    return seam_top_mm(heights[near], girths, riser_girth_mm, riser_mm)
