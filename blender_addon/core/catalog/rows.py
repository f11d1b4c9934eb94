"""Lists in TOML files: rows of plain values, read and written."""

from __future__ import annotations

import json
import tomllib
from typing import TYPE_CHECKING, Any

from ..errors import UnreadableFileError

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path


def read_rows(path: Path, tables: Sequence[str], advice: str) -> dict[str, list[dict[str, Any]]]:
    """Return the rows of each list of tables in a TOML file.

    Parameters
    ----------
    path : Path
        Of the file.
    tables : sequence of str
        Names of the lists, ``[[name]]`` a row; one that is not in the file is empty.
    advice : str
        What to do if it cannot be read.

    Raises
    ------
    UnreadableFileError
        If it is no TOML, has none of the lists, or a list is no list of tables.
    """
    try:
        found = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:  # not TOML and not UTF-8 are both ValueErrors
        raise UnreadableFileError(str(path), f"no list can be read ({error})", advice) from error
    if not any(name in found for name in tables):
        what = f"it has no [[{']] and no [['.join(tables)}]]"
        raise UnreadableFileError(str(path), what, advice)
    for name in tables:
        rows = found.setdefault(name, [])
        if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
            raise UnreadableFileError(str(path), f"{name} is no list of tables", advice)
    return {name: found[name] for name in tables}


def as_number(value: object) -> Any:
    """Return a whole number as a float, anything else as it is: TOML tells 10 from 10.0."""
    return float(value) if isinstance(value, int) and not isinstance(value, bool) else value


def toml_rows(table: str, rows: Sequence[dict[str, Any]]) -> str:
    r"""Return rows of texts and numbers as a TOML list of tables; empty texts are left out.

    A TOML basic string is a JSON string but for the delete character, which is written out [1]_.

    References
    ----------
    .. [1] TOML 1.0.0, section "String".

    Examples
    --------
    >>> print(toml_rows("pot", [{"name": 'the "big" one', "depth_mm": 300.0}]), end="")
    [[pot]]
    name = "the \"big\" one"
    depth_mm = 300.0
    <BLANKLINE>
    """
    lines = []
    for row in rows:
        lines.append(f"[[{table}]]")
        lines += [f"{key} = {toml_value(value)}" for key, value in row.items() if value != ""]
        lines.append("")
    return "\n".join(lines) + ("\n" if lines else "")


def toml_value(value: object) -> str:
    """Return a text, a number or a yes or no as TOML writes it."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    return repr(value)
