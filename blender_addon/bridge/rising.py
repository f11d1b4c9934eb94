"""The rubber in the case at the height of the slider, and the air that it has shut in by then."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..core.geometry.mesh import Mesh
from ..core.rubber.amount import rubber_below_ml
from . import build, materials, names
from .lengths import mm_per_unit
from .pockets import ROWS_STORED
from .show import add_object, own_collection, own_objects

if TYPE_CHECKING:
    import bpy
    from mathutils import Matrix

    from ..core.layout import Layout

STEPS = 200
"""Of the table of what is poured: half a percent of the height each, and straight between them."""

CLEAR_OF_WALL = 0.995
"""Of the bore: two surfaces in one place would flicker."""

LEAST_SHARE = 1e-4
"""Of the full height: an object scaled to nothing cannot be turned or measured any more."""


def poured_table_ml(layout: Layout) -> np.ndarray:
    """Return how much rubber is poured at each step from the board to the full height."""
    return rubber_below_ml(layout.case, np.linspace(0.0, layout.case.level_z_mm, STEPS + 1))


def add_rubber(
    scene: bpy.types.Scene, place: Matrix, layout: Layout, poured_ml: np.ndarray
) -> None:
    """Put the rubber and the air of each pocket into the layout's collection.

    Parameters
    ----------
    scene : bpy.types.Scene
    place : mathutils.Matrix
        Where the job's frame stands.
    layout : Layout
    poured_ml : ndarray
        Of `poured_table_ml`.
    """
    collection, units_per_mm = own_collection(scene), 1.0 / mm_per_unit(scene)

    def add(role: str, kind: str, mesh: Mesh) -> bpy.types.Object:
        data = build.new_mesh(names.OBJECTS[role], mesh, units_per_mm)
        data.materials.append(materials.get(kind))
        return add_object(collection, data, role, place)

    case = layout.case
    body = _upright_body(CLEAR_OF_WALL * case.bore.outline_mm, case.level_z_mm)
    add(names.RUBBER_ROLE, "Rubber", body)[names.POURED_ML] = poured_ml.tolist()
    airs = zip(layout.bubbles.pockets[:ROWS_STORED], layout.bubbles.bodies, strict=False)
    for pocket, air in airs:
        thing = add(names.AIR_ROLE, "Trapped Air", air.moved(case.placement))
        thing[names.CLOSES_AT_MM] = pocket.escape_at_mm[2]


def _upright_body(outline_mm: np.ndarray, height_mm: float) -> Mesh:
    """Return the closed bar over a convex outline (k, 2) about the axis; it stands on z = 0."""
    corners = len(outline_mm)
    rim = np.column_stack([outline_mm, np.zeros(corners)])
    middles = [[0.0, 0.0, 0.0], [0.0, 0.0, height_mm]]
    vertices = np.vstack([rim, rim + middles[1], middles])
    low = np.arange(corners)
    ahead, high = np.roll(low, -1), low + corners
    bottom, top = (np.full(corners, 2 * corners + end) for end in (0, 1))
    walls = [(low, ahead, high), (ahead, ahead + corners, high)]
    ends = [(ahead, low, bottom), (high, ahead + corners, top)]
    return Mesh(vertices, np.vstack([np.column_stack(three) for three in walls + ends]))


def raise_rubber(scene: bpy.types.Scene) -> None:
    """Bring the rubber to the height of the slider, and show the air that is shut in below it.

    Writes that height and what is poured by then into the scene's results, for panels to draw.
    """
    stored, share = scene.riseline, scene.riseline.rubber_level / 100.0
    found = stored.results
    found.shown_level_mm, found.shown_poured_ml = share * found.case_level_z_mm, 0.0
    for thing in own_objects(scene):
        if thing[names.OWN] == names.RUBBER_ROLE:
            table_ml = np.array(thing[names.POURED_ML])
            steps = np.linspace(0.0, 1.0, len(table_ml))
            found.shown_poured_ml = float(np.interp(share, steps, table_ml))
            thing.scale.z = max(share, LEAST_SHARE)
            _hide(thing, hidden=share <= 0.0)
        elif thing[names.OWN] == names.AIR_ROLE:
            _hide(thing, hidden=found.shown_level_mm < thing[names.CLOSES_AT_MM])


def _hide(thing: bpy.types.Object, *, hidden: bool) -> None:
    thing.hide_viewport = thing.hide_render = hidden
