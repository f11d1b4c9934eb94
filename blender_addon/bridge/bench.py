"""The user's own materials and pots: kept in the user's folder, filled into a scene's settings."""

from __future__ import annotations

import dataclasses
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..core.catalog.materials import (
    CUT_FIELDS,
    KINDS,
    materials_text,
    resins,
    rubbers,
    settings_of,
)
from ..core.catalog.pots import Pot, pots, pots_text
from ..core.errors import BadSettingError
from ..core.fields import spec_of
from ..core.files.whole import write_whole
from ..core.rubber.pots import fits_of, pots_of
from . import results, user_files
from .both_units import shown_text
from .properties import STAGES, as_typed, read_stage, setting_fields
from .user_files import MATERIALS, POTS

if TYPE_CHECKING:
    import bpy

POT_TEXTS = ("name", "kind", "fits")

READERS = {"rubber": rubbers, "resin": resins}
"""How the materials of each stage are read."""


def own_materials(kind: str) -> tuple[Any, ...]:
    """Return the user's own rubbers or resins, in the order in which they were kept.

    Raises
    ------
    RiselineError
        If the list was spoiled from outside.
    """
    path = user_files.path_of(MATERIALS)
    return READERS[kind](path) if path.exists() else ()


def materials_of(kind: str) -> tuple[Any, ...]:
    """Return all that can be picked: the user's own first, then the common classes."""
    return (*own_materials(kind), *READERS[kind]())


def fill_in(scene: bpy.types.Scene, kind: str, name: str) -> None:
    """Set what a material tells.

    Raises
    ------
    BadSettingError
        If there is no such material.
    """
    common = [one for one in READERS[kind]() if one.material == name]  # at hand in any case
    found = next(iter(common or [one for one in own_materials(kind) if one.material == name]), None)
    if found is None:
        raise BadSettingError(f"{kind}.material", f"{name!r} is not on the list any more.")
    for stage, values in settings_of(found).items():
        for key, value in values.items():
            setattr(getattr(scene.riseline, stage), key, value)


def as_material(scene: bpy.types.Scene, kind: str, name: str) -> Any:
    """Return what is set in a scene as a material with a name.

    Raises
    ------
    BadSettingError
        If it has no name, that of a common class, or a value is not one.
    """
    if not name.strip():
        raise BadSettingError("name", "missing; call it as you do on the shelf.")
    if name.strip() in {one.material for one in READERS[kind]()}:
        raise BadSettingError("name", f"{name!r} is a common class; give yours another name.")
    group, made = getattr(scene.riseline, kind), KINDS[kind]
    values = {
        one.name: _value(getattr(group, one.name))
        for one in dataclasses.fields(made)
        if hasattr(group, one.name) and one.name != "material"
    }
    if kind == "rubber":
        values |= {name: as_typed(getattr(scene.riseline.cut, name)) for name in CUT_FIELDS}
    return made(material=name.strip(), source="own data sheet", **values)


def _value(value: Any) -> Any:
    return as_typed(value) if isinstance(value, float) else value


def keep_material(scene: bpy.types.Scene, kind: str, name: str) -> None:
    """Keep what is set as one of the user's own, in place of one of the same name.

    Raises
    ------
    RiselineError
        If it is no material, or the list cannot be read or written.
    """
    made = as_material(scene, kind, name)
    _write(kind, [*(one for one in own_materials(kind) if one.material != made.material), made])
    getattr(scene.riseline, kind).material = made.material


def forget_material(kind: str, name: str) -> None:
    """Take one of the user's own off the list.

    Raises
    ------
    RiselineError
        If the list cannot be read or written.
    """
    _write(kind, [one for one in own_materials(kind) if one.material != name])


def take_in(path: str) -> int:
    """Add the materials of a file to the user's own, in place of those of the same name.

    Returns
    -------
    int
        How many.

    Raises
    ------
    RiselineError
        If either list cannot be read or written; then nothing is changed.
    """
    new = {kind: read(path) for kind, read in READERS.items()}
    lists = {}
    for kind, found in new.items():
        names = {one.material for one in found}
        lists[kind] = [*(one for one in own_materials(kind) if one.material not in names), *found]
    user_files.write(MATERIALS, materials_text(lists["rubber"], lists["resin"]))
    return sum(len(found) for found in new.values())


def hand_out(path: str) -> int:
    """Write the user's own materials into a file.

    Returns
    -------
    int
        How many.

    Raises
    ------
    RiselineError
        If it cannot be written.
    """
    rubber, resin = own_materials("rubber"), own_materials("resin")
    write_whole(Path(path), materials_text(rubber, resin).encode("utf-8"))
    return len(rubber) + len(resin)


def _write(kind: str, listed: list[Any]) -> None:
    lists = {one: own_materials(one) for one in READERS} | {kind: listed}
    if any(lists.values()):
        user_files.write(MATERIALS, materials_text(lists["rubber"], lists["resin"]))
    else:
        user_files.forget(MATERIALS)


def own_pots() -> tuple[Pot, ...]:
    """Return the user's pressure pots and vacuum chambers.

    Raises
    ------
    RiselineError
        If the list was spoiled from outside.
    """
    path = user_files.path_of(POTS)
    return pots(path) if path.exists() else ()


def keep_pot(pot: Pot) -> None:
    """Keep a pot, in place of one of the same name.

    Raises
    ------
    RiselineError
        If it has no name, or the list cannot be read or written.
    """
    if not pot.name.strip():
        raise BadSettingError("name", "missing; call the pot as you do in the shop.")
    _write_pots([*(one for one in own_pots() if one.name != pot.name), pot])


def forget_pot(name: str) -> None:
    """Take a pot off the list.

    Raises
    ------
    RiselineError
        If the list cannot be read or written.
    """
    _write_pots([one for one in own_pots() if one.name != name])


def fit_again(scene: bpy.types.Scene) -> None:
    """Show how the pots of the list serve the block that is laid out; runs no stage."""
    found = scene.riseline.results
    found.pots.clear()
    if not found.token or trouble_of(scene, "rubber"):
        return
    settings = read_stage(scene, "rubber")
    block_mm = found.rubber_block_across_mm, found.rubber_block_high_mm
    fits = fits_of(pots_of(settings), block_mm, found.rubber_vessel_ml, settings)
    results.store_rows(found.pots, fits, ("used_kpa", "rated_kpa", "bubble_share", *POT_TEXTS))


def _write_pots(listed: list[Pot]) -> None:
    if listed:
        user_files.write(POTS, pots_text(listed))
    else:
        user_files.forget(POTS)


def trouble_of(scene: bpy.types.Scene, stage: str) -> str:
    """Return which field of a stage cannot be used, by its label, and why; or nothing."""
    group = getattr(scene.riseline, stage)
    try:
        STAGES[stage](
            **{one.name: _value(getattr(group, one.name)) for one in setting_fields(stage)}
        )
    except BadSettingError as error:
        what = shown_text(scene, str(error)).removeprefix(f"Setting {error.name}: ")
        labels = {one.name: spec_of(one).label for one in setting_fields(stage)}
        return f"{labels.get(error.name, error.name)}: {what}"
    return ""
