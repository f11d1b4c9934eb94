"""Case and parts of a run that goes on, shown in place of the last ones.

Meshes are changed where they stand; what else belongs to the piece moves along with it. The layout
that is kept tells how all of it was, so the window is as before when the run is stopped.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from mathutils import Matrix

from ..core.case.stream import stream_of
from . import build, names
from .kept import kept
from .lengths import mm_per_unit
from .show import own_objects

if TYPE_CHECKING:
    import bpy

    from ..core.case.result import CaseResult
    from ..core.parts.result import PartsResult
    from ..core.scan.result import ScanResult

TURNED_AND_MOVED = ("location", "rotation_euler", "rotation_quaternion", "scale")
"""What a change of an object's matrix changes of it."""

WITH_PIECE = {names.MASTER_ROLE, names.AIR_ROLE, *names.CUTS}
"""What stands where the piece stands in the case."""


@dataclass(frozen=True, eq=False)
class Ahead:
    """What is shown ahead: the token of the layout in whose place, how things stood, and stand now.

    How they stood is kept field by field: by way of matrices they would end beside it, by rounding.
    """

    token: str
    before: dict[str, dict[str, Any]]
    places: dict[str, Matrix]

    def take_back(self, scene: bpy.types.Scene) -> None:
        """Show the layout again as it was, unless undo did so already."""
        layout = kept.layout(self.token)
        if layout is None or scene.riseline.results.token != self.token:
            return
        _change(scene, layout.case, layout.parts)
        for thing in _with_piece(scene):
            if self.places.get(thing.name) == thing.matrix_basis:  # else it was moved by hand
                for field, value in self.before[thing.name].items():
                    setattr(thing, field, value)


def show(
    scene: bpy.types.Scene, scan: ScanResult, case: CaseResult, parts: PartsResult
) -> Ahead | None:
    """Show case and parts in place of those of the layout at work.

    None where there is none, or it is of another shape: then all of it has to be shown anew.
    """
    token = scene.riseline.results.token
    layout = kept.layout(token)
    if layout is None or not _is_same(layout.scan.mesh.vertices, scan.mesh.vertices):
        return None
    _change(scene, case, parts)
    things = _with_piece(scene)
    before = {
        one.name: {field: getattr(one, field).copy() for field in TURNED_AND_MOVED}
        for one in things
    }
    _move(scene, things, layout.case, case)
    return Ahead(token, before, {one.name: one.matrix_basis.copy() for one in things})


def _is_same(before: np.ndarray, after: np.ndarray) -> bool:
    """Tell whether two arrays are equal; the same one need not be looked through."""
    return before is after or np.array_equal(before, after)


def _with_piece(scene: bpy.types.Scene) -> list[bpy.types.Object]:
    return [one for one in own_objects(scene) if one[names.OWN] in WITH_PIECE]


def _change(scene: bpy.types.Scene, case: CaseResult, parts: PartsResult) -> None:
    """Give the objects of parts and stream other meshes; a part that is new comes with the rest."""
    per_mm, by_name = 1.0 / mm_per_unit(scene), {part.name: part for part in parts.parts}
    for thing in own_objects(scene):
        part = by_name.get(thing.get(names.PART, ""))
        if part is not None:
            build.change_mesh(thing.data, part.mesh.moved(part.to_assembly), per_mm)
        elif thing[names.OWN] == names.STREAM_ROLE:
            build.change_mesh(thing.data, stream_of(case), per_mm)


def _move(
    scene: bpy.types.Scene, things: list[bpy.types.Object], before: CaseResult, after: CaseResult
) -> None:
    """Move objects as the piece moves from its place in one case to that in another."""
    way = after.placement @ np.linalg.inv(before.placement)
    way[:3, 3] /= mm_per_unit(scene)
    for thing in things:
        thing.matrix_basis = thing.matrix_basis @ Matrix(way.tolist())
