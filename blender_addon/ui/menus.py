"""Menu entries: there for who looks in menus, and found by F3 search."""

from __future__ import annotations

import bpy

from ..bridge.sculpts import pieces
from . import ids


class MoldMenu(bpy.types.Menu):
    """Lay out a rubber mold"""

    bl_idname = ids.MENU
    bl_label = "Rubber Mold"

    def draw(self, context: bpy.types.Context) -> None:
        self.layout.operator_context = "INVOKE_DEFAULT"
        self.layout.operator(ids.IMPORT_SCAN, icon="IMPORT")
        self.layout.operator_menu_enum(ids.OPEN_SAMPLE, "sample", icon="OUTLINER_OB_MESH")
        self.layout.separator()
        self.layout.operator(ids.LAY_OUT, icon="MOD_FLUIDSIM")
        self.layout.operator(ids.LOOK_FROM_BELOW, icon="TRIA_UP")
        self.layout.operator(ids.EXPORT_PARTS, icon="EXPORT")
        self.layout.operator(ids.EXPORT_PART, text="Export Selected Part")
        self.layout.operator(ids.WRITE_SHEETS, icon="FILE_TEXT")
        self.layout.separator()
        self.layout.operator(ids.REMOVE_LAYOUT, icon="TRASH")
        self.layout.operator(ids.OPEN_HELP, icon="HELP")


class PiecesMenu(bpy.types.Menu):
    """The pieces of this scene; each keeps its own settings and layout"""

    bl_idname = ids.PIECES
    bl_label = "Pieces"

    def draw(self, context: bpy.types.Context) -> None:
        for piece in pieces(context.scene):
            self.layout.operator(ids.WORK_ON, text=piece.name, icon="MESH_DATA").name = piece.name


def _in_object_menu(menu: bpy.types.Menu, _context: bpy.types.Context) -> None:
    menu.layout.separator()
    menu.layout.menu(ids.MENU)


def _in_face_menu(menu: bpy.types.Menu, _context: bpy.types.Context) -> None:
    menu.layout.separator()
    menu.layout.operator(ids.STAND_ON_FACES)
    for operator in ids.PAINTING + ids.MARKING:
        menu.layout.operator(operator)


def _in_import_menu(menu: bpy.types.Menu, _context: bpy.types.Context) -> None:
    menu.layout.operator(ids.IMPORT_SCAN, text="Scan for a Mold (.stl/.ply/.obj/.3mf)")


def _in_export_menu(menu: bpy.types.Menu, _context: bpy.types.Context) -> None:
    menu.layout.operator(ids.EXPORT_PARTS, text="Mold Parts (folder)")


ENTRIES = (
    (bpy.types.VIEW3D_MT_object, _in_object_menu),
    (bpy.types.VIEW3D_MT_edit_mesh_faces, _in_face_menu),
    (bpy.types.TOPBAR_MT_file_import, _in_import_menu),
    (bpy.types.TOPBAR_MT_file_export, _in_export_menu),
)
