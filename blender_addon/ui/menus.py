"""Menu entries: there for who looks in menus, and found by F3 search."""

from __future__ import annotations

import bpy

from . import ids


class MoldMenu(bpy.types.Menu):
    """Lay out a rubber mold"""

    bl_idname = ids.MENU
    bl_label = "Rubber Mold"

    def draw(self, context: bpy.types.Context) -> None:
        self.layout.operator_context = "INVOKE_DEFAULT"
        self.layout.operator(ids.LAY_OUT, icon="MOD_FLUIDSIM")
        self.layout.operator(ids.EXPORT_PARTS, icon="EXPORT")
        self.layout.separator()
        self.layout.operator(ids.REMOVE_LAYOUT, icon="TRASH")


def _in_object_menu(menu: bpy.types.Menu, _context: bpy.types.Context) -> None:
    menu.layout.separator()
    menu.layout.menu(ids.MENU)


def _in_face_menu(menu: bpy.types.Menu, _context: bpy.types.Context) -> None:
    menu.layout.separator()
    for operator in ids.PAINTING:
        menu.layout.operator(operator)


def _in_import_menu(menu: bpy.types.Menu, _context: bpy.types.Context) -> None:
    menu.layout.operator(ids.IMPORT_SCAN, text="Scan for a Mold (.stl/.ply/.obj)")


def _in_export_menu(menu: bpy.types.Menu, _context: bpy.types.Context) -> None:
    menu.layout.operator(ids.EXPORT_PARTS, text="Mold Parts (folder)")


ENTRIES = (
    (bpy.types.VIEW3D_MT_object, _in_object_menu),
    (bpy.types.VIEW3D_MT_edit_mesh_faces, _in_face_menu),
    (bpy.types.TOPBAR_MT_file_import, _in_import_menu),
    (bpy.types.TOPBAR_MT_file_export, _in_export_menu),
)
