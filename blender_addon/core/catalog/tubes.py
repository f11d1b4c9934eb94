"""The list of tubes: the common sizes, or the user's own."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

from ..errors import BadSettingError, UnreadableFileError
from .tube import Tube
from .tube_csv import read_tube_csv

_COMMON = Path(__file__).parent / "tubes.toml"
_SETTING = "stock_file"


def tubes(path: str | Path | None = None) -> tuple[Tube, ...]:
    """Return the tubes of a list, narrowest first.

    Parameters
    ----------
    path : str or Path, optional
        A TOML list with one ``[[tube]]`` each: name, inner_diameter_mm, wall_mm; standard, source,
        least_inner_diameter_mm, material, length_mm and price_per_m may be left out. Or a table as
        `read_tube_csv` reads it, by its ending .csv. None takes the common sizes.

    Raises
    ------
    UnreadableFileError
        If the file cannot be read or holds no tube, or a row of the table is wrong.
    BadSettingError
        If a tube lacks a name or a size, or a size is not a positive number.

    Examples
    --------
    >>> [tube.name for tube in tubes() if 100 < tube.inner_diameter_mm < 103]
    ['PVC pipe 4 in Schedule 40']
    """
    where = _COMMON if path is None else Path(path)
    csv = where.suffix.lower() == ".csv"
    listed = read_tube_csv(where) if csv else _read_toml(where)
    return tuple(sorted(listed, key=lambda tube: (tube.inner_diameter_mm, tube.wall_mm)))


def _read_toml(where: Path) -> tuple[Tube, ...]:
    advice = (
        "Give a TOML list with a [[tube]] of name, inner_diameter_mm and wall_mm for each, or a"
        " table ending in .csv."
    )
    try:
        table = tomllib.loads(where.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:  # not TOML and not UTF-8 are both ValueErrors
        raise UnreadableFileError(str(where), f"no tubes can be read ({error})", advice) from error
    rows = table.get("tube")
    if not isinstance(rows, list) or not rows:
        raise UnreadableFileError(str(where), "it lists no tube", advice)
    return tuple(_tube(row, f"tube {place} of {where}") for place, row in enumerate(rows, start=1))


def _tube(row: object, which: str) -> Tube:
    if not isinstance(row, dict):
        raise BadSettingError(_SETTING, f"{which} is not a table; begin it with [[tube]].")
    name = row.get("name")
    if not isinstance(name, str) or not name.strip():
        raise BadSettingError(_SETTING, f"{which} has no name; give it one in quotes.")
    which = f"{which} ({name})"
    inner_mm = _size(row, "inner_diameter_mm", which)
    least_mm = _size_or(row, "least_inner_diameter_mm", which, inner_mm)
    return Tube(
        name=name.strip(),
        inner_diameter_mm=inner_mm,
        wall_mm=_size(row, "wall_mm", which),
        least_inner_diameter_mm=min(least_mm, inner_mm),
        standard=str(row.get("standard", "")),
        source=str(row.get("source", "")),
        material=str(row.get("material", "")),
        length_mm=_size_or(row, "length_mm", which, 0.0),
        price_per_m=_size_or(row, "price_per_m", which, 0.0),
    )


def _size_or(row: dict[str, Any], key: str, which: str, default: float) -> float:
    return _size(row, key, which) if key in row else default


def _size(row: dict[str, Any], key: str, which: str) -> float:
    value, unit = row.get(key), " mm" if key.endswith("_mm") else ""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise BadSettingError(_SETTING, f"{which} has no {key}; give it as a number.")
    if not 0.0 < value < math.inf:
        raise BadSettingError(_SETTING, f"{which} has {key} = {value:g}; it must be above 0{unit}.")
    return float(value)
