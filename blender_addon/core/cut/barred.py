"""The ground that ways are looked for on, with what the maker marked barred on it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from scipy.spatial import KDTree

from ..constants.cut import ON_SURFACE_MM, PATH_CELLS, WEB_DETAIL_SHARE
from ..geometry.near_surface import NearSurface
from ..geometry.short_edges import in_small_triangles, short_edged
from .costs import costs
from .way import Ground

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ..arrays import Bools, Floats
    from ..case.result import CaseResult
    from .marks import Marks
    from .piece import Piece
    from .settings import CutSettings


def grounds(
    case: CaseResult, piece: Piece, marks: Marks, settings: CutSettings
) -> Iterator[Ground]:
    """Yield what a way is looked for on: where that is a likeness, the piece itself after it.

    On a likeness all is barred that comes near to what is marked on the piece, so that a line which
    is laid on the piece afterwards stays off it, as a rule.

    Parameters
    ----------
    case : CaseResult
    piece : Piece
        Placed in the case.
    marks : Marks
        On the faces of the master.
    settings : CutSettings
        What a way costs.
    """
    price = costs(piece.fine, case, settings)
    if not marks.faces.any():
        yield Ground(piece.fine, price, np.zeros(len(piece.given), dtype=np.bool_), piece.links)
        return
    exact = marks.faces[piece.given] if piece.exact else _near_marks(case, piece, marks)
    yield _rimmed(Ground(piece.fine, price, exact, piece.links))
    if not piece.exact:
        fine, given = short_edged(case.master, PATH_CELLS)
        yield _rimmed(Ground(fine, costs(fine, case, settings), marks.faces[given]))


def _rimmed(ground: Ground) -> Ground:
    """Return a ground with the neighbours of barred faces barred, too: a line cuts corners."""
    return replace(ground, barred=ground.barred_vertices[ground.mesh.faces].any(axis=1))


def _near_marks(case: CaseResult, piece: Piece, marks: Marks) -> Bools:
    """Return the faces of the likeness that come near to marked faces of the piece."""
    size = float(np.ptp(case.master.vertices, axis=0).max())
    margin = 2.0 * WEB_DETAIL_SHARE * size
    spots = in_small_triangles(case.master.corners[marks.faces], margin).reshape(-1, 3)
    _, first = np.unique((spots / (margin / 4.0)).round(), axis=0, return_index=True)
    spots = spots[first]
    corners = piece.fine.vertices
    boxed = (corners >= spots.min(axis=0) - margin) & (corners <= spots.max(axis=0) + margin)
    near = np.flatnonzero(boxed.all(axis=1))
    held = np.zeros(len(corners), dtype=np.bool_)
    off, _ = KDTree(spots).query(corners[near], distance_upper_bound=1.25 * margin)
    held[near] = np.isfinite(off)
    barred: Bools = held[piece.fine.faces].any(axis=1)
    return barred


def crosses_marks(case: CaseResult, marks: Marks, line_mm: Floats) -> bool:
    """Return whether a line (n, 3) on the piece leads over marked faces."""
    if not marks.faces.any() or len(line_mm) < 2:
        return False
    surface = in_small_triangles(case.master.corners[marks.faces], 1.0)
    share = np.linspace(0.0, 1.0, 5)[:, None, None]
    places = (line_mm[:-1] + share * np.diff(line_mm, axis=0)).reshape(-1, 3)
    low, high = surface.min(axis=(0, 1)) - 1.0, surface.max(axis=(0, 1)) + 1.0
    places = places[((places >= low) & (places <= high)).all(axis=1)]
    if not len(places):
        return False
    spots, _ = NearSurface(surface).nearest(places)
    return bool(np.linalg.norm(spots - places, axis=1).min() < ON_SURFACE_MM)
