"""On which side of the piece the 3D cursor stands, as the setting of the slit's start counts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from mathutils import Vector

from ..core.cut.start import start_deg
from . import names
from .kept import kept
from .lengths import mm_per_unit
from .show import own_objects

if TYPE_CHECKING:
    import bpy


def cursor_deg(scene: bpy.types.Scene) -> float | None:
    """Return the angle, or None where the master or its layout is gone."""
    things = own_objects(scene)
    master = next((one for one in things if one[names.OWN] == names.MASTER_ROLE), None)
    layout = kept.layout(scene.riseline.results.token)
    if master is None or layout is None:
        return None
    at = master.matrix_world.inverted() @ Vector(scene.cursor.location)
    return start_deg(layout.case, np.array(at) * mm_per_unit(scene))
