"""The whole job on a sample scan, done by the add-on itself inside Blender's Python module.

Started by `dev.py demo`; leaves in build/demo the job's folder, a .blend and pictures.
"""

from __future__ import annotations

import dataclasses
import json
import math
import shutil
import sys
import time

import bpy
import pictures
from place import BUILD, ROOT, say

import blender_addon
from blender_addon.bridge import names
from blender_addon.bridge.kept import kept
from blender_addon.core.files.read import read
from blender_addon.core.job_summary import summary
from blender_addon.core.settings import Settings, load

SAMPLE = "toadstool.ply"
OUT = BUILD / "demo"
M_PER_MM = 0.001


def main() -> int:
    """Lay out the sample, save, take pictures; return 0 when all is there."""
    began = time.monotonic()
    shutil.rmtree(OUT, ignore_errors=True)
    OUT.mkdir(parents=True)
    bpy.ops.wm.read_homefile(use_empty=True, use_factory_startup=True)
    blender_addon.register()
    try:
        scene = bpy.context.scene
        put_scan(scene)
        set_up(scene, load((ROOT / "sample_scenes" / SAMPLE).with_suffix(".toml")))
        bpy.ops.riseline.show_millimeters()
        say(f"Laying out {SAMPLE}")
        bpy.ops.riseline.lay_out()
        layout = kept.layout(scene.riseline.results.token)
        say("Writing the job")
        bpy.ops.riseline.export_parts(filepath=str(OUT / "job"))
        bpy.ops.wm.save_as_mainfile(filepath=str(OUT / "toadstool.blend"), compress=True)
        taken = pictures.take(scene, names.OWN, front_of(layout), OUT)
    finally:
        blender_addon.unregister()  # or Blender 4.5 does not end
    job = json.loads((OUT / "job" / "job.json").read_text(encoding="utf-8"))
    print(summary(job, "build/demo/job"))
    print(f"\nDone in {time.monotonic() - began:.0f} s. Open these:")
    for path in [OUT / "toadstool.blend", OUT / "job" / "job.json", *taken]:
        print(f"  {path.relative_to(ROOT)}")
    return 0


def put_scan(scene: bpy.types.Scene) -> None:
    """Put the sample into the scene, true to size, as the selected object."""
    mesh = read(ROOT / "sample_scenes" / SAMPLE)
    data = bpy.data.meshes.new("Toadstool Scan")
    data.from_pydata((mesh.vertices * M_PER_MM).tolist(), [], mesh.faces.tolist())
    data.shade_smooth()
    thing = bpy.data.objects.new(data.name, data)
    scene.collection.objects.link(thing)
    bpy.context.view_layer.objects.active = thing
    thing.select_set(state=True)
    bpy.context.view_layer.update()


def set_up(scene: bpy.types.Scene, settings: Settings) -> None:
    """Set in the scene what differs from the defaults."""
    for stage in dataclasses.fields(Settings):
        wanted, default = getattr(settings, stage.name), stage.default_factory()
        for field in dataclasses.fields(wanted):
            if (value := getattr(wanted, field.name)) != getattr(default, field.name):
                setattr(getattr(scene.riseline, stage.name), field.name, value)


def front_of(layout: object) -> float:
    """Return where the piece's front looks in the job frame, in degrees from +x."""
    way = math.radians(max(layout.settings.case.front_deg, 0.0))
    x, y = layout.case.placement[:2, :2] @ (math.cos(way), math.sin(way))
    return math.degrees(math.atan2(y, x))


if __name__ == "__main__":
    sys.exit(main())
