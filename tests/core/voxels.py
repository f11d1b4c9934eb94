"""A solid on a grid of its own, with an empty cell all round."""

from __future__ import annotations

import numpy as np

from blender_addon.core.geometry.voxels import voxels_at


def solid_voxels(mesh, pitch_mm):
    low, high = mesh.bounds
    shape = np.ceil((high - low) / pitch_mm).astype(int) + 2
    return voxels_at(mesh, low - pitch_mm / 2.0, pitch_mm, tuple(shape.tolist()))
