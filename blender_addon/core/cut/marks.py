"""The maker's marks: faces that no cut may cross."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..arrays import Bools, locked

if TYPE_CHECKING:
    from ..scan.result import ScanResult
    from ..watch import Watch


@dataclass(frozen=True, eq=False)
class Marks:
    """Faces (m,) marked "not here"; none at all (0,) where nothing is marked."""

    faces: Bools

    def __post_init__(self) -> None:
        object.__setattr__(self, "faces", locked(self.faces, np.bool_))


NO_MARKS = Marks(np.zeros(0, dtype=np.bool_))


def marks_on_master(scan: ScanResult, marks: Marks, watch: Watch) -> Marks:
    """Return marks on the faces of the scan as given as marks on those of the master.

    Parameters
    ----------
    scan : ScanResult
        Which given face each face of the master is; what closing the scan added is never marked.
    marks : Marks
    watch : Watch
        Asked whether to go on.
    """
    watch.at(0.0)
    if not marks.faces.any():
        return NO_MARKS
    given = scan.source_faces >= 0
    return Marks(given & marks.faces[np.where(given, scan.source_faces, 0)])
