"""The list of tubes: the common sizes, or the user's own."""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ..errors import BadSettingError, UnreadableFileError

_COMMON = Path(__file__).parent / "tubes.toml"
_SETTING = "stock_file"


@dataclass(frozen=True)
class Tube:
    """A tube to saw a case from; ``least_inner_diameter_mm`` is the narrowest it may turn out."""

    name: str
    inner_diameter_mm: float
    wall_mm: float
    least_inner_diameter_mm: float
    standard: str = ""
    source: str = ""


def tubes(path: str | Path | None = None) -> tuple[Tube, ...]:
    """Return the tubes of a TOML list, narrowest first.

    Parameters
    ----------
    path : str or Path, optional
        A list with one ``[[tube]]`` each: name, inner_diameter_mm, wall_mm; standard, source and
        least_inner_diameter_mm may be left out. None takes the common sizes.

    Raises
    ------
    UnreadableFileError
        If the file cannot be read as TOML or holds no tube.
    BadSettingError
        If a tube lacks a name or a size, or a size is not a positive number.

    Examples
    --------
    >>> [tube.name for tube in tubes() if 100 < tube.inner_diameter_mm < 103]
    ['PVC pipe 4 in Schedule 40']
    """
    where = _COMMON if path is None else Path(path)
    advice = "Give a TOML list with a [[tube]] of name, inner_diameter_mm and wall_mm for each."
    try:
        table = tomllib.loads(where.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:  # not TOML and not UTF-8 are both ValueErrors
        raise UnreadableFileError(str(where), f"no tubes can be read ({error})", advice) from error
    rows = table.get("tube")
    if not isinstance(rows, list) or not rows:
        raise UnreadableFileError(str(where), "it lists no tube", advice)
    listed = [_tube(row, f"tube {place} of {where}") for place, row in enumerate(rows, start=1)]
    return tuple(sorted(listed, key=lambda tube: (tube.inner_diameter_mm, tube.wall_mm)))


def _tube(row: object, which: str) -> Tube:
    if not isinstance(row, dict):
        raise BadSettingError(_SETTING, f"{which} is not a table; begin it with [[tube]].")
    name = row.get("name")
    if not isinstance(name, str) or not name.strip():
        raise BadSettingError(_SETTING, f"{which} has no name; give it one in quotes.")
    inner_mm = _size(row, "inner_diameter_mm", f"{which} ({name})")
    least_mm = inner_mm
    if "least_inner_diameter_mm" in row:
        least_mm = _size(row, "least_inner_diameter_mm", f"{which} ({name})")
    return Tube(
        name=name.strip(),
        inner_diameter_mm=inner_mm,
        wall_mm=_size(row, "wall_mm", f"{which} ({name})"),
        least_inner_diameter_mm=min(least_mm, inner_mm),
        standard=str(row.get("standard", "")),
        source=str(row.get("source", "")),
    )


def _size(row: dict[str, Any], key: str, which: str) -> float:
    value = row.get(key)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise BadSettingError(_SETTING, f"{which} has no {key}; give it as a number of mm.")
    if not 0.0 < value < math.inf:
        raise BadSettingError(_SETTING, f"{which} has {key} = {value:g}; it must be above 0 mm.")
    return float(value)
