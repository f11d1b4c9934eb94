"""What the cut asks of the piece alone, wherever it stands: worked out once for a scan."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from ..constants import WEB_DETAIL_SHARE
from ..errors import UnusableMeshError
from ..geometry.manifold import to_mesh, to_solid
from .undercut import best_split

if TYPE_CHECKING:
    import manifold3d

    from ..arrays import Floats
    from ..geometry.mesh import Mesh
    from ..watch import Watch
    from .settings import CutSettings
    from .undercut import Split


@dataclass(frozen=True, eq=False)
class Piece:
    """The piece as a solid, a simple likeness of it, and how two halves come off it best.

    ``solid`` and ``simple`` are None where scan and repair left no closed manifold.
    """

    solid: manifold3d.Manifold | None
    simple: manifold3d.Manifold | None
    split: Split

    def placed(self, placement: Floats) -> Piece:
        """Return it turned about the upright and shifted in plan by a matrix (4, 4)."""
        turn, shift = placement[:2, :2], placement[:2, 3]
        towards = turn @ self.split.towards
        split = replace(
            self.split, towards=towards, at_mm=self.split.at_mm + float(towards @ shift)
        )
        if self.solid is None or self.simple is None:
            return Piece(None, None, split)
        move = np.array(placement[:3])
        return Piece(self.solid.transform(move), self.simple.transform(move), split)


def piece_of(mesh: Mesh, allowed: float, split_deg: float, watch: Watch) -> Piece:
    """Return it for a master in the scan's frame.

    Parameters
    ----------
    mesh : Mesh
        Closed.
    allowed : float
        Stretch of the rubber.
    split_deg : float
        Direction to part two halves along, from +x counter-clockwise; below 0 the best.
    watch : Watch
        Told of progress.
    """
    try:
        solid = to_solid(mesh)
    except UnusableMeshError:
        return Piece(None, None, best_split(mesh, allowed, split_deg))
    watch.at(0.05)
    simple = solid.simplify(WEB_DETAIL_SHARE * float(np.ptp(mesh.vertices, axis=0).max()))
    watch.at(0.1)
    return Piece(solid, simple, best_split(to_mesh(simple), allowed, split_deg))


def allowed_stretch(settings: CutSettings) -> float:
    """Return how far the rubber may be stretched, as a share of its length.

    Examples
    --------
    >>> from blender_addon.core.cut.settings import CutSettings
    >>> round(allowed_stretch(CutSettings(elongation_percent=300.0, safe_share_percent=50.0)), 3)
    1.5
    """
    return settings.elongation_percent * settings.safe_share_percent / 1e4
