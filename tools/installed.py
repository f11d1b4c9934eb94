"""Run by a Blender: install the zip, see it enabled, and lay out a sample by what was installed."""

from __future__ import annotations

import json
import sys
import tempfile
from importlib import import_module
from pathlib import Path

import bpy

SAMPLES = Path(__file__).resolve().parent.parent / "sample_scenes"


def enabled() -> str | None:
    """Return the module of the extension once it is enabled."""
    for name in [addon.module for addon in bpy.context.preferences.addons]:
        if name.endswith(".riseline") and getattr(
            sys.modules.get(name), "__addon_enabled__", False
        ):
            return name
    return None


def main() -> int:
    """Return 0 when the installed extension laid out the sample."""
    if not enabled():
        target = next(one for one in sys.argv if one.endswith(".zip"))
        bpy.ops.extensions.package_install_files(
            filepath=target, repo="user_default", enable_on_install=True
        )
    if not (module := enabled()):
        print("The extension is not enabled after its zip was installed")
        return 1
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "job"
        scan = SAMPLES / "watering_can.stl"
        settings = scan.with_suffix(".toml")
        code = import_module(module + ".cli").main(
            ["layout", str(scan), "--settings", str(settings), "--out", str(out)]
        )
        if code:
            print("The installed extension laid out nothing, exit", code)
            return 1
        job = json.loads((out / "job.json").read_text(encoding="utf-8"))
    print(module, "laid out", scan.name, "with rubber", job["rubber"]["volume_ml"], "ml")
    return 0 if job["scan"]["through_holes"] == 1 else 1


if code := main():
    sys.exit(code)
