"""The head of a PLY: which tables follow, and which columns each has."""

from __future__ import annotations

from dataclasses import dataclass

from ..errors import UnreadableFileError

ADVICE = "Export the scan again as PLY with triangles, or as STL."
KINDS = {
    "char": "i1", "uchar": "u1", "short": "i2", "ushort": "u2", "int": "i4", "uint": "u4",
    "float": "f4", "double": "f8", "int8": "i1", "uint8": "u1", "int16": "i2", "uint16": "u2",
    "int32": "i4", "uint32": "u4", "float32": "f4", "float64": "f8",
}  # fmt: skip
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
    """``order`` is the byte order as numpy writes it, empty for text; rows begin at ``start``."""

    order: str
    tables: tuple[Table, ...]
    start: int


def parse_head(data: bytes, name: str) -> Head:
    """Return what the head of a PLY says.

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
    mark = data.find(b"end_header")
    end = data.find(b"\n", mark)
    if mark < 0 or end < 0:
        raise UnreadableFileError(name, "the head of the PLY does not end", ADVICE)
    order, tables = None, []
    for line in data[:mark].decode("latin-1").splitlines()[1:]:
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
            case _:
                what = f"the head of the PLY has an unknown line: {line.strip()[:60]!r}"
                raise UnreadableFileError(name, what, ADVICE)
    if order is None:
        raise UnreadableFileError(name, "the head of the PLY names no format", ADVICE)
    if (promised := sum(table.rows for table in tables)) > len(data):
        what = f"its head promises {promised} rows, the file has {len(data)} bytes"
        raise UnreadableFileError(name, what, "It breaks off: copy or export it again.")
    return Head(order, tuple(tables), end + 1)


def _wider(table: Table, column: Column) -> Table:
    return Table(table.name, table.rows, (*table.columns, column))
