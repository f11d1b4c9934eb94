"""Run in a window by the screen tool: the demo in Blender with the sidebar open, as a picture."""

from __future__ import annotations

import sys

import bpy


async def main() -> int:
    """Open what was named, show the sidebar's tab, take the picture."""
    if named := [one for one in sys.argv if one.endswith(".blend")]:
        bpy.ops.wm.open_mainfile(filepath=named[0], load_ui=False)
        await pause(2)
        with view3d():
            for one in bpy.context.scene.objects:
                one.select_set("riseline_role" in one)
            bpy.ops.view3d.view_selected()
    await open_sidebar("Riseline")
    await pause(2)
    await shot("riseline")
    return 0
