"""How our panels write: facts, longer texts, settings."""

from __future__ import annotations

import bpy

from ...bridge.both_units import shown
from ...bridge.kept import kept
from ...bridge.lengths import in_inches
from ...bridge.outdated import outdated_stages
from ...bridge.properties import setting_fields, shown_name
from ...bridge.worded import refused_at, worded
from .. import ids
from ..shortened import panel_letters_pt, shortened
from ..wrapped import wrapped

PANEL_PREFIX = "RISELINE_PT_"

LETTER_PX = 6.4
"""Mean width of a letter of Blender's default font, at a resolution scale of 1."""

LETTERS_BESIDE = 9
"""Of a label that stands whole before a choice: looked at, in a sidebar of Blender's own width."""

BELOW_ZERO = {"front": "None", "split": "Best"}
"""What an angle below zero means, told before its number."""

AT_ZERO = {"pitch": "Auto", "tooth": "Auto", "deepest_fill": "By Class"}
"""The same of lengths that are found by themselves while none is given."""

FRAME_PX = 56
"""What panel, box and icon take off the width of the sidebar."""

BUTTON_PX = 24
"""What a small button beside it takes off too."""


class SidebarPanel:
    """What all our panels have in common."""

    bl_space_type = "VIEW_3D"
    bl_region_type = "UI"
    bl_category = ids.TAB
    bl_options = {"DEFAULT_CLOSED"}


class FoundPanel(SidebarPanel):
    """A panel that is there once there is a layout."""

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        return bool(context.scene.riseline.results.token)


class StagePanel(SidebarPanel):
    """A panel that has something to say once there is a layout; it is named for its stage."""

    bl_idname: str

    def draw_header_preset(self, context: bpy.types.Context) -> None:
        """Draw what shows while it is folded: out of date, warnings, the way to its page."""
        stage, found = stage_of(self), context.scene.riseline.results
        row = self.layout.row(align=True)
        if stage in outdated_stages(context.scene):
            row.label(icon="FILE_REFRESH")
        refused = refused_at(kept.trouble)[0].startswith(f"{stage}.")
        if refused or any(warning.stage == stage for warning in found.warnings):
            row.label(icon="ERROR")
        row.operator(ids.OPEN_HELP, text="", icon="QUESTION", emboss=False).page = stage
        row.separator()

    def draw(self, context: bpy.types.Context) -> None:
        found, column = context.scene.riseline.results, self.layout.column()
        if not found.token:
            column.label(text="Lay out the mold first", icon="INFO")
            return
        draw_outdated(column, context, stage_of(self))
        draw_warnings(column, context, stage_of(self))
        self.draw_results(context, column, found)

    def draw_results(
        self, context: bpy.types.Context, layout: bpy.types.UILayout, found: bpy.types.PropertyGroup
    ) -> None:
        """Draw what this stage found."""
        raise NotImplementedError


class RowList:
    """A list whose rows say what they say from their own item alone."""

    def draw_item(
        self,
        context: bpy.types.Context,
        layout: bpy.types.UILayout,
        _data: bpy.types.PropertyGroup,
        item: bpy.types.PropertyGroup,
        _icon: int,
        _active_data: bpy.types.PropertyGroup,
        _active_property: str,
    ) -> None:
        self.draw_row(context, layout.row(), item)

    def draw_row(
        self, context: bpy.types.Context, row: bpy.types.UILayout, item: bpy.types.PropertyGroup
    ) -> None:
        """Draw one row."""
        raise NotImplementedError


def stage_of(panel: bpy.types.Panel) -> str:
    """Return the name of the stage that a panel is about."""
    return panel.bl_idname.removeprefix(PANEL_PREFIX)


def draw_outdated(layout: bpy.types.UILayout, context: bpy.types.Context, stage: str) -> None:
    """Say that a stage no longer fits the settings, and offer to run it alone."""
    if stage not in outdated_stages(context.scene):
        return
    box = layout.box().column()
    words(box, context, "Out of date: something it rests on was changed.", "FILE_REFRESH")
    text = f"Update {stage.title()} Only"
    update = box.operator(ids.LAY_OUT, text=text, icon="FILE_REFRESH")
    update.only, update.at_work = stage, True


