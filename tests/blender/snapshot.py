"""Everything of a scene that a person may have made, as bytes and texts that compare.

Imports nothing of the add-on: a window runs it beside an installed zip.
"""

from __future__ import annotations

import bpy
import numpy as np


def of_object(thing):
    """Return all of an object and its mesh that must stay as it is."""
    data = thing.data
    return {
        "name": (thing.name, data.name, data.users),
        "matrix": np.array(thing.matrix_basis).tobytes(),  # the world's is not kept while hidden
        "keys": sorted(thing.keys()) + sorted(data.keys()),
        "shown": (thing.select_get(), thing.hide_get(), thing.hide_viewport, thing.hide_render),
        "collections": [one.name for one in thing.users_collection],
        "modifiers": [one.name for one in thing.modifiers],
        "materials": [slot.name for slot in thing.material_slots],
        "attributes": {one.name: _bytes(one) for one in data.attributes},
        "faces": _bytes_of(data.loops, "vertex_index", 1, np.int32),
        "slots": _bytes_of(data.polygons, "material_index", 1, np.int32),
    }


def of_file():
    """Return what is in the file but for the add-on's own settings."""
    scene = bpy.context.scene
    return {
        "meshes": {one.name: of_object(one) for one in scene.objects if one.type == "MESH"},
        "objects": sorted(one.name for one in bpy.data.objects),
        "data": sorted(one.name for one in bpy.data.meshes),
        "materials": sorted(one.name for one in bpy.data.materials),
        "collections": sorted(one.name for one in bpy.data.collections),
        "active": getattr(bpy.context.view_layer.objects.active, "name", None),
        "units": (scene.unit_settings.system, scene.unit_settings.scale_length),
        "results": (scene.riseline.results.token, len(scene.riseline.results.warnings)),
    }


def _bytes(attribute):
    key, width, kind = {
        "FLOAT_VECTOR": ("vector", 3, np.float32),
        "FLOAT2": ("vector", 2, np.float32),
        "FLOAT": ("value", 1, np.float32),
        "INT": ("value", 1, np.int32),
        "BOOLEAN": ("value", 1, bool),
        "INT32_2D": ("value", 2, np.int32),
        "FLOAT_COLOR": ("color", 4, np.float32),
        "BYTE_COLOR": ("color", 4, np.float32),
    }[attribute.data_type]
    return _bytes_of(attribute.data, key, width, kind)


def _bytes_of(items, key, width, kind):
    values = np.zeros(len(items) * width, dtype=kind)
    items.foreach_get(key, values)
    return values.tobytes()
