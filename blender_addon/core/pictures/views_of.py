"""All pictures of a layout's brush map."""

from __future__ import annotations

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
    from ..bubbles.result import BubblesResult
    from ..case.result import CaseResult


LEAN_MAP = "lean_map"


def pictures_of(bubbles: BubblesResult, case: CaseResult) -> dict[str, str]:
    """Return the brush map from below and from four sides, as texts of SVG files by view.

    Where leans were looked at, their map comes with them, as `LEAN_MAP`.

    Parameters
    ----------
    bubbles : BubblesResult
    case : CaseResult
        Its master is what is drawn, in the job frame.
    """
    master, shown = case.master, shown_classes(bubbles)
    normals = smooth_normals(master)
    colors = np.array(list(CLASS_COLORS.values()))[shown]
    areas = np.bincount(shown, face_areas_mm2(master), len(CLASS_COLORS)) * CM2_PER_MM2
    by_kind = dict(zip(CLASS_COLORS, areas.tolist(), strict=True))
    legend = Legend(
        {kind: by_kind[kind] for kind in reversed(by_kind) if by_kind[kind] > 0.0},
        f"Brush first: {bubbles.prebrush_area_cm2:.1f} cm², {mass_text(bubbles.prebrush_g)} of "
        f"rubber. Trapped air: {volume_text(bubbles.trapped_ml)}.",
    )
    found = {}
    for view in VIEWS:
        raster = rendered(master, normals, colors, view)
        marks = marks_of(bubbles.pockets, case.placement, view, raster)
        question = question_of(bubbles.doubt, case.placement, view, raster)
        found[view.name] = drawing(view.title, raster, marks, legend, question)
    if bubbles.leans:
        found[LEAN_MAP] = lean_picture(bubbles, case.placement)
    return found


def picture_names(bubbles: BubblesResult) -> tuple[str, ...]:
    """Return the names of the pictures that there will be."""
    return (*(view.name for view in VIEWS), *([LEAN_MAP] if bubbles.leans else []))
