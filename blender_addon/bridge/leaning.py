"""The case leaned in the scene: all that stands in it tips, the rubber's surface stays level."""

from __future__ import annotations

from typing import TYPE_CHECKING

import bpy
from mathutils import Matrix

from ..core.desk.desk import ForgottenLayoutError
from ..core.desk.orders import Leaning
from ..core.errors import UnusableMeshError
from ..core.rubber.leaned import leaned_frame
from . import names, views
from .kept import kept
from .lengths import mm_per_unit
from .rising import add_rubber, tell_pour
from .show import own_objects, remove_roles

if TYPE_CHECKING:
    import numpy as np

    from ..core.desk.pour import Pour
    from ..core.layout import Layout
    from ..core.watch import Watch

GONE = "The layout is not at hand any more. Lay out the mold again, then lean the case."

LEVEL = frozenset({names.MAP_ROLE, names.RUBBER_ROLE, names.AIR_ROLE})
"""What never tips: the map hangs beside the case, rubber and air are made for each lean."""


class Lean:
    """A lean of the case in a scene: gathered in the window, poured beside it, and brought back.

    Parameters
    ----------
    scene : bpy.types.Scene
    degrees : float
        How far, 0 for upright.
    towards_deg : float
        Where to, in the job frame, counter-clockwise from +x.

    Raises
    ------
    UnusableMeshError
        If the layout or its master is not at hand any more.
    """

    def __init__(self, scene: bpy.types.Scene, degrees: float, towards_deg: float) -> None:
        self._scene, self._token = scene.session_uid, scene.riseline.results.token
        self._lean_deg = degrees, towards_deg
        self._layout = kept.layout(self._token)
        if self._layout is None or master_of(scene) is None:
            raise UnusableMeshError(GONE)
        piece = scene.riseline.piece
        self._desk = None if piece is None else kept.desk_of(scene.session_uid, piece.session_uid)

    def run(self, watch: Watch) -> Pour:
        """Pour into it; touches nothing of Blender."""
        try:
            return self._poured(None, watch)
        except ForgottenLayoutError:
            return self._poured(self._layout, watch)

    def _poured(self, layout: Layout | None, watch: Watch) -> Pour:
        pour: Pour = kept.hand.run(self._desk, Leaning(self._token, layout, self._lean_deg), watch)
        return pour

    def bring_back(self, pour: Pour) -> None:
        """Show it in the scene.

        Raises
        ------
        UnusableMeshError
            If the layout is not at hand any more.
        """
        scene = next((one for one in bpy.data.scenes if one.session_uid == self._scene), None)
        if scene is None or scene.riseline.results.token != self._token or not master_of(scene):
            raise UnusableMeshError(GONE)
        show_pour(scene, self._layout, pour)


def master_of(scene: bpy.types.Scene) -> bpy.types.Object | None:
    """Return the piece as it stands in the case, or None."""
    return next((one for one in own_objects(scene) if one[names.OWN] == names.MASTER_ROLE), None)


def show_pour(scene: bpy.types.Scene, layout: Layout, pour: Pour) -> None:
    """Tip what stands in the case as the pour has it, and show the rubber and the air of it.

    Whatever was moved by hand keeps its place beside the master.
    """
    things, master = own_objects(scene), master_of(scene)
    place, new = upright_place(scene, layout, master), _in_units(scene, pour.turn)
    tip = place @ new @ master.matrix_basis.inverted()
    on_beds = scene.riseline.parts_lie == names.ON_BEDS
    for thing in things:
        lies = on_beds and (names.PART in thing or thing[names.OWN] == names.BED_ROLE)
        if thing[names.OWN] not in LEVEL and not lies:
            thing.matrix_basis = tip @ thing.matrix_basis
    remove_roles(scene, frozenset({names.RUBBER_ROLE, names.AIR_ROLE}))
    add_rubber(scene, place, layout, pour)
    tell_pour(scene, pour)
    views.apply(scene)


def upright_place(scene: bpy.types.Scene, layout: Layout, master: bpy.types.Object) -> Matrix:
    """Return where the job frame stands when the case does not lean."""
    found = scene.riseline.results
    outline_mm = layout.case.bore.outline_mm
    turn = leaned_frame(outline_mm, found.shown_lean_deg, found.shown_towards_deg)
    return master.matrix_basis @ _in_units(scene, turn).inverted()


def _in_units(scene: bpy.types.Scene, frame: np.ndarray) -> Matrix:
    """Return a frame in mm as a matrix in the scene's unit."""
    matrix = Matrix(frame.tolist())
    matrix.translation /= mm_per_unit(scene)
    return matrix
