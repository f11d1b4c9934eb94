"""All views of a layout's brush map: as pixels with marks, and as pictures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..geometry.solid import face_areas_mm2
from ..units import CM2_PER_MM2, mass_text, volume_text
from .classes import CLASS_COLORS, shown_classes
from .drawing import Legend, drawing
from .lean_map import lean_picture
from .marks import marks_of, question_of
from .raster import rendered, smooth_normals
from .views import VIEWS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..bubbles.result import BubblesResult
    from ..case.result import CaseResult
    from .marks import Mark, Question
    from .raster import Raster
    from .views import View


LEAN_MAP = "lean_map"


@dataclass(frozen=True, eq=False)
class Seen:
    """What is seen of the brush map from one side, and the marks of the largest pockets on it."""

    view: View
    raster: Raster
    marks: tuple[Mark, ...]
    question: Question | None


def seen_from_all_sides(bubbles: BubblesResult, case: CaseResult) -> tuple[Seen, ...]:
    """Return the brush map from below and from four sides.

    Parameters
    ----------
    bubbles : BubblesResult
    case : CaseResult
        Its master is what is drawn, in the job frame.
    """
    master, shown = case.master, shown_classes(bubbles)
    normals = smooth_normals(master)
    colors = np.array(list(CLASS_COLORS.values()))[shown]
    found = []
    for view in VIEWS:
        raster = rendered(master, normals, colors, view)
        marks = marks_of(bubbles.pockets, case.placement, view, raster)
        question = question_of(bubbles.doubt, case.placement, view, raster)
        found.append(Seen(view, raster, marks, question))
    return tuple(found)


def legend_of(bubbles: BubblesResult, case: CaseResult) -> Legend:
    """Return the area of each class that is shown, the gravest first, and a line on the whole."""
    shown = shown_classes(bubbles)
    areas = np.bincount(shown, face_areas_mm2(case.master), len(CLASS_COLORS)) * CM2_PER_MM2
    by_kind = dict(zip(CLASS_COLORS, areas.tolist(), strict=True))
    return Legend(
        {kind: by_kind[kind] for kind in reversed(by_kind) if by_kind[kind] > 0.0},
        f"Brush first: {bubbles.prebrush_area_cm2:.1f} cm², {mass_text(bubbles.prebrush_g)} of "
        f"rubber. Trapped air: {volume_text(bubbles.trapped_ml)}.",
    )


def pictures_of(
    seen: Sequence[Seen], legend: Legend, bubbles: BubblesResult, case: CaseResult
) -> dict[str, str]:
    """Return what is seen as texts of SVG files, by view.

    Where leans were looked at, their map comes with them, as `LEAN_MAP`.
    """
    found = {
        one.view.name: drawing(one.view.title, one.raster, one.marks, legend, one.question)
        for one in seen
    }
    if bubbles.leans:
        found[LEAN_MAP] = lean_picture(bubbles, case.placement)
    return found


def picture_names(bubbles: BubblesResult) -> tuple[str, ...]:
    """Return the names of the pictures that there will be."""
    return (*(view.name for view in VIEWS), *([LEAN_MAP] if bubbles.leans else []))
