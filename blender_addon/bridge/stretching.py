"""The stretch that the rubber needs, by height, as it is stored for the plot in the view."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import bpy
import numpy as np

if TYPE_CHECKING:
    from ..core.cut.result import CutResult

POINTS = 160
"""Of the stored curve: as many as a plot can show."""

DIGITS = 3


def properties() -> dict[str, Any]:
    """Return a new property for the switch of the plot."""
    return {
        "show_stretch_curve": bpy.props.BoolProperty(
            name="Stretch by Height",
            description="Draw into the 3D view how far the rubber must stretch at each height",
            default=False,
        )
    }


def curve_text(cut: CutResult) -> str:
    """Return the curve of a cut as text: rows of stretch and height, and the slit's end."""
    curve = cut.curve
    if curve is None or not len(curve.heights_mm):
        return ""
    count = min(len(curve.heights_mm), POINTS)
    kept = np.unique(np.linspace(0, len(curve.heights_mm) - 1, count).astype(int))
    kept = np.union1d(kept, [int(np.argmax(curve.needed))])
    rows = np.column_stack([curve.needed[kept], curve.heights_mm[kept]]).round(DIGITS)
    end_mm = float(cut.slit_mm[:, 2].max()) if len(cut.slit_mm) else 0.0
    return json.dumps({"rows": rows.tolist(), "end_mm": round(end_mm, DIGITS)})


def curve_of(whole: bpy.types.PropertyGroup) -> tuple[np.ndarray, float] | None:
    """Return stretch and height (n, 2) and the slit's end in mm, or None without a curve."""
    text = whole.results.stretch_curve
    if not text:
        return None
    stored = json.loads(text)
    return np.array(stored["rows"]), stored["end_mm"]
