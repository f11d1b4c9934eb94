"""Blender's own exact boolean, which made none of the parts; only where Blender is."""

from __future__ import annotations

import bpy
import numpy as np


def overlap_mm3(one, other):
    """Return what two objects share, by Blender's own exact solver."""
    copy = one.copy()
    copy.data = one.data.copy()
    bpy.context.scene.collection.objects.link(copy)
    cut = copy.modifiers.new("shared", "BOOLEAN")
    cut.operation, cut.solver, cut.object = "INTERSECT", "EXACT", other
    bpy.context.view_layer.update()
    mesh = copy.evaluated_get(bpy.context.evaluated_depsgraph_get()).to_mesh()
    mesh.calc_loop_triangles()
    at = np.array([v.co for v in mesh.vertices])
    faces = np.array([t.vertices for t in mesh.loop_triangles])
    volume = np.linalg.det(at[faces] - at.mean(axis=0)).sum() / 6 if len(faces) else 0.0
    data = copy.data
    bpy.data.objects.remove(copy)
    bpy.data.meshes.remove(data)
    return 1e9 * volume
