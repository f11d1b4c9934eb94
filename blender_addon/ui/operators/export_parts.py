"""From the scene to the printer and the bench."""

from __future__ import annotations

from typing import TYPE_CHECKING

import bpy

from ...bridge.job import export
from .. import ids
from ..into_folder import IntoFolder

if TYPE_CHECKING:
    from pathlib import Path


class ExportParts(IntoFolder, bpy.types.Operator):
    """Write a folder with the parts to print and the numbers of the job"""

    bl_idname = ids.EXPORT_PARTS
    bl_label = "Export Mold Parts"
    ending = "mold"
    what = "The parts"

    def write(self, scene: bpy.types.Scene, folder: Path) -> None:
        export(scene, folder)
