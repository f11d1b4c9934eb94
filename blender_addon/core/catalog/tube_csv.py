"""The list of tubes as a table that any spreadsheet opens."""

from __future__ import annotations

import csv
import io
import math
from typing import TYPE_CHECKING

from ..constants.common import MM_PER_INCH
from ..errors import UnreadableFileError
from ..sentences import a_length
from .tube import Tube

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

IN_MM = {"mm": 1.0, "in": MM_PER_INCH}
PER_M = {"m": 1.0, "ft": 1000.0 / (12.0 * MM_PER_INCH)}
COLUMNS = (
    "name", "outer_diameter_mm", "inner_diameter_mm", "material", "length_mm", "price_per_m",
)  # fmt: skip
ADVICE = (
    "Give a table whose first row names its columns: name, outer_diameter_mm, inner_diameter_mm;"
    " material, length_mm and price_per_m may be left out. Write _in for _mm where you measure in"
    " inches, and _ft for _m."
)

Row = dict[str, str]


def tube_csv_text(tubes: Sequence[Tube]) -> str:
    """Return the table of tubes, in millimetres and metres.

    Examples
    --------
    >>> print(tube_csv_text([Tube("drain", 103.6, 3.2, 103.6, length_mm=900.0)]))
    name,outer_diameter_mm,inner_diameter_mm,material,length_mm,price_per_m
    drain,110,103.6,,900,
    <BLANKLINE>
    """
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow(COLUMNS)
    for one in tubes:
        sizes = (one.outer_diameter_mm, one.inner_diameter_mm)
        known = (one.length_mm, one.price_per_m)
        numbers = (
            [f"{size:.10g}" for size in sizes],
            [f"{one:.10g}" if one else "" for one in known],
        )
        table.writerow([one.name, *numbers[0], one.material, *numbers[1]])
    return out.getvalue()


def read_tube_csv(path: Path) -> tuple[Tube, ...]:
    """Return the tubes of a table, in its own order.

    A table with semicolons may have decimal commas, as spreadsheets of many countries write it.

    Parameters
    ----------
    path : Path
        A file in UTF-8.

    Raises
    ------
    UnreadableFileError
        If it is no such table, or a row of it cannot be: the first such row, and why.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, ValueError) as error:  # not UTF-8 is a ValueError
        raise UnreadableFileError(str(path), f"no tubes can be read ({error})", ADVICE) from error
    return tubes_of_csv(text, str(path))


def tubes_of_csv(text: str, where: str) -> tuple[Tube, ...]:
    r"""Return the tubes of a table's text; ``where`` it is from stands in what is refused.

    Raises
    ------
    UnreadableFileError
        As `read_tube_csv`.

    Examples
    --------
    >>> (tube,) = tubes_of_csv("name,outer_diameter_in,inner_diameter_in\nold pipe,4.5,4", "shelf")
    >>> tube.inner_diameter_mm, tube.wall_mm
    (101.6, 6.35)
    """
    try:
        rows = list(csv.reader(io.StringIO(text), delimiter=_delimiter(text), strict=True))
    except csv.Error as error:
        raise UnreadableFileError(where, f"it is no table ({error})", ADVICE) from error
    head = [word.strip().lower() for word in rows[0]] if rows else []
    _refuse_head(head, where)
    tubes, named = [], dict[str, int]()
    for number, cells in enumerate(rows[1:], start=2):
        if not any(cell.strip() for cell in cells):
            continue
        row = _Row(head, cells, number, where)
        tube = row.tube()
        if (first := named.setdefault(tube.name, number)) != number:
            row.refuse(f"the name stands in row {first} already; give each tube its own")
        tubes.append(tube)
    if not tubes:
        raise UnreadableFileError(where, "it lists no tube", ADVICE)
    return tuple(tubes)


def _delimiter(text: str) -> str:
    head = text.partition("\n")[0]
    return max(",;\t", key=head.count)


def _refuse_head(head: Sequence[str], where: str) -> None:
    if double := next((word for word in head if word and head.count(word) > 1), ""):
        raise UnreadableFileError(where, f"the column {double} stands there twice", ADVICE)
    for stem, units in (("outer_diameter", IN_MM), ("inner_diameter", IN_MM), ("name", ())):
        if not any(word in head for word in ([f"{stem}_{one}" for one in units] or [stem])):
            raise UnreadableFileError(where, f"the first row names no column {stem}", ADVICE)


class _Row:
    """One row of the table, its faults told with its number."""

    def __init__(self, head: Sequence[str], cells: Sequence[str], number: int, where: str) -> None:
        self.number, self.where, self.name = number, where, ""
        if len(cells) > len(head) and any(cell.strip() for cell in cells[len(head) :]):
            self.refuse(f"it has {len(cells)} cells, the first row has {len(head)}")
        self.cells = {key: cell.strip() for key, cell in zip(head, cells, strict=False) if key}

    def refuse(self, what: str) -> None:
        which = f"row {self.number}" + (f" ({self.name})" if self.name else "")
        raise UnreadableFileError(self.where, f"{which}: {what}", "Correct it and read it again.")

    def tube(self) -> Tube:
        self.name = self.cells.get("name", "")
        if not self.name:
            self.refuse("it has no name")
        outer = self._measure("outer_diameter", IN_MM)
        inner = self._measure("inner_diameter", IN_MM)
        if inner <= 0.0 or outer <= 0.0:
            self.refuse("it needs an outer and an inner diameter above 0")
        if inner >= outer:
            inside, outside = a_length(inner, "g"), a_length(outer, "g")
            self.refuse(f"inside it measures {inside}, outside only {outside}")
        return Tube(
            name=self.name,
            inner_diameter_mm=inner,
            wall_mm=round((outer - inner) / 2.0, 9),
            least_inner_diameter_mm=inner,
            material=self.cells.get("material", ""),
            length_mm=self._measure("length", IN_MM),
            price_per_m=self._measure("price_per", PER_M),
        )

    def _measure(self, stem: str, units: Mapping[str, float]) -> float:
        """Return a measure from the column of whichever unit is filled in; 0 where none is."""
        for unit, share in units.items():
            key = f"{stem}_{unit}"
            if word := self.cells.get(key, ""):
                return self._number(key, word) * share
        return 0.0

    def _number(self, key: str, word: str) -> float:
        try:
            value = float(word.replace(",", "."))
        except ValueError:
            value = math.nan
        if not math.isfinite(value):
            self.refuse(f"{key} is {word!r}, which is no number")
        if value < 0.0:
            self.refuse(f"{key} is {word}, which is below 0")
        return value
