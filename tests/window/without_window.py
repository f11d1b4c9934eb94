"""The same way without a window, in any Blender: the installed zip lays out and exports.

blender --background --factory-startup --python-exit-code 1
        --python without_window.py -- ZIP SCAN.ply DIR
"""

import json
import sys
from pathlib import Path

import bpy


def main(zip_file, scan, folder):
    """Install, import, lay out, export."""
    bpy.ops.extensions.package_install_files(
        filepath=zip_file, repo="user_default", enable_on_install=True
    )
    assert hasattr(bpy.types.Scene, "riseline"), "the zip was not enabled"
    bpy.ops.riseline.import_scan(filepath=scan)
    bpy.context.scene.riseline.scan.height = 0.12065
    assert bpy.ops.riseline.lay_out() == {"FINISHED"}
    assert bpy.ops.riseline.export_parts(filepath=folder) == {"FINISHED"}
    job = json.loads((Path(folder) / "job.json").read_text(encoding="utf-8"))
    assert job["parts"]


if __name__ == "__main__":
    main(*sys.argv[sys.argv.index("--") + 1 :])
