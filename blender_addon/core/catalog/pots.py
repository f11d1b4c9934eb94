"""The user's pressure pots and vacuum chambers."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..errors import BadSettingError
from ..fields import Checked, choice, number, text
from .rows import as_number, read_rows, toml_rows

if TYPE_CHECKING:
    from collections.abc import Sequence

PRESSURE, VACUUM = "pressure", "vacuum"


@dataclass(frozen=True)
class Pot(Checked):
    """A vessel made and rated for pressure or for vacuum, as its plate says."""

    name: str = text("", "Name", "what you call it")
    kind: str = choice(
        PRESSURE, (PRESSURE, VACUUM), "Made For",
        "a pot is rated for the one or for the other, hardly ever for both",
    )  # fmt: skip
    inner_diameter_mm: float = number(
        250.0, 20.0, 3000.0, "mm", "Inside Diameter",
        "the narrowest clear width, past lid clamps and fittings",
    )  # fmt: skip
    depth_mm: float = number(
        300.0, 20.0, 3000.0, "mm", "Depth",
        "clear height from where things stand to the lid",
    )  # fmt: skip
    rated_kpa: float = number(
        300.0, 1.0, 2000.0, "kPa", "Rated Limit",
        "from its plate, over or under the air outside; 100 kPa is 14.5 psi or 29.5 inHg",
    )  # fmt: skip


def pots(path: str | Path) -> tuple[Pot, ...]:
    """Return the pots of a TOML list, in its order.

    Parameters
    ----------
    path : str or Path
        A list with one ``[[pot]]`` each: name, kind, inner_diameter_mm, depth_mm, rated_kpa. All
        must be given: nothing about a pressure vessel is guessed.

    Raises
    ------
    UnreadableFileError
        If the file cannot be read as TOML.
    BadSettingError
        If something is missing, unknown, or out of its range.
    """
    advice = (
        "Give a TOML list with a [[pot]] of name, kind, inner_diameter_mm, depth_mm, rated_kpa."
    )
    rows = read_rows(Path(path), ("pot",), advice)["pot"]
    return tuple(_pot(row, f"pot {place} of {path}") for place, row in enumerate(rows, start=1))


def _pot(row: dict[str, Any], which: str) -> Pot:
    names = [one.name for one in dataclasses.fields(Pot)]
    for name in names:
        if row.get(name, "") == "":
            raise BadSettingError("pots_file", f"{which} has no {name}; read it off its plate.")
    for key in row:
        if key not in names:
            message = f"{which} has the unknown key {key}; known are {', '.join(names)}."
            raise BadSettingError("pots_file", message)
    try:
        return Pot(**{key: as_number(value) for key, value in row.items()})
    except BadSettingError as error:
        raise BadSettingError("pots_file", f"{which}: {error}") from error


def pots_text(listed: Sequence[Pot]) -> str:
    """Return pots as TOML that `pots` reads back.

    Examples
    --------
    >>> print(pots_text([Pot("the old one", "pressure", 240.0, 280.0, 275.0)]), end="")
    [[pot]]
    name = "the old one"
    kind = "pressure"
    inner_diameter_mm = 240.0
    depth_mm = 280.0
    rated_kpa = 275.0
    <BLANKLINE>
    """
    return toml_rows("pot", [dataclasses.asdict(one) for one in listed])
