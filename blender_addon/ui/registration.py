"""Everything that is added to Blender, in one ordered list; a failure takes all of it back."""

from __future__ import annotations

from contextlib import ExitStack
from typing import TYPE_CHECKING

import bpy
from bpy.app.handlers import persistent

from ..bridge import shelf
from ..bridge.kept import kept
from ..bridge.migrate import migrate
from ..bridge.preview import preview
from ..bridge.scan_mark import LISTENERS
from ..bridge.scene import scene_groups
from ..bridge.sculpts import forget_gone
from . import command, ids, menus
from .lean_icon import lean_icon
from .live import live
from .operators.add_to_map import AddToMap
from .operators.clear_paint import ClearPaint
from .operators.export_part import ExportPart
from .operators.export_parts import ExportParts
from .operators.import_scan import DropScan, ImportScan
from .operators.lay_out import LayOut
from .operators.lean_case import LeanCase
from .operators.look_from_below import LookFromBelow
from .operators.mark_not_here import ClearNotHere, MarkNotHere
from .operators.materials import (
    ExportMaterials,
    ForgetMaterial,
    ImportMaterials,
    KeepMaterial,
    PickResin,
    PickRubber,
)
from .operators.next_stop import NextStop
from .operators.open_help import OpenHelp
from .operators.open_sample import OpenSample
from .operators.pots import AddPot, RemovePot
from .operators.read_scan import ReadScan
from .operators.remove_layout import RemoveLayout
from .operators.reset_stage import ResetStage
from .operators.set_slit_start import SetSlitStart
from .operators.show_millimeters import ShowInches, ShowMillimeters
from .operators.show_place import ShowPlace
from .operators.stand_on_faces import StandOnFaces
from .operators.take_case import TakeCase
from .operators.take_off_map import TakeOffMap
from .operators.take_unit import TakeUnit
from .operators.tubes import AddTube, ExportTubes, ImportTubes, RemoveTube
from .operators.use_preset import UsePreset
from .operators.work_on import WorkOn
from .operators.write_command_files import WriteCommandFiles
from .operators.write_folder import WriteFolder
from .operators.write_sheets import WriteSheets
from .overlay import overlay
from .panels.bubbles import BubblesMapPanel, BubblesPanel, BubblesSettingsPanel, BubblesWaysPanel
from .panels.case import CaseChoicesPanel, CaseHoldPanel, CasePanel, CaseSettingsPanel
from .panels.cut import (
    CutClassesPanel,
    CutKnifePanel,
    CutOpensPanel,
    CutPanel,
    CutSettingsPanel,
    CutWherePanel,
)
from .panels.funnel import FunnelPanel, FunnelSettingsPanel
from .panels.leans import LeanList, choose_lean
from .panels.mold import MoldPanel
from .panels.parts import PartsPanel, PartsSettingsPanel
from .panels.pockets import PocketList
from .panels.resin import ResinPanel, ResinSettingsPanel, ResinSheetPanel, ShrinkagePanel
from .panels.rubber import PotsPanel, RubberPanel, RubberSettingsPanel, RubberSheetPanel
from .panels.scan import ScanPanel, ScanSettingsPanel
from .panels.sheet import SheetPanel
from .panels.views import ViewsPanel
from .preferences import RiselinePreferences, TubeList, TubeRow
from .view import frame_parts, frame_pocket

if TYPE_CHECKING:
    from collections.abc import Callable

CLASSES = (
    PickRubber, PickResin, KeepMaterial, ForgetMaterial, ImportMaterials, ExportMaterials, AddPot,
    RemovePot,
    ReadScan, ImportScan, DropScan, LayOut, ExportParts, WriteSheets, WriteFolder, RemoveLayout,
    ShowInches, ShowMillimeters, TakeUnit, ExportPart, NextStop, LookFromBelow, UsePreset,
    OpenSample, StandOnFaces, ShowPlace, OpenHelp, ResetStage, WorkOn,
    MarkNotHere, ClearNotHere, SetSlitStart, WriteCommandFiles,
    AddToMap, TakeOffMap, ClearPaint, menus.MoldMenu, menus.PiecesMenu, PocketList,
    LeanCase, LeanList,
    TakeCase, AddTube, RemoveTube, ImportTubes, ExportTubes, TubeRow, TubeList, RiselinePreferences,
    MoldPanel, ViewsPanel,
    ScanPanel, ScanSettingsPanel,
    BubblesPanel, BubblesWaysPanel, BubblesMapPanel, BubblesSettingsPanel,
    CasePanel, CaseChoicesPanel, CaseHoldPanel, CaseSettingsPanel,
    FunnelPanel, FunnelSettingsPanel,
    CutPanel, CutOpensPanel, CutWherePanel, CutKnifePanel, CutClassesPanel, CutSettingsPanel,
    RubberPanel, RubberSheetPanel, PotsPanel, RubberSettingsPanel,
    ResinPanel, ResinSheetPanel, ShrinkagePanel, ResinSettingsPanel,
    PartsPanel, PartsSettingsPanel, SheetPanel,
)  # fmt: skip

