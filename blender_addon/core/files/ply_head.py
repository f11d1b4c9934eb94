"""The head of a PLY: which tables follow, and which columns each has."""

from __future__ import annotations

import re
from dataclasses import dataclass

from ..errors import UnreadableFileError

ADVICE = "Export the scan again as PLY with triangles, or as STL."
KINDS = {
    "char": "i1", "uchar": "u1", "short": "i2", "ushort": "u2", "int": "i4", "uint": "u4",
    "float": "f4", "double": "f8", "int8": "i1", "uint8": "u1", "int16": "i2", "uint16": "u2",
    "int32": "i4", "uint32": "u4", "float32": "f4", "float64": "f8",
    "int64": "i8", "uint64": "u8",
}  # fmt: skip
"""The eight types of the format's description, the same by their bits, and two that it lacks but
large scans number their points with."""
END = re.compile(rb"[\r\n]end_header[ \t]*(\r\n|\r|\n)")
BINDING = ("format", "element", "property")
"""Words whose lines say what the rows are; no line that begins so is passed over."""
ORDERS = {"ascii": "", "binary_little_endian": "<", "binary_big_endian": ">"}


@dataclass(frozen=True)
class Column:
    """A property; ``count_kind`` is empty unless it is a list."""

    name: str
    kind: str
    count_kind: str = ""


@dataclass(frozen=True)
class Table:
    """An element: so many rows of these columns."""

    name: str
    rows: int
    columns: tuple[Column, ...]


@dataclass(frozen=True)
class Head:
    """``order`` is the byte order as numpy writes it, empty for text; rows begin at ``start``.

    ``passed_over`` is the first line that is none of the format's, empty if there is none.
    """

    order: str
    tables: tuple[Table, ...]
    start: int
    passed_over: str = ""


def parse_head(data: bytes, name: str) -> Head:
    """Return what the head of a PLY says.

    Lines of a maker's own that begin with another word than the format's are passed over: they say
    nothing about the rows, or else the rows do not fill the file, which whoever reads them sees.

    Parameters
    ----------
    data : bytes
        The whole file.
    name : str
        The file's name, for the error.

    Raises
    ------
    UnreadableFileError
        If there is no such head, or it promises more rows than the file has bytes.
    """
    lines, start = _lines(data, name)
    order, tables, passed_over = None, [], ""
    for line in lines:
        match line.split():
            case ["format", kind, _] if kind in ORDERS:
                order = ORDERS[kind]
            case ["element", what, rows] if rows.isdecimal():
                tables.append(Table(what, int(rows), ()))
            case ["property", "list", count, kind, word] if (
                tables and {count, kind} <= KINDS.keys()
            ):
                tables.append(_wider(tables.pop(), Column(word, KINDS[kind], KINDS[count])))
            case ["property", kind, word] if tables and kind in KINDS:
                tables.append(_wider(tables.pop(), Column(word, KINDS[kind])))
            case [] | ["comment" | "obj_info", *_]:
                pass
            case [word, *_] if word[0].isalpha() and word not in BINDING:
                passed_over = passed_over or line.strip()[:60]
            case _:
                what = f"the head of the PLY has an unknown line: {line.strip()[:60]!r}"
                raise UnreadableFileError(name, what, ADVICE)
    if order is None:
        raise UnreadableFileError(name, "the head of the PLY names no format", ADVICE)
    if (promised := sum(table.rows for table in tables)) > len(data):
        what = f"its head promises {promised} rows, the file has {len(data)} bytes"
        raise UnreadableFileError(name, what, "It breaks off: copy or export it again.")
    return Head(order, tuple(tables), start, passed_over)


def _lines(data: bytes, name: str) -> tuple[list[str], int]:
    """Return the lines of the head but its first and last, and where the rows begin."""
    end = END.search(data)
    if end is None:
        raise UnreadableFileError(name, "the head of the PLY does not end", ADVICE)
    # where lines end without a line feed, one that follows is a number's first byte
    start = end.end() if b"\n" in data[: end.start() + 1] else end.start(1) + 1
    return data[: end.start()].decode("latin-1").splitlines()[1:], start


def _wider(table: Table, column: Column) -> Table:
    return Table(table.name, table.rows, (*table.columns, column))
