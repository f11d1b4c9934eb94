"""The cut on the piece in its block, towards the cut and from its side, at a stated scale."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

import numpy as np

from ..constants.sheet import CUT_VIEW_MM, CUT_VIEW_PIXELS, CUT_VIEW_SCALES, LEAST_DASH_RUN_MM
from ..pictures.raster import rendered, smooth_normals
from ..pictures.views import View
from .blocks import Figure
from .drawing import Drawing, Line, Picture, Text, drawing_of, rectangle
from .shapes import moved

if TYPE_CHECKING:
    from ..arrays import Bools, Floats
    from ..case.result import CaseResult
    from ..cut.result import CutResult
    from ..pictures.raster import Raster
    from .drawing import Shape

PIECE = (0.72, 0.69, 0.64)
"""Linear red, green and blue of the piece: light, so that lines stand out on it."""

SIZE_MM, GAP_MM = 3.0, 6.0
SOME_FACES, SOME_POINTS = 20_000, 20
"""Enough to tell on which side of the piece the slit is."""

LINES = "Thick: on the piece. Thin: on the outside of the block. Dashed: hidden by the piece."
LEGEND = (LINES, "To look at only: measure nothing here.")


def cut_figures(case: CaseResult, cut: CutResult) -> tuple[Figure, ...]:
    """Return the cut on the piece as one sees it from where the knife goes in, and from its side.

    Parameters
    ----------
    case : CaseResult
        Piece and outside of the block.
    cut : CutResult
        Slit or halves.

    Returns
    -------
    tuple of Figure
        Two of one scale, the larger of both that fits; none where there is no trace.
    """
    if len(cut.zigzag_mm) < 2:
        return ()
    normals = smooth_normals(case.master)
    views = _views(case, cut, normals)
    scale = _scale(case, views)
    return tuple(_figure(case, cut, normals, view, scale) for view in views)


def cut_views_drawing(figures: tuple[Figure, ...]) -> tuple[Drawing, ...]:
    """Return the figures side by side as one drawing for the templates; none of none."""
    if not figures:
        return ()
    shapes: list[Shape] = []
    left = 0.0
    for figure in figures:
        one = figure.drawing
        shapes += [moved(shape, (left - one.low_mm[0], -one.low_mm[1])) for shape in one.shapes]
        shapes.append(Text((left, -SIZE_MM - 2.0), figure.caption, SIZE_MM))
        left += one.size_mm[0] + GAP_MM
    shapes += [
        Text((0.0, -SIZE_MM - 2.0 - 1.5 * SIZE_MM * row), words, SIZE_MM)
        for row, words in enumerate(LEGEND, start=1)
    ]
    return (drawing_of("knife_views", "Cut on the piece, to look at", shapes),)


def _views(case: CaseResult, cut: CutResult, normals: Floats) -> tuple[View, View]:
    """Return a view against the way that the slit is seen, or along the pull of halves; its side.

    Of a view's rows, right by up is towards the eye.
    """
    x, y = _eye(cut).tolist()
    up = (0.0, 0.0, 1.0)
    if cut.kind == "two halves":
        return (
            View("knife_front", "Along the pull", (-y, x, 0.0), up),
            View("knife_side", "From its side: pull to left and right", (x, y, 0.0), up),
        )
    front = View("knife_front", "Towards the slit", (-y, x, 0.0), up)
    if _slit_normal(case, cut, normals) @ front.right > 0.0:  # from the side where less is hidden
        return front, View("knife_side", "From its side: the slit to the left", (-x, -y, 0.0), up)
    return front, View("knife_side", "From its side: the slit to the right", (x, y, 0.0), up)


def _slit_normal(case: CaseResult, cut: CutResult, normals: Floats) -> Floats:
    """Return which way the piece faces along the slit (3,), roughly: from some faces near it."""
    some = slice(None, None, max(len(normals) // SOME_FACES, 1))
    centers = case.master.vertices[case.master.faces[some]].mean(axis=1)
    points = cut.slit_mm[:: max(len(cut.slit_mm) // SOME_POINTS, 1)]
    near = [int(np.linalg.norm(centers - point, axis=1).argmin()) for point in points]
    facing: Floats = normals[some][near].sum(axis=0)
    return facing


def _eye(cut: CutResult) -> Floats:
    """Return in plan from where the first view looks at the block's middle, a unit vector (2,)."""
    halves = [one for one in cut.ways if one.kind == cut.kind == "two halves"]
    if halves:
        turn = np.radians(halves[0].towards_deg)
        return np.array([np.cos(turn), np.sin(turn)])
    middle = cut.zigzag_mm[:, :2].mean(axis=0)
    length = float(np.linalg.norm(middle))
    return np.array([0.0, 1.0]) if length == 0.0 else middle / length


