"""From the layout to paper."""

from __future__ import annotations

import bpy

from ...bridge.writing import SHEETS
from .. import ids
from ..into_folder import IntoFolder


class WriteSheets(IntoFolder, bpy.types.Operator):
    """Write the job sheet and all templates at true size into a folder, to be printed"""

    bl_idname = ids.WRITE_SHEETS
    bl_label = "Write Job Sheet"
    ending = "sheets"
    what = SHEETS
