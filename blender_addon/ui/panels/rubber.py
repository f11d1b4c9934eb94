"""What to weigh out."""

from __future__ import annotations

import bpy

from ...core.units import mass_text, time_text, volume_text
from .drawing import StagePanel, fact, settings_panel, words

CAUTION = (
    "Wear gloves and goggles and keep air moving. Density, pot life and mix ratio are typical "
    "values: enter those of your data sheet, it goes before them."
)


class RubberPanel(StagePanel, bpy.types.Panel):
    """The rubber for the block"""

    bl_idname = "RISELINE_PT_rubber"
    bl_label = "Rubber"

    def draw_results(
        self, context: bpy.types.Context, layout: bpy.types.UILayout, found: bpy.types.PropertyGroup
    ) -> None:
        fact(layout, "To Weigh", mass_text(found.rubber_mass_g))
        fact(layout, "To Mix", volume_text(found.rubber_mix_ml))
        fact(layout, "Fills the Case", volume_text(found.rubber_volume_ml))
        fact(layout, "Pour Takes", time_text(found.rubber_pour_s))
        fact(layout, "Pot Life", time_text(found.rubber_pot_life_s))
        for number, batch in enumerate(found.batches, start=1):
            text = f"{mass_text(batch.a_g)} A + {mass_text(batch.b_g)} B"
            fact(layout, f"Batch {number}", text)
        words(layout, context, CAUTION, "ERROR")


RubberSettingsPanel = settings_panel("rubber", RubberPanel.bl_idname)