def _scale(case: CaseResult, views: tuple[View, View]) -> float:
    wide = max(float(np.ptp(_across(case, view))) for view in views)
    needed = max(wide / CUT_VIEW_MM[0], case.level_z_mm / CUT_VIEW_MM[1])
    return next((one for one in CUT_VIEW_SCALES if one >= needed), float(np.ceil(needed)))


def _across(case: CaseResult, view: View) -> Floats:
    """Return how far to the right of the view the corners of the block lie (k,)."""
    across: Floats = case.bore.outline_mm @ np.array(view.right[:2])
    return across


def _figure(case: CaseResult, cut: CutResult, normals: Floats, view: View, scale: float) -> Figure:
    colors = np.broadcast_to(np.array(PIECE), normals.shape)
    raster = rendered(case.master, normals, colors, view, CUT_VIEW_PIXELS)
    tall, wide = raster.depth_mm.shape
    size = wide * raster.pixel_mm / scale, tall * raster.pixel_mm / scale
    at = raster.left_mm / scale, raster.top_mm / scale - size[1]
    across = _across(case, view)
    left, right = float(across.min()) / scale, float(across.max()) / scale
    top = case.level_z_mm / scale
    on_piece = cut.parting_mm or (cut.slit_mm,)
    shapes: list[Shape] = [
        Picture(at, size, raster.pixels),
        Line(rectangle((left, 0.0), (right, top)), "thin", closed=True),
        *_seen(cut.zigzag_mm, view, raster, scale, "cut"),
        *(shape for one in on_piece for shape in _seen(one, view, raster, scale, "heavy")),
        *_sides(view, left, right),
    ]
    box = (left - 1.0, -SIZE_MM - 2.5), (right + 1.0, top + 1.0)
    drawing = Drawing(view.name, view.title, tuple(shapes), *box)
    return Figure(drawing, f"{view.title}, scale 1:{scale:g}")


def _sides(view: View, left: float, right: float) -> list[Shape]:
    """Return front and back under the view, where they are to its left and right, or what it is."""
    y, front = -SIZE_MM - 1.0, -view.right[1]  # the front looks along -y
    if abs(front) < np.sqrt(0.5):
        seen = "FRONT" if view.axes[2] @ [0.0, -1.0, 0.0] > 0.0 else "BACK"
        return [Text(((left + right) / 2.0, y), seen, SIZE_MM, "middle", bold=True)]
    words = ("BACK", "FRONT") if front > 0.0 else ("FRONT", "BACK")
    return [
        Text((left, y), words[0], SIZE_MM, bold=True),
        Text((right, y), words[1], SIZE_MM, "end", bold=True),
    ]


def _seen(points: Floats, view: View, raster: Raster, scale: float, kind: str) -> list[Shape]:
    """Return a line (k, 3) as the view sees it: of its kind where bare, dashed where hidden."""
    if len(points) < 2:
        return []
    fine = _finer(points @ view.axes.T, raster.pixel_mm)
    hidden = np.array([raster.is_hidden(one) for one in fine])
    shapes: list[Shape] = []
    edges = _run_edges(hidden, fine, LEAST_DASH_RUN_MM * scale)
    for start, end in itertools.pairwise(edges):
        run = fine[start : min(end + 1, len(fine)), :2] / scale
        dashed = bool(np.mean(hidden[start:end]) > 0.5)
        if len(run) > 1:
            shapes.append(Line(run, "fine dash" if dashed else kind))
    return shapes


def _finer(points: Floats, step_mm: float) -> Floats:
    """Return a line with points between its own, none farther apart than a step."""
    along = np.append(0.0, np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1)))
    at = np.union1d(along, np.arange(0.0, along[-1], step_mm))
    columns = [np.interp(at, along, points[:, k]) for k in range(3)]
    return np.column_stack(columns)


def _run_edges(hidden: Bools, line: Floats, least_mm: float) -> list[int]:
    """Return where runs of hidden and of bare points begin, short runs joined to the one before."""
    along = np.append(0.0, np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1)))
    changes = [0, *(np.flatnonzero(np.diff(hidden)) + 1).tolist(), len(hidden)]
    kept = [0]
    dashed = bool(hidden[0])
    for start, end in itertools.pairwise(changes):
        long = along[min(end, len(along) - 1)] - along[start] >= least_mm
        if long and bool(hidden[start]) != dashed:
            kept.append(start)
            dashed = not dashed
    return [*kept, len(hidden)]