_added = ExitStack()


def register() -> None:
    """Add everything; what was added is taken back before an error leaves here."""
    with ExitStack() as adding:
        for add, take_away in _steps():
            add()
            adding.callback(take_away)
        _added.push(adding.pop_all())


def unregister() -> None:
    """Take away what was added, the last first."""
    _added.close()


def _steps() -> list[tuple[Callable[[], object], Callable[[], object]]]:
    """Return how to add each thing and how to take it away."""
    groups = scene_groups(frame_pocket, choose_lean, frame_parts)
    steps = [_class_step(one) for one in (*groups, *CLASSES)]
    steps.insert(len(groups), (lambda: _add_property(groups[-1]), _remove_property))
    steps += [_menu_step(menu, entry) for menu, entry in menus.ENTRIES]
    steps.append((_add_command, lambda: bpy.utils.unregister_cli_command(_command.pop())))
    steps.append((overlay.add, overlay.remove))
    loaded = bpy.app.handlers.load_pre
    steps.append((lambda: loaded.append(_forget), lambda: loaded.remove(_forget)))
    saved = bpy.app.handlers.save_pre
    opened = bpy.app.handlers.load_post
    steps.append((lambda: opened.append(_migrate), lambda: opened.remove(_migrate)))
    steps.append((lambda: saved.append(_forget_gone), lambda: saved.remove(_forget_gone)))
    steps += [_handler_step(*one) for one in LISTENERS]
    steps.append((kept.begin, kept.close))
    steps.append((preview.forget, preview.forget))
    steps.append((lean_icon.forget, lean_icon.forget))
    steps.append((shelf.bring_in, lambda: None))
    steps.append((live.start, live.stop))
    return steps


def _handler_step(
    name: str, handler: Callable[..., None]
) -> tuple[Callable[[], object], Callable[[], object]]:
    held = getattr(bpy.app.handlers, name)
    return (lambda: held.append(handler)), (lambda: held.remove(handler))


def _class_step(
    one: type[bpy.types.bpy_struct],
) -> tuple[Callable[[], object], Callable[[], object]]:
    return (lambda: bpy.utils.register_class(one)), (lambda: bpy.utils.unregister_class(one))


def _menu_step(
    menu: type[bpy.types.Menu], entry: Callable[..., None]
) -> tuple[Callable[[], object], Callable[[], object]]:
    return (lambda: menu.append(entry)), (lambda: menu.remove(entry))


def _add_property(group: type[bpy.types.PropertyGroup]) -> None:
    bpy.types.Scene.riseline = bpy.props.PointerProperty(type=group)
    bpy.types.Scene.riseline_parked = bpy.props.CollectionProperty(type=group)


def _remove_property() -> None:
    del bpy.types.Scene.riseline, bpy.types.Scene.riseline_parked


_command: list[object] = []


def _add_command() -> None:
    _command.append(bpy.utils.register_cli_command(ids.COMMAND, command.run))


@persistent
def _forget_gone(*_: object) -> None:
    """Keep out of a file that is about to be saved what was deleted."""
    for scene in bpy.data.scenes:
        forget_gone(scene)


@persistent
def _migrate(*_: object) -> None:
    """Bring a file of an older version, just opened, to what this one expects."""
    for scene in bpy.data.scenes:
        migrate(scene)


@persistent
def _forget(*_: object) -> None:
    """Another file is about to be loaded: what is kept belongs to this one."""
    kept.forget()
    preview.forget()
