"""Shapes elsewhere, or of another size."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING

from .drawing import Circle, Drawing, Line, Picture, Polygon, Text

if TYPE_CHECKING:
    from .drawing import Shape, Spot


def moved(shape: Shape, by_mm: Spot) -> Shape:
    """Return a shape elsewhere.

    Examples
    --------
    >>> moved(Circle((1.0, 2.0), 5.0), (10.0, 0.0)).at_mm
    (11.0, 2.0)
    """
    if isinstance(shape, Line):
        return dataclasses.replace(shape, points_mm=shape.points_mm + by_mm)
    if isinstance(shape, Polygon):
        return Polygon(tuple(one + by_mm for one in shape.outlines_mm), shape.color)
    at = shape.at_mm[0] + by_mm[0], shape.at_mm[1] + by_mm[1]
    if isinstance(shape, Circle | Text | Picture):
        return dataclasses.replace(shape, at_mm=at)
    raise TypeError(f"{type(shape).__name__} is no shape")


def scaled(drawing: Drawing, by: float) -> Drawing:
    """Return a drawing of another size, its letters with it; lines stay as broad as they are.

    Examples
    --------
    >>> scaled(Drawing("disc", "Disc", (Circle((2.0, 2.0), 1.0),), (0.0, 0.0), (4.0, 3.0)), 0.5)
    ... # doctest: +ELLIPSIS
    Drawing(name='disc', ..., shapes=(Circle(at_mm=(1.0, 1.0), radius_mm=0.5, ...
    """
    low, high = _times(drawing.low_mm, by), _times(drawing.high_mm, by)
    shapes = tuple(_scaled(one, by) for one in drawing.shapes)
    return dataclasses.replace(drawing, shapes=shapes, low_mm=low, high_mm=high)


def _scaled(shape: Shape, by: float) -> Shape:
    if isinstance(shape, Line):
        return dataclasses.replace(shape, points_mm=shape.points_mm * by)
    if isinstance(shape, Polygon):
        return Polygon(tuple(one * by for one in shape.outlines_mm), shape.color)
    at = _times(shape.at_mm, by)
    if isinstance(shape, Circle):
        return dataclasses.replace(shape, at_mm=at, radius_mm=shape.radius_mm * by)
    if isinstance(shape, Text):
        return dataclasses.replace(shape, at_mm=at, size_mm=shape.size_mm * by)
    return dataclasses.replace(shape, at_mm=at, size_mm=_times(shape.size_mm, by))


def _times(spot: Spot, by: float) -> Spot:
    return spot[0] * by, spot[1] * by
