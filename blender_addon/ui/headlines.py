"""The few numbers that matter most, in words, the last the most; panel and view write the same."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..bridge.lengths import shown_area, shown_length
from ..bridge.sculpts import piece_of, pieces
from ..core.case.case import ONE_DIAMETER, STOCK
from ..core.units import mass_text, volume_text

if TYPE_CHECKING:
    import bpy


def named(scene: bpy.types.Scene) -> str:
    """Return whose numbers these are, where that is not plain: of several, or of one that is gone.

    Whoever weighs out the rubber of another piece has wasted it.
    """
    piece = piece_of(scene)
    if piece is None:
        return f"{scene.riseline.results.source} (Deleted)"
    return piece.name if len(pieces(scene)) > 1 else ""


def headlines(scene: bpy.types.Scene) -> tuple[tuple[str, str], ...]:
    """Return label and value of each, from what is stored with the scene."""
    found = scene.riseline.results
    area = shown_area(scene, found.bubbles_prebrush_area_cm2, ".0f")
    brush = f"{area}, {mass_text(found.bubbles_prebrush_g)}"
    noun = "Tube" if found.case_kind == STOCK else "Case"
    across = "Inside" if found.case_kind in ONE_DIAMETER else "Widest"
    return (
        ("Trapped Air", volume_text(found.bubbles_trapped_ml)),
        ("Brush First", brush),
        (f"{noun}, {across}", shown_length(scene, found.case_inner_diameter_mm)),
        (f"{noun}, Height", shown_length(scene, found.case_height_mm)),
        ("Rubber to Weigh", mass_text(found.rubber_mass_g)),
    )
