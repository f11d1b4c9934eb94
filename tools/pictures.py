"""Pictures of a layout in the scene, taken by Cycles on the processor."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import bpy
from mathutils import Vector

if TYPE_CHECKING:
    from pathlib import Path

SIZE = (760, 640)
SAMPLES = 12
APART = {"master", "case", "funnel", "base", "slit"}


def take(scene: bpy.types.Scene, mark: str, front_deg: float, folder: Path) -> list[Path]:
    """Render mold, brush map and parts apart; return the pictures.

    Parameters
    ----------
    scene : bpy.types.Scene
        Holds the layout; is changed, so save it before.
    mark : str
        The custom property that bears each object's role.
    front_deg : float
        Where the piece's best side looks, counter-clockwise from +x.
    folder : pathlib.Path
        Where the pictures go.
    """
    things = [one for one in scene.objects if one.get(mark) in APART]
    for one in scene.objects:
        one.hide_render = one not in things
    set_studio(scene, front_deg)
    shots = []
    aim(scene, things, turn_deg=front_deg + 18, rise_deg=7)
    shots.append(shoot(scene, folder / "mold.png"))
    master = [one for one in things if one[mark] == "master"]
    for one in things:
        one.hide_render = one not in master
    aim(scene, master, turn_deg=front_deg + 25, rise_deg=-20)
    shots.append(shoot(scene, folder / "brush_map.png"))
    for one in things:
        one.hide_render = False
        pull_apart(one, one[mark], master[0])
    aim(scene, things, turn_deg=-32, rise_deg=20)
    shots.append(shoot(scene, folder / "parts.png"))
    return shots


def pull_apart(one: bpy.types.Object, role: str, master: bpy.types.Object) -> None:
    """Move a part away from the master: halves to front and back, the funnel up, the board down."""
    size = max(master.dimensions)
    middle = sum((Vector(corner) for corner in one.bound_box), Vector()) / 8.0
    if role == "case":
        one.location.y += math.copysign(0.75 * size, middle.y)
    elif role == "funnel":
        one.location.z += 0.35 * size
    elif role == "base":
        one.location.z -= 0.2 * size


def set_studio(scene: bpy.types.Scene, front_deg: float) -> None:
    """Light the scene softly, and let Cycles run on the processor."""
    world = bpy.data.worlds.new("Studio")
    if bpy.app.version < (5, 0):  # from 5.0 on there are always nodes
        world.use_nodes = True
    world.node_tree.nodes["Background"].inputs["Color"].default_value = (0.92, 0.94, 0.96, 1.0)
    world.node_tree.nodes["Background"].inputs["Strength"].default_value = 0.72
    scene.world = world
    sun = bpy.data.lights.new("Sun", "SUN")
    sun.energy, sun.angle = 1.7, math.radians(12)
    lamp = bpy.data.objects.new("Sun", sun)
    lamp.rotation_euler = (math.radians(50), 0.0, math.radians(front_deg + 60.0))
    scene.collection.objects.link(lamp)
    scene.render.engine = "CYCLES"
    scene.cycles.device = "CPU"
    scene.cycles.samples = SAMPLES
    scene.cycles.use_denoising = True
    scene.cycles.transparent_max_bounces = 24
    scene.render.resolution_x, scene.render.resolution_y = SIZE
    scene.view_settings.view_transform = "Standard"


def aim(
    scene: bpy.types.Scene, things: list[bpy.types.Object], turn_deg: float, rise_deg: float
) -> None:
    """Look at the middle of some objects from a direction, near enough to fill the picture."""
    bpy.context.view_layer.update()
    corners = [one.matrix_world @ Vector(corner) for one in things for corner in one.bound_box]
    middle = (Vector(map(min, zip(*corners))) + Vector(map(max, zip(*corners)))) / 2.0
    if scene.camera is None:
        scene.camera = bpy.data.objects.new("Camera", bpy.data.cameras.new("Camera"))
        scene.collection.objects.link(scene.camera)
    camera = scene.camera
    turn, rise = math.radians(turn_deg), math.radians(rise_deg)
    away = Vector(
        (math.cos(turn) * math.cos(rise), math.sin(turn) * math.cos(rise), math.sin(rise))
    )
    camera.rotation_euler = away.to_track_quat("Z", "Y").to_euler()
    camera.data.lens, camera.data.clip_start, camera.data.clip_end = 70.0, 0.001, 1000.0
    camera.location = middle + away
    bpy.context.view_layer.update()
    flat = [number for corner in corners for number in corner]
    location, _ = camera.camera_fit_coords(bpy.context.evaluated_depsgraph_get(), flat)
    camera.location = location + away * (location - middle).length * 0.05


def shoot(scene: bpy.types.Scene, path: Path) -> Path:
    """Render a picture into a file."""
    scene.render.filepath = str(path)
    bpy.ops.render.render(write_still=True)
    return path
