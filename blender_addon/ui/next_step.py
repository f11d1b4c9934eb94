"""The one button that comes next, by what is there and what was done."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from ..bridge.kept import kept
from ..bridge.outdated import outdated_stages
from ..bridge.sculpts import piece_of
from . import ids, polls
from .tour import STOPS

if TYPE_CHECKING:
    import bpy

MOST_NAMED = 2
"""Stages named on a button; more of them do not fit the sidebar."""


@dataclass(frozen=True)
class Step:
    """A button: the operator, what stands on it, and what it is told."""

    operator: str
    text: str
    icon: str
    told: dict[str, Any] = field(default_factory=dict)


def next_step(context: bpy.types.Context) -> Step:
    """Return the step that brings a maker on from where things stand."""
    scene, scan = context.scene, polls.chosen_scan(context)
    found, piece = scene.riseline.results, piece_of(scene)
    if context.mode != "OBJECT" and scan is not None:
        return Step(ids.SET_MODE, "Back to Object Mode", "OBJECT_DATAMODE", {"mode": "OBJECT"})
    if scan is None or (piece is None and not found.token):
        return Step(ids.IMPORT_SCAN, "Import Scan", "IMPORT")
    if piece is not None and scan != piece:
        return Step(ids.WORK_ON, f"Work on {scan.name}", "MESH_DATA", {"name": scan.name})
    if not found.token:
        return Step(ids.LAY_OUT, "Lay Out Mold", "MOD_FLUIDSIM")
    if stages := outdated_stages(scene):
        names = "Layout" if len(stages) > MOST_NAMED else ", ".join(map(str.title, stages))
        return Step(ids.LAY_OUT, f"Update {names}", "FILE_REFRESH", {"at_work": True})
    return _step_with_layout(scene.riseline)


def _step_with_layout(stored: bpy.types.PropertyGroup) -> Step:
    if stored.tour < len(STOPS):
        stop = STOPS[stored.tour]
        return Step(ids.NEXT_STOP, stop.text, stop.icon)
    if kept.layout(stored.results.token) is None:
        return Step(ids.LAY_OUT, "Lay Out Again to Export", "MOD_FLUIDSIM")
    if folder := stored.results.parts_at:
        return Step(ids.OPEN_PATH, "Open Folder", "FILE_FOLDER", {"filepath": folder})
    return Step(ids.EXPORT_PARTS, "Export Mold Parts", "EXPORT")
