"""What the cut asks of the piece alone, wherever it stands: worked out once for a scan."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

from ..constants.cut import DENSE_FACES, PATH_CELLS, WEB_DETAIL_SHARE
from ..errors import UnusableMeshError
from ..geometry.manifold import solid_of, to_mesh
from ..geometry.short_edges import short_edged
from ..geometry.surface_graph import surface_links
from .undercut import best_split

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from ..geometry.mesh import Mesh
    from ..watch import Watch
    from .settings import CutSettings
    from .undercut import Split


@dataclass(frozen=True, eq=False)
class Piece:
    """The piece as a solid, and a simple likeness of it.

    ``solid`` and ``simple`` are None where scan and repair left no closed manifold. ``fine`` is
    what ways are looked for on: ``given`` (m,) names the face that each of its faces was, of the
    piece itself if it is ``exact``, else of the likeness; ``links`` are its pairs of vertices
    (k, 2) with the length in mm of the way between them.
    """

    solid: manifold3d.Manifold | None
    simple: manifold3d.Manifold | None
    fine: Mesh
    given: Ints
    links: tuple[Ints, Floats]
    exact: bool = True

    def placed(self, placement: Floats) -> Piece:
        """Return it turned about the upright and shifted in plan by a matrix (4, 4)."""
        placed = replace(self, fine=self.fine.moved(placement))
        if self.solid is None or self.simple is None:
            return placed
        move = np.array(placement[:3])
        return replace(placed, solid=self.solid.transform(move), simple=self.simple.transform(move))


def piece_of(mesh: Mesh, watch: Watch) -> Piece:
    """Return it for a master in the scan's frame.

    Parameters
    ----------
    mesh : Mesh
        Closed. Of a dense one, ways are looked for on the simple likeness.
    watch : Watch
        Told of progress.
    """
    solid = simple = None
    ground = mesh
    with suppress(UnusableMeshError):
        solid = solid_of(mesh)
    if solid is not None:
        watch.at(0.05)
        simple = solid.simplify(WEB_DETAIL_SHARE * float(np.ptp(mesh.vertices, axis=0).max()))
        watch.at(0.1)
        if len(mesh.faces) > DENSE_FACES:
            ground = to_mesh(max(simple.decompose(), key=manifold3d.Manifold.volume))
    fine, given = short_edged(ground, PATH_CELLS)
    watch.at(0.15)
    return Piece(solid, simple, fine, given, surface_links(fine), ground is mesh)


def split_of(
    mesh: Mesh, simple: manifold3d.Manifold | None, allowed: float, split_deg: float, watch: Watch
) -> Split:
    """Return how two halves come off a piece best, looked at on its simple likeness if it has one.

    Parameters
    ----------
    mesh : Mesh
    simple : manifold3d.Manifold, optional
    allowed : float
        Stretch of the rubber.
    split_deg : float
        Direction to part two halves along, from +x counter-clockwise; below 0 the best.
    watch : Watch
        Told of progress.
    """
    watch.at(0.2)
    return best_split(mesh if simple is None else to_mesh(simple), allowed, split_deg)


def allowed_stretch(settings: CutSettings) -> float:
    """Return how far the rubber may be stretched, as a share of its length.

    Examples
    --------
    >>> from blender_addon.core.cut.settings import CutSettings
    >>> round(allowed_stretch(CutSettings(elongation_percent=300.0, safe_share_percent=50.0)), 3)
    1.5
    """
    return settings.elongation_percent * settings.safe_share_percent / 1e4
