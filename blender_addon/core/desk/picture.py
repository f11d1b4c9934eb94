"""The master as it is looked at: itself, or of a fine scan a lighter mesh that stands for it.

Each triangle of the scan belongs to one face that is shown; what is known of several triangles is
shown by the gravest. The maker's paint is kept for each triangle of the scan, whatever is shown.
"""

from __future__ import annotations

import base64
import zlib
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from ..constants import desk as limits
from ..geometry.lighter import lighter
from .drawn import drawn_edges

if TYPE_CHECKING:
    import numpy.typing as npt

    from ..arrays import Bools, Floats, Ints
    from ..bubbles.paint import Paint
    from ..cut.marks import Marks
    from ..geometry.lighter import Lighter
    from ..geometry.mesh import Mesh
    from ..layout import Layout
    from .drawn import DrawnEdges

QUICK = 1
"""zlib's level: a fourth of the time of the common one for a tenth more bytes."""


@dataclass(frozen=True, eq=False)
class Picture:
    """What is shown of the master, in the job's frame, with what is known of each face (k,).

    ``source`` is the triangle of the scan that the face is, or the first of those that it stands
    for; -1 where closing the scan added it. ``depth_mm`` is how deep trapped air sits,
    ``rubber_mm`` how thick the rubber is level out, ``paint`` and ``not_here`` are the maker's.
    Where faces stand for several triangles, ``stands`` packs for each triangle (n,) of the scan the
    ``source`` of the face that stands for it, -1 for none, and the other two the maker's paint and
    marks on each.
    """

    mesh: Mesh
    edges: DrawnEdges | None
    source: Ints
    prebrush: Bools
    computed: Bools
    narrow: Bools
    clinging: Bools
    depth_mm: Floats
    rubber_mm: Floats
    paint: Ints
    not_here: Bools
    stands: str = ""
    scan_paint: str = ""
    scan_not_here: str = ""


class Pictures:
    """Makes pictures, and remembers mesh and edges to show while the master stays the same."""

    def __init__(self) -> None:
        self._master: Mesh | None = None
        self._light: Lighter | None = None
        self._edges: DrawnEdges | None = None

    def picture_of(self, layout: Layout, paint: Paint, marks: Marks) -> Picture:
        """Return the picture of a layout with the maker's paint and marks."""
        master = layout.scan.mesh
        if master is not self._master:
            is_fine = len(master.faces) > limits.MOST_FACES_AS_GIVEN
            self._master = master
            self._light = lighter(master, limits.MOST_FACES_SHOWN) if is_fine else None
            self._edges = drawn_edges(self._light.mesh if self._light else master)
        whole = _whole_picture(layout, paint, marks, self._edges)
        if self._light is None:
            return whole
        return _light_picture(layout, whole, self._light, paint, marks)


def _whole_picture(layout: Layout, paint: Paint, marks: Marks, edges: DrawnEdges | None) -> Picture:
    """Return the picture that shows each face of the master, with the edges of what is shown."""
    case, bubbles, source = layout.case, layout.bubbles, layout.scan.source_faces
    middles = case.master.corners.mean(axis=1)
    return Picture(
        case.master,
        edges,
        source,
        bubbles.prebrush,
        bubbles.computed,
        bubbles.narrow,
        bubbles.clinging,
        bubbles.trapped_depth_mm,
        case.bore.distances_mm(middles[:, :2]),
        _of_scan(paint.faces, source, np.zeros(len(source), dtype=np.int64)),
        _of_scan(marks.faces, source, np.zeros(len(source), dtype=np.bool_)),
    )


def _of_scan(given: npt.NDArray[Any], source: Ints, values: npt.NDArray[Any]) -> npt.NDArray[Any]:
    """Return ``values`` with what is given of the scan's triangles where a face is one."""
    if len(given):
        values[source >= 0] = given[source[source >= 0]]
    return values


def _light_picture(
    layout: Layout, whole: Picture, light: Lighter, paint: Paint, marks: Marks
) -> Picture:
    """Return the picture in which each face stands for several of the whole one."""
    most, least, either = np.maximum, np.minimum, np.logical_or
    count = layout.scan.triangles
    source = light.gathered(np.where(whole.source >= 0, whole.source, count), least)
    source[source == count] = -1
    return Picture(
        light.mesh.moved(layout.case.placement),
        whole.edges,
        source,
        light.gathered(whole.prebrush, either),
        light.gathered(whole.computed, either),
        light.gathered(whole.narrow, either),
        light.gathered(whole.clinging, either),
        light.gathered(whole.depth_mm, most),
        light.gathered(whole.rubber_mm, least),
        light.gathered(whole.paint, most),  # taken off only where that holds for all of them
        light.gathered(whole.not_here, either),
        packed(_stands(whole.source, source[light.face_of], count), np.int32),
        packed(paint.faces if len(paint.faces) else np.zeros(count), np.int8),
        packed(marks.faces if len(marks.faces) else np.zeros(count), np.int8),
    )


def _stands(source: Ints, shown: Ints, count: int) -> Ints:
    stands = np.full(count, -1, dtype=np.int64)
    stands[source[source >= 0]] = shown[source >= 0]
    return stands


def packed(values: npt.NDArray[Any], kind: npt.DTypeLike) -> str:
    """Return whole numbers as a short text: Blender cuts bytes off at the first that is zero.

    Examples
    --------
    >>> unpacked(packed(np.array([3, -1]), np.int32), np.int32).tolist()
    [3, -1]
    """
    data = values.astype(np.dtype(kind).newbyteorder("<")).tobytes()
    return base64.b64encode(zlib.compress(data, QUICK)).decode("ascii")


def unpacked(text: str, kind: npt.DTypeLike) -> npt.NDArray[Any]:
    """Return the numbers (n,) that were packed as that kind; they may be written to."""
    data = zlib.decompress(base64.b64decode(text))
    found = np.frombuffer(data, dtype=np.dtype(kind).newbyteorder("<"))
    return found.astype(kind)
