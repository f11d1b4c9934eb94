"""From the scene to the printer and the bench."""

from __future__ import annotations

import bpy

from ...bridge.writing import PARTS
from .. import ids
from ..into_folder import IntoFolder


class ExportParts(IntoFolder, bpy.types.Operator):
    """Write a folder with the parts to print and the numbers of the job"""

    bl_idname = ids.EXPORT_PARTS
    bl_label = "Export Mold Parts"
    ending = "mold"
    what = PARTS
