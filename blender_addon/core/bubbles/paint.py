"""The maker's own brush: places to brush that nothing computed, and computed ones to leave out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..arrays import Ints, locked

if TYPE_CHECKING:
    from ..arrays import Bools

ADDED, ERASED = 1, -1


@dataclass(frozen=True, eq=False)
class Paint:
    """What the maker painted on the faces (m,) of the scan as given: `ADDED`, `ERASED` or 0."""

    faces: Ints

    def __post_init__(self) -> None:
        object.__setattr__(self, "faces", locked(self.faces, np.int64))


NO_PAINT = Paint(np.zeros(0, dtype=np.int64))


def painted(prebrush: Bools, paint: Paint, source_faces: Ints) -> Bools:
    """Return the faces to brush (n,) with the maker's paint over them.

    Faces that closing the scan added are never painted.

    Examples
    --------
    >>> brush = np.array([True, True, False])
    >>> painted(brush, Paint([0, ERASED, ADDED]), np.array([1, -1, 2])).tolist()
    [False, True, True]
    """
    if not len(paint.faces):
        return prebrush
    mark = np.where(source_faces >= 0, paint.faces[source_faces], 0)
    faces: Bools = (prebrush | (mark == ADDED)) & (mark != ERASED)
    return faces