def draw_warnings(layout: bpy.types.UILayout, context: bpy.types.Context, stage: str) -> None:
    """Draw what a stage warns of, each with the way to its place."""
    for warning in context.scene.riseline.results.warnings:
        if warning.stage == stage:
            box = layout.box().column()
            words(box, context, worded(shown(context.scene, warning, "text")), "ERROR")
            if warning.has_place:
                box.operator(ids.SHOW_PLACE, icon="ZOOM_IN").at_mm = warning.at_mm


def fact(layout: bpy.types.UILayout, label: str, value: str) -> None:
    """Draw a label on the left and its value on the right."""
    row = layout.split(factor=0.52)
    row.label(text=label)
    row.label(text=value)


def fitted(context: bpy.types.Context, name: str, beside: int = 0) -> str:
    """Return a name that somebody gave as it fits one line, beside so many small buttons."""
    width_px = context.region.width / context.preferences.system.ui_scale
    return shortened(name, width_px - FRAME_PX - beside * BUTTON_PX, panel_letters_pt())


def words(
    layout: bpy.types.UILayout, context: bpy.types.Context, text: str, icon: str = "NONE"
) -> None:
    """Draw a text over as many lines as the width asks for, a little below what is above it."""
    scale = context.preferences.system.ui_scale
    letters = int((context.region.width / scale - FRAME_PX) / LETTER_PX)
    layout.separator(factor=0.5)
    column = layout.column(align=True)
    column.scale_y = 0.85
    for number, line in enumerate(wrapped(text, max(letters, 12))):
        first = icon if not number else "BLANK1"
        column.label(text=line, icon=first if icon != "NONE" else "NONE")


def draw_settings(
    layout: bpy.types.UILayout, context: bpy.types.Context, stage: str, left_out: frozenset[str]
) -> None:
    """Draw the settings of a stage but for some; below one that was refused, the reason.

    Each label stands inside its field: beside it, many would not fit the width of the sidebar.
    """
    layout.use_property_decorate = False
    column, scene = layout.column(), context.scene
    inches = in_inches(scene)
    refused, why = refused_at(kept.trouble, inches=inches)
    for field in setting_fields(stage):
        if field.name in left_out:
            continue
        at_fault = refused == f"{stage}.{field.name}"
        row = column.column()
        row.alert = at_fault
        draw_field(row, getattr(scene.riseline, stage), shown_name(field, inches=inches))
        if at_fault:
            words(row, context, why, "ERROR")


def draw_field(layout: bpy.types.UILayout, group: bpy.types.PropertyGroup, name: str) -> None:
    """Draw a field; above it its label, where the field would leave that no room.

    A path needs the whole width. Blender gives the label of a choice or a text a third of it.
    """
    prop = group.bl_rna.properties[name]
    if meant := _meant(group, name):
        layout.prop(group, name, text=f"{prop.name}: {meant}")
        return
    beside = prop.type not in {"ENUM", "STRING"} or len(prop.name) <= LETTERS_BESIDE
    if beside and not name.endswith("_file"):
        layout.prop(group, name)
        return
    column = layout.column(align=True)
    column.label(text=prop.name)
    column.prop(group, name, text="")


def _meant(group: bpy.types.PropertyGroup, name: str) -> str:
    """Return what a number stands for that is none; nothing where it is one."""
    if name in BELOW_ZERO and getattr(group, name) < 0.0:
        return BELOW_ZERO[name]
    return AT_ZERO[name] if name in AT_ZERO and getattr(group, name) == 0.0 else ""


def settings_panel(stage: str, parent: str, left_out: frozenset[str] = frozenset()) -> type:
    """Return a new sub-panel, closed by default, for the settings of a stage."""

    def draw(self: bpy.types.Panel, context: bpy.types.Context) -> None:
        draw_settings(self.layout, context, stage, left_out)
        self.layout.operator(ids.RESET_STAGE, icon="LOOP_BACK").stage = stage

    body = {
        "__doc__": f"What can be set for the stage {stage.title()}",
        "bl_label": "Settings",
        "bl_parent_id": parent,
        "draw": draw,
    }
    return type(f"{parent}_settings", (SidebarPanel, bpy.types.Panel), body)
