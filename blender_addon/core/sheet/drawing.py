"""A drawing in millimetres: x to the right, y up, as it will lie on paper at true scale."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from ..arrays import locked
from .letters import width_mm

if TYPE_CHECKING:
    from collections.abc import Iterable

    import numpy.typing as npt

    from ..arrays import Floats

Spot: TypeAlias = tuple[float, float]
Color: TypeAlias = tuple[float, float, float]
"""Red, green and blue of sRGB, 0 to 1."""

BLACK: Color = (0.0, 0.0, 0.0)
WHITE: Color = (1.0, 1.0, 1.0)


@dataclass(frozen=True)
class Pen:
    """Breadth of a line and lengths of its dashes and gaps, in mm; its colour."""

    width_mm: float
    dash_mm: tuple[float, ...] = ()
    color: Color = BLACK


PENS = {
    "cut": Pen(0.4),
    "fold": Pen(0.3, (4.0, 2.0)),
    "center": Pen(0.2, (8.0, 2.0, 1.0, 2.0)),
    "thin": Pen(0.2),
    "faint": Pen(0.15, color=(0.6, 0.6, 0.6)),
    "heavy": Pen(0.8),
    "fine dash": Pen(0.2, (0.8, 0.6)),
}
"""Kinds of line: saw or knife goes along, fold along, middle, to read off, to guide, to heed,
hidden."""


@dataclass(frozen=True, eq=False)
class Line:
    """A line through points (k, 2), of a kind of `PENS`; ``closed`` joins its ends."""

    points_mm: Floats
    kind: str = "thin"
    closed: bool = False

    def __post_init__(self) -> None:
        object.__setattr__(self, "points_mm", locked(self.points_mm, np.float64))


@dataclass(frozen=True, eq=False)
class Polygon:
    """A filled area between outlines, each (k, 2): what lies in an even number of them is bare."""

    outlines_mm: tuple[Floats, ...]
    color: Color

    def __post_init__(self) -> None:
        outlines = tuple(locked(one, np.float64) for one in self.outlines_mm)
        object.__setattr__(self, "outlines_mm", outlines)


@dataclass(frozen=True)
class Circle:
    """A circle of a kind of `PENS`; filled when it is given a colour."""

    at_mm: Spot
    radius_mm: float
    kind: str = "thin"
    color: Color | None = None


@dataclass(frozen=True)
class Text:
    """One line of words. ``at_mm`` is on its base line: where it starts, its middle or its end."""

    at_mm: Spot
    words: str
    size_mm: float = 4.0
    anchor: str = "start"
    turn_deg: float = 0.0
    bold: bool = False

    @property
    def ends_mm(self) -> Floats:
        """Both ends of the base line and of the line along the letters' tops, (4, 2)."""
        length = width_mm(self.words, self.size_mm, bold=self.bold)
        start = {"start": 0.0, "middle": -length / 2.0, "end": -length}[self.anchor]
        c, s = np.cos(np.radians(self.turn_deg)), np.sin(np.radians(self.turn_deg))
        box = [[start, 0.0], [start + length, 0.0]]
        flat = np.array([*box, *(np.array(box) + [0.0, self.size_mm])])
        ends: Floats = flat @ np.array([[c, s], [-s, c]]) + self.at_mm
        return ends


@dataclass(frozen=True, eq=False)
class Picture:
    """Pixels (h, w, 3), rows from the top, over a box given by its lower left corner and size."""

    at_mm: Spot
    size_mm: Spot
    pixels: npt.NDArray[np.uint8]


Shape: TypeAlias = Line | Polygon | Circle | Text | Picture


@dataclass(frozen=True, eq=False)
class Drawing:
    """Shapes inside the box from ``low_mm`` to ``high_mm``; what stands out of it is cut off."""

    name: str
    title: str
    shapes: tuple[Shape, ...]
    low_mm: Spot
    high_mm: Spot

    @property
    def size_mm(self) -> Spot:
        """Width and height."""
        return self.high_mm[0] - self.low_mm[0], self.high_mm[1] - self.low_mm[1]


def drawing_of(name: str, title: str, shapes: Iterable[Shape], edge_mm: float = 2.0) -> Drawing:
    """Return a drawing that holds its shapes, with an edge of white all round.

    Parameters
    ----------
    name : str
        Its file's, without the ending.
    title : str
        As people read it.
    shapes : iterable of shapes
        At least one.
    edge_mm : float
        White beyond the outermost points.

    Examples
    --------
    >>> drawing_of("disc", "Disc", [Circle((0.0, 0.0), 50.0)]).size_mm
    (104.0, 104.0)
    """
    kept = tuple(shapes)
    points = np.vstack([_extent(one) for one in kept])
    low, high = points.min(axis=0) - edge_mm, points.max(axis=0) + edge_mm
    return Drawing(
        name, title, kept, (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))
    )


def rectangle(low_mm: Spot, high_mm: Spot) -> Floats:
    """Return the corners (4, 2) of a box, counter-clockwise from the lower left.

    Examples
    --------
    >>> rectangle((0.0, 0.0), (3.0, 2.0)).tolist()
    [[0.0, 0.0], [3.0, 0.0], [3.0, 2.0], [0.0, 2.0]]
    """
    (left, low), (right, high) = low_mm, high_mm
    return np.array([[left, low], [right, low], [right, high], [left, high]])


def _extent(shape: Shape) -> Floats:
    if isinstance(shape, Line):
        return shape.points_mm
    if isinstance(shape, Polygon):
        return np.vstack(shape.outlines_mm)
    if isinstance(shape, Circle):
        x, y, far = *shape.at_mm, shape.radius_mm
        return np.array([[x - far, y - far], [x + far, y + far]])
    if isinstance(shape, Text):
        return shape.ends_mm
    (x, y), (width, height) = shape.at_mm, shape.size_mm
    return np.array([[x, y], [x + width, y + height]])
