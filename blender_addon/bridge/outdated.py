"""Which stages no longer fit the settings: told from what is stored, in a file opened anew too."""

from __future__ import annotations

import json
from dataclasses import asdict, replace
from typing import TYPE_CHECKING, Any

from ..core.errors import BadSettingError
from ..core.pipeline_inputs import changed_stages, stages_after
from ..core.settings import Settings, as_tables, from_tables
from .properties import STAGES, read_settings, read_stage
from .scan_mark import scan_marks

if TYPE_CHECKING:
    import bpy

OF_THE_PIECE = ("height_mm", "width_mm", "depth_mm", "scale", "up")
"""What is said of one piece only; the other settings are taken over for a new one."""

PAINTED_STAGES = ("bubbles", "rubber")
"""What the maker's paint reaches: the map, and the weight of the coat. No other number of the
rubber stage hangs on it, so the stages after it still fit."""

MARKED_STAGE = "cut"
"""The stage that takes the maker's marks."""

PAPER_STAGE = "sheet"
"""The stage whose own settings take effect when its files are written."""

STOCKED_STAGE = "case"
"""The stage that takes the list of tubes."""

SCANNED_STAGE = "scan"
"""The stage that takes the piece itself."""


def used_tables(whole: bpy.types.PropertyGroup) -> dict[str, Any]:
    """Return the settings that the layout was made with, by stage and name; none without one."""
    stored: dict[str, Any] = json.loads(whole.results.used_settings or "{}")
    return stored


def outdated_stages(scene: bpy.types.Scene) -> tuple[str, ...]:
    """Return the stages to run again, in the order of the job: changed, or fed by what changed."""
    if not scene.riseline.results.token:
        return ()
    changed = _changed(scene) - {PAPER_STAGE}
    if _is_another_scan(scene):
        changed.add(SCANNED_STAGE)
    if scene.riseline.results.remarked:
        changed.add(MARKED_STAGE)
    if scene.riseline.results.restocked:
        changed.add(STOCKED_STAGE)
    again = set(stages_after(changed))
    if scene.riseline.results.repainted:
        again |= set(PAINTED_STAGES)
    return tuple(stage for stage in STAGES if stage in again)


def _changed(scene: bpy.types.Scene) -> set[str]:
    """Return the stages whose own settings are others now, or contradict each other as they are."""
    changed, used = set(), used_tables(scene.riseline)
    for stage in STAGES:
        try:
            now = {stage: asdict(read_stage(scene, stage))}
        except BadSettingError:  # it could be laid out with those of last time
            changed.add(stage)
        else:
            changed |= set(changed_stages(used, now))
    return changed


def _is_another_scan(scene: bpy.types.Scene) -> bool:
    """Tell whether the piece was edited, turned or scaled since it was laid out."""
    piece, laid_out = scene.riseline.piece, scene.riseline.results.scan_mark
    if piece is None or not laid_out:
        return False
    return scan_marks.now(scene, piece) not in {None, laid_out}


def settings_for(
    scene: bpy.types.Scene, only: str, whole: bpy.types.PropertyGroup | None
) -> Settings:
    """Return what to run with: all that is set, or of one stage only, and the rest as last time.

    Parameters
    ----------
    scene : bpy.types.Scene
    only : str
        The stage's name, or "" for all.
    whole : bpy.types.PropertyGroup, optional
        What is stored for the piece; None for one that is new beside others: it begins with the
        settings at work, but for what is true of one piece only.

    Raises
    ------
    RiselineError
        If a value is out of its range.
    """
    if whole is None:
        wanted, fresh = read_settings(scene), STAGES["scan"]()
        own = {name: getattr(fresh, name) for name in OF_THE_PIECE}
        return replace(wanted, scan=replace(wanted.scan, **own))
    wanted, used = read_settings(scene, whole), used_tables(whole)
    if not only or not used:
        return wanted
    tables = as_tables(wanted)
    for stage in STAGES:
        if stage != only:
            known = {
                key: used.get(stage, {}).get(key, value) for key, value in tables[stage].items()
            }
            tables[stage] = known
    return from_tables(tables)
