"""The rubber in the case at the height of the slider, and the air that it has shut in by then."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..core.bubbles.lean_grid import hour_of
from ..core.rubber.leaned import STEPS, leaned_frame, leaned_rubber
from . import build, materials, names
from .lengths import mm_per_unit
from .pockets import ROWS_STORED
from .show import add_object, own_collection, own_objects

if TYPE_CHECKING:
    import bpy
    from mathutils import Matrix

    from ..core.desk.pour import Pour
    from ..core.geometry.mesh import Mesh
    from ..core.layout import Layout

CLEAR_OF_WALL = 0.995
"""Of the bore: two surfaces in one place would flicker."""

LEAST_SHARE = 1e-4
"""Of the full height: an object scaled to nothing cannot be turned or measured any more."""


def add_rubber(scene: bpy.types.Scene, place: Matrix, layout: Layout, pour: Pour) -> None:
    """Put the rubber and the air of each pocket into the layout's collection.

    Parameters
    ----------
    scene : bpy.types.Scene
    place : mathutils.Matrix
        Where the job's frame stands, upright.
    layout : Layout
    pour : Pour
        Of the layout.
    """
    collection, units_per_mm = own_collection(scene), 1.0 / mm_per_unit(scene)

    def add(role: str, kind: str, mesh: Mesh) -> bpy.types.Object:
        data = build.new_mesh(names.OBJECTS[role], mesh, units_per_mm)
        data.materials.append(materials.get(kind))
        return add_object(collection, data, role, place)

    case = layout.case
    outline_mm = CLEAR_OF_WALL * case.bore.outline_mm
    rubber = add(
        names.RUBBER_ROLE,
        "Rubber",
        leaned_rubber(outline_mm, case.height_mm, pour.turn, pour.full_mm),
    )
    rubber[names.POURED_ML], rubber[names.FULL_MM] = pour.poured_ml.tolist(), pour.full_mm
    rubber[names.OUTLINE_MM], rubber[names.RIM_MM] = outline_mm.ravel().tolist(), case.height_mm
    for air, closes_mm in pour.airs[:ROWS_STORED]:
        add(names.AIR_ROLE, "Trapped Air", air)[names.CLOSES_AT_MM] = closes_mm


def tell_pour(scene: bpy.types.Scene, pour: Pour) -> None:
    """Write how the case leans and what that traps into the scene's results."""
    found = scene.riseline.results
    found.shown_lean_deg, found.shown_towards_deg = pour.degrees, pour.towards_deg
    found.shown_lean_hour = hour_of(pour.towards_deg)
    found.shown_trapped_ml = pour.trapped_ml


def raise_rubber(scene: bpy.types.Scene) -> None:
    """Bring the rubber to the height of the slider, and show the air that is shut in below it.

    Writes that height and what is poured by then into the scene's results, for panels to draw.
    """
    stored, share = scene.riseline, scene.riseline.rubber_level / 100.0
    found, things = stored.results, own_objects(scene)
    full_mm, found.shown_poured_ml = found.case_level_z_mm, 0.0
    for thing in (one for one in things if one[names.OWN] == names.RUBBER_ROLE):
        table_ml, full_mm = np.array(thing[names.POURED_ML]), thing[names.FULL_MM]
        found.shown_poured_ml = float(np.interp(share, np.linspace(0.0, 1.0, STEPS + 1), table_ml))
        _bring(scene, thing, share)
        _hide(thing, hidden=share <= 0.0)
    found.shown_level_mm = share * full_mm
    for thing in (one for one in things if one[names.OWN] == names.AIR_ROLE):
        _hide(thing, hidden=found.shown_level_mm < thing[names.CLOSES_AT_MM])


def _bring(scene: bpy.types.Scene, rubber: bpy.types.Object, share: float) -> None:
    """Bring the rubber to a share of its full height: upright by scale, leaned by a new shape."""
    found = scene.riseline.results
    if found.shown_lean_deg <= 0.0:
        rubber.scale.z = max(share, LEAST_SHARE)
        return
    outline_mm = np.array(rubber[names.OUTLINE_MM]).reshape(-1, 2)
    turn = leaned_frame(outline_mm, found.shown_lean_deg, found.shown_towards_deg)
    level_mm = max(share, LEAST_SHARE) * rubber[names.FULL_MM]
    body = leaned_rubber(outline_mm, rubber[names.RIM_MM], turn, level_mm)
    build.change_mesh(rubber.data, body, 1.0 / mm_per_unit(scene))


def _hide(thing: bpy.types.Object, *, hidden: bool) -> None:
    thing.hide_viewport = thing.hide_render = hidden
