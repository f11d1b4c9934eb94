"""What a scan leaves in doubt: holes closed by a guess, pieces that hang free."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.scan import FINE_TRIANGLES, MOST_HOLES_TOLD
from ..notices import Notice
from ..sentences import a_length

if TYPE_CHECKING:
    from ..arrays import Ints
    from ..geometry.mesh import Mesh
    from .result import Hole


def guesses(large: list[Hole]) -> list[Notice]:
    """Tell of large holes that were closed, the widest one by one and the rest by number.

    Examples
    --------
    >>> from .result import Hole
    >>> holes = [Hole(9, across_mm, (0.0, 0.0, 0.0)) for across_mm in (20.0, 60.0, 30.0, 50.0)]
    >>> [notice.text[:17] for notice in guesses(holes)]
    ['A hole 60 mm acro', 'A hole 50 mm acro', 'A hole 30 mm acro', '4 large holes wer']
    """
    widest = sorted(large, key=lambda hole: -hole.across_mm)
    found = [
        Notice(
            "large_hole",
            f"A hole {a_length(hole.across_mm, '.0f')} across was closed by a guess: look at it.",
            hole.at_mm,
        )
        for hole in widest[:MOST_HOLES_TOLD]
    ]
    if rest := widest[MOST_HOLES_TOLD:]:
        text = (
            f"{len(large)} large holes were closed by a guess, the smaller ones "
            f"{a_length(rest[0].across_mm, '.0f')} across and less: if that is much of the piece,"
            " scan it again, for no number here is better than the guess."
        )
        found.append(Notice("large_hole", text, rest[0].at_mm))
    return found


def too_fine(triangles: int) -> list[Notice]:
    """Tell of a scan with so many triangles that the layout takes minutes.

    Examples
    --------
    >>> [len(too_fine(count)) for count in (871_414, 5_227_836)]
    [0, 1]
    """
    if triangles <= FINE_TRIANGLES:
        return []
    text = (
        f"The scan has {triangles / 1e6:.1f} million triangles: the layout takes minutes and some"
        f" gigabytes of memory. Thinned to {FINE_TRIANGLES / 2e6:.0f} million, by the scanner's"
        " program or by the modifier Decimate, it is quicker by as much, and still finer than what"
        " is poured."
    )
    return [Notice("very_fine", text)]


def hanging_free(mesh: Mesh, piece: Ints, least_mm: float) -> list[Notice]:
    """Tell of pieces (m,) of faces that begin higher than that and are joined to nothing below."""
    lowest, highest = np.full(int(piece.max()) + 1, np.inf), np.full(int(piece.max()) + 1, -1.0)
    heights = mesh.vertices[mesh.faces, 2]
    np.minimum.at(lowest, piece, heights.min(axis=1))
    np.maximum.at(highest, piece, heights.max(axis=1))
    free = np.flatnonzero(lowest > least_mm)
    if not len(free):
        return []
    largest = int(free[np.argmax(np.bincount(piece, minlength=len(lowest))[free])])
    own = mesh.vertices[np.unique(mesh.faces[piece == largest])]
    x, y, z = ((own.min(axis=0) + own.max(axis=0)) / 2.0).tolist()
    what = "A piece of the scan hangs" if len(free) == 1 else f"{len(free)} pieces of the scan hang"
    them = "it" if len(free) == 1 else "them"
    text = (
        f"{what} free, joined to nothing that stands on the board, or only just touching it. "
        f"Join {them} to the rest, or delete {them} from the scan."
    )
    return [Notice("hangs_free", text, (x, y, z))]
