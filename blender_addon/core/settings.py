"""All settings, one field a stage, and the file they may come from."""

from __future__ import annotations

import dataclasses
import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from .bubbles.settings import BubblesSettings
from .case.settings import CaseSettings
from .catalog.materials import resins, rubbers, settings_of
from .catalog.rows import toml_value
from .cut.settings import CutSettings
from .errors import BadSettingError, UnreadableFileError
from .funnel.settings import FunnelSettings
from .parts.settings import PartsSettings
from .resin.settings import ResinSettings
from .rubber.settings import RubberSettings
from .scan.settings import ScanSettings
from .sheet.settings import SheetSettings


@dataclass(frozen=True)
class Settings:
    """Compared by value: a stage runs again when its own field changes."""

    scan: ScanSettings = field(default_factory=ScanSettings)
    bubbles: BubblesSettings = field(default_factory=BubblesSettings)
    case: CaseSettings = field(default_factory=CaseSettings)
    funnel: FunnelSettings = field(default_factory=FunnelSettings)
    cut: CutSettings = field(default_factory=CutSettings)
    rubber: RubberSettings = field(default_factory=RubberSettings)
    resin: ResinSettings = field(default_factory=ResinSettings)
    parts: PartsSettings = field(default_factory=PartsSettings)
    sheet: SheetSettings = field(default_factory=SheetSettings)


def as_tables(settings: Settings) -> dict[str, dict[str, Any]]:
    """Return every setting, by stage and name.

    Examples
    --------
    >>> as_tables(Settings())["scan"]["riser_mm"]
    6.35
    """
    return dataclasses.asdict(settings)


def as_toml(settings: Settings) -> str:
    """Return every setting as `load` reads it.

    Examples
    --------
    >>> as_toml(Settings()).splitlines()[:2]
    ['[scan]', 'height_mm = 0.0']
    """
    lines: list[str] = []
    for stage, table in as_tables(settings).items():
        lines += [f"[{stage}]", *(f"{name} = {toml_value(one)}" for name, one in table.items()), ""]
    return "\n".join(lines)


def from_tables(tables: dict[str, Any], base: Settings | None = None) -> Settings:
    """Return the settings with those that are given changed.

    Parameters
    ----------
    tables : dict
        Stage to name to value; what is left out stays as in ``base``.
    base : Settings, optional
        The defaults if not given.

    Raises
    ------
    BadSettingError
        If a stage or a name does not exist, or a value is out of range.

    Examples
    --------
    >>> from_tables({"case": {"cover_mm": 25}}).case.cover_mm
    25.0
    >>> soft = {"material": "Typical Silicone, Shore A 10", "pot_life_min": 60}
    >>> found = from_tables({"rubber": soft})
    >>> found.rubber.density_kg_m3, found.rubber.pot_life_min, found.cut.elongation_percent
    (1105.0, 60.0, 750.0)
    """
    tables = _with_materials(tables)
    base, stages = base or Settings(), {}
    known = {one.name: one for one in dataclasses.fields(Settings)}
    for name, table in tables.items():
        if name not in known or not isinstance(table, dict):
            raise BadSettingError(
                str(name), f"there is no such stage; the stages are {', '.join(known)}."
            )
        default = getattr(base, name)
        names = {one.name: type(one.default) for one in dataclasses.fields(default)}
        for key in table:
            if key not in names:
                message = f"unknown; {name} has {', '.join(names)}."
                raise BadSettingError(f"{name}.{key}", message)
        stages[name] = dataclasses.replace(
            default, **{key: _as(names[key], value) for key, value in table.items()}
        )
    return dataclasses.replace(base, **stages)


def _with_materials(tables: dict[str, Any]) -> dict[str, Any]:
    """Put what a named material tells under what is set beside its name."""
    filled: dict[str, Any] = dict(tables)
    for stage, listed in (("rubber", rubbers), ("resin", resins)):
        table = tables.get(stage)
        if not isinstance(table, dict) or not table.get("material"):
            continue
        found = {one.material: one for one in listed(table.get("materials_file") or None)}
        name = table["material"]
        if name in found:
            for other, values in settings_of(found[name]).items():
                given = filled.get(other, {})
                filled[other] = {**values, **given} if isinstance(given, dict) else given
        elif "density_kg_m3" not in table:  # else it is a name for the values beside it
            message = f"{name!r} is not in the list; it has {', '.join(found)}."
            raise BadSettingError(f"{stage}.material", message)
    return filled


def _as(kind: type, value: object) -> object:
    whole = isinstance(value, int) and not isinstance(value, bool)
    return float(str(value)) if kind is float and whole else value


def load(path: str | Path, base: Settings | None = None) -> Settings:
    """Read a TOML file of settings, a table a stage; what it leaves out stays as in ``base``.

    Raises
    ------
    UnreadableFileError
        If the file cannot be read as TOML.
    BadSettingError
        As `from_tables`.
    """
    try:
        tables = tomllib.loads(Path(path).read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        advice = "Give a TOML file with a table for each stage."
        raise UnreadableFileError(
            str(path), f"no settings can be read ({error})", advice
        ) from error
    return from_tables(tables, base)
