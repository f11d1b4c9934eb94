"""Materials by name: the common classes with typical values, and the user's own list."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from ..errors import BadSettingError
from ..fields import Checked, number, text
from .rows import as_number, read_rows, toml_rows
from .sheets import ResinSheet, RubberSheet

if TYPE_CHECKING:
    from collections.abc import Sequence

_COMMON = Path(__file__).parent / "materials.toml"


@dataclass(frozen=True)
class Rubber(RubberSheet):
    """A rubber of a list; ``material`` is its name."""

    elongation_percent: float = number(
        400.0, 20.0, 1500.0, "%", "Elongation at Break",
        "how far the rubber stretches before it tears; see its data sheet (ISO 37)",
    )  # fmt: skip
    hardness_shore_a: float = number(
        20.0, 5.0, 60.0, "", "Hardness (Shore A)",
        "how hard the cured rubber is; see its data sheet (ISO 48-4)",
    )  # fmt: skip
    source: str = text("", "Source", "where the values are from")


@dataclass(frozen=True)
class Resin(ResinSheet):
    """A resin of a list; ``material`` is its name."""

    source: str = text("", "Source", "where the values are from")


Material = TypeVar("Material", Rubber, Resin)

CUT_FIELDS = ("elongation_percent", "hardness_shore_a")
"""What of a rubber the cut asks for."""

KINDS: dict[str, type[Rubber | Resin]] = {"rubber": Rubber, "resin": Resin}
"""The two lists of a file of materials, by the name of their tables."""


def rubbers(path: str | Path | None = None) -> tuple[Rubber, ...]:
    """Return the rubbers of a TOML list, in its order.

    Parameters
    ----------
    path : str or Path, optional
        A list with one ``[[rubber]]`` each: a name and what its data sheet tells, by the names of
        the settings; what is left out keeps its default. None takes the common classes.

    Raises
    ------
    UnreadableFileError
        If the file cannot be read as TOML.
    BadSettingError
        If a row has no name, a name twice, an unknown key, or a value out of its range.

    Examples
    --------
    >>> [one.density_kg_m3 for one in rubbers() if one.hardness_shore_a == 20.0]
    [1140.0]
    """
    return _materials(Rubber, "rubber", path)


def resins(path: str | Path | None = None) -> tuple[Resin, ...]:
    """Return the resins of a TOML list, one ``[[resin]]`` each; otherwise as `rubbers`.

    Examples
    --------
    >>> [one.kind for one in resins()]
    ['fast polyurethane', 'slow polyurethane', 'epoxy', 'polyester']
    """
    return _materials(Resin, "resin", path)


def _materials(kind: type[Material], table: str, path: str | Path | None) -> tuple[Material, ...]:
    where = _COMMON if path is None else Path(path)
    advice = "Give a TOML list with a [[rubber]] or a [[resin]] of name, density_kg_m3 and so on."
    rows = read_rows(where, ("rubber", "resin"), advice)[table]
    found = tuple(_material(kind, row, f"{table} {n} of {where}") for n, row in enumerate(rows, 1))
    names = [one.material for one in found]
    for name in names:
        if names.count(name) > 1:
            raise BadSettingError("materials_file", f"{where} lists the {table} {name!r} twice.")
    return found


def _material(kind: type[Material], row: dict[str, Any], which: str) -> Material:
    values = dict(row)
    name = values.pop("name", None)
    if not isinstance(name, str) or not name.strip():
        raise BadSettingError("materials_file", f"{which} has no name; give it one in quotes.")
    known = {one.name for one in dataclasses.fields(kind)} - {"material"}
    for key in values:
        if key not in known:
            message = (
                f"{which} ({name}) has the unknown key {key}; known: {', '.join(sorted(known))}."
            )
            raise BadSettingError("materials_file", message)
    try:
        return kind(**{"material": name.strip(), **{k: as_number(v) for k, v in values.items()}})
    except BadSettingError as error:
        raise BadSettingError("materials_file", f"{which} ({name}): {error}") from error


def materials_text(rubber: Sequence[Rubber], resin: Sequence[Resin]) -> str:
    """Return lists of materials as TOML that `rubbers` and `resins` read back.

    Examples
    --------
    >>> print(materials_text([Rubber(material="soft one", pot_life_min=45.0)], []).splitlines()[1])
    name = "soft one"
    """
    return toml_rows("rubber", [_row(one) for one in rubber]) + toml_rows(
        "resin", [_row(one) for one in resin]
    )


def _row(material: Checked) -> dict[str, Any]:
    row = dataclasses.asdict(material)
    return {"name": row.pop("material"), **row}


def settings_of(material: Rubber | Resin) -> dict[str, dict[str, Any]]:
    """Return the settings that a material fills in, by stage and name.

    The brushed coat is of the same rubber, and the cut stretches it: a rubber fills those too.

    Examples
    --------
    >>> settings_of(rubbers()[0])["cut"]
    {'elongation_percent': 750.0, 'hardness_shore_a': 10.0}
    """
    values = dataclasses.asdict(material)
    del values["source"]
    if isinstance(material, Resin):
        return {"resin": values}
    return {
        "bubbles": {"coat_density_kg_m3": values["density_kg_m3"]},
        "cut": {name: values.pop(name) for name in CUT_FIELDS},
        "rubber": values,
    }
