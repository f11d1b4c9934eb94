"""A drawing as SVG 1.1 at true scale: one unit of its view box is a millimetre."""

from __future__ import annotations

from base64 import b64encode
from html import escape
from typing import TYPE_CHECKING

from ..pictures.png import png_bytes
from .drawing import PENS, Circle, Line, Polygon, Text

if TYPE_CHECKING:
    from ..arrays import Floats
    from .drawing import Color, Drawing, Picture, Shape


def drawing_svg(drawing: Drawing) -> str:
    """Return a drawing as the text of an SVG file.

    Parameters
    ----------
    drawing : Drawing

    Returns
    -------
    str
        Its width and height are given in mm, so that a program for cutters takes it at true size.
    """
    width, height = drawing.size_mm
    box = f"{drawing.low_mm[0]:.4f} {-drawing.high_mm[1]:.4f} {width:.4f} {height:.4f}"
    head = (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        'version="1.1" '
        f'width="{width:.4f}mm" height="{height:.4f}mm" viewBox="{box}" '
        'font-family="Helvetica, Arial, sans-serif">'
    )
    body = [_element(shape) for shape in drawing.shapes]
    declaration = '<?xml version="1.0" encoding="UTF-8"?>'
    title = f"<title>{escape(drawing.title)}</title>"
    return "\n".join([declaration, head, title, *body, "</svg>\n"])


def _element(shape: Shape) -> str:
    if isinstance(shape, Line):
        way = _path(shape.points_mm, closed=shape.closed)
        return f'<path d="{way}" fill="none" {_stroke(shape.kind)}/>'
    if isinstance(shape, Polygon):
        way = "".join(_path(one, closed=True) for one in shape.outlines_mm)
        return f'<path d="{way}" fill="{_color(shape.color)}" fill-rule="evenodd"/>'
    if isinstance(shape, Circle):
        fill = "none" if shape.color is None else _color(shape.color)
        (x, y), radius = shape.at_mm, shape.radius_mm
        place = f'cx="{x:.4f}" cy="{-y:.4f}" r="{radius:.4f}"'
        return f'<circle {place} fill="{fill}" {_stroke(shape.kind)}/>'
    return _text(shape) if isinstance(shape, Text) else _picture(shape)


def _picture(picture: Picture) -> str:
    (x, y), (width, height) = picture.at_mm, picture.size_mm
    data = b64encode(png_bytes(picture.pixels)).decode("ascii")
    place = f'x="{x:.4f}" y="{-y - height:.4f}" width="{width:.4f}" height="{height:.4f}"'
    return f'<image {place} xlink:href="data:image/png;base64,{data}"/>'


def _path(points: Floats, *, closed: bool) -> str:
    steps = "L".join(f"{x:.4f} {-y:.4f}" for x, y in points.tolist())
    return f"M{steps}" + ("Z" if closed else "")


def _stroke(kind: str) -> str:
    pen = PENS[kind]
    dashes = " ".join(f"{one:g}" for one in pen.dash_mm)
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f'class="{kind}" stroke="{_color(pen.color)}" stroke-width="{pen.width_mm:g}"{dashed}'


def _color(color: Color) -> str:
    return "#" + "".join(f"{round(255 * one):02x}" for one in color)


def _text(text: Text) -> str:
    x, y = text.at_mm
    turn = f' transform="rotate({-text.turn_deg:g} {x:.4f} {-y:.4f})"' if text.turn_deg else ""
    bold = ' font-weight="bold"' if text.bold else ""
    place = f'x="{x:.4f}" y="{-y:.4f}" font-size="{text.size_mm:g}"'
    return f'<text {place} text-anchor="{text.anchor}"{bold}{turn}>{escape(text.words)}</text>'
