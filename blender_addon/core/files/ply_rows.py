"""The rows of a PLY as columns: at once where all rows are alike, else one after the other."""

from __future__ import annotations

import struct
from typing import TYPE_CHECKING, Any

import numpy as np

from .ply_head import Column, Head, Table

if TYPE_CHECKING:
    from collections.abc import Mapping

    import numpy.typing as npt

    from ..arrays import Ints

    Values = npt.NDArray[Any]

LETTERS = {"i1": "b", "u1": "B", "i2": "h", "u2": "H", "i4": "i", "u4": "I", "f4": "f", "f8": "d",
           "i8": "q", "u8": "Q"}  # fmt: skip


def columns_of(head: Head, data: bytes) -> dict[str, Mapping[str, tuple[Values, Ints]]]:
    """Return, by table and column, all values in one row and how many of them each row has.

    Parameters
    ----------
    head : Head
    data : bytes
        The whole file.

    Raises
    ------
    ValueError, IndexError, OverflowError, struct.error
        If the data breaks off or holds what is no number, or if lines of the head were passed over
        and the rows do not fill the file: one of them may have named a column.
    """
    order, at, tables = head.order, head.start, head.tables
    if not order:  # a text is rows of doubles, written out
        words = np.fromiter(map(float, data[head.start :].split()), np.float64)
        data, at, order, tables = words.tobytes(), 0, "=", tuple(map(_as_doubles, tables))
    found: dict[str, Mapping[str, tuple[Values, Ints]]] = {}
    for table in tables:
        if table.rows and table.columns:
            found[table.name], at = _columns(table, order, data, at)
    if head.passed_over and data[at:].strip():
        raise ValueError(head.passed_over)
    return found


def _as_doubles(table: Table) -> Table:
    wide = [Column(one.name, "f8", "f8" if one.count_kind else "") for one in table.columns]
    return Table(table.name, table.rows, tuple(wide))


def _columns(
    table: Table, order: str, data: bytes, at: int
) -> tuple[dict[str, tuple[Values, Ints]], int]:
    _, first, _ = _walk(table, order, data, at, 1)
    record = _record(table, order, first[0])
    end = at + table.rows * record.itemsize
    if end <= len(data):
        rows = np.frombuffer(data, record, table.rows, at)
        lists = [k for k, one in enumerate(table.columns) if one.count_kind]
        if all((rows[f"count{k}"] == first[0, k]).all() for k in lists):
            return {
                one.name: (rows[f"values{k}"].reshape(-1), np.full(table.rows, first[0, k]))
                for k, one in enumerate(table.columns)
            }, end
    starts, counts, end = _walk(table, order, data, at, table.rows)
    return {
        one.name: (_gathered(data, order + one.kind, starts[:, k], counts[:, k]), counts[:, k])
        for k, one in enumerate(table.columns)
    }, end


def _record(table: Table, order: str, counts: Ints) -> np.dtype[Any]:
    fields: list[Any] = []
    for k, one in enumerate(table.columns):
        if one.count_kind:
            fields.append((f"count{k}", order + one.count_kind))
        fields.append((f"values{k}", order + one.kind, (int(counts[k]),)))
    return np.dtype(fields)


def _walk(table: Table, order: str, data: bytes, at: int, rows: int) -> tuple[Ints, Ints, int]:
    """Return where each row's values start (rows, columns), how many they are, and the end.

    A plain loop: where a row begins is known only from the lengths of the lists before it.
    """
    steps = [
        (struct.Struct(order + LETTERS[one.count_kind]) if one.count_kind else None,
         np.dtype(one.kind).itemsize)
        for one in table.columns
    ]  # fmt: skip
    starts, counts = [], []
    for _ in range(rows):
        for counter, size in steps:
            count = 1
            if counter is not None:
                count = int(counter.unpack_from(data, at)[0])
                at += counter.size
            starts.append(at)
            counts.append(count)
            at += count * size
            if count < 0 or at > len(data):
                raise ValueError(count)
    shape = (rows, len(steps))
    return np.array(starts, np.int64).reshape(shape), np.array(counts, np.int64).reshape(shape), at


def _gathered(data: bytes, kind: str, starts: Ints, counts: Ints) -> Values:
    dtype = np.dtype(kind)
    within = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
    first = np.repeat(starts, counts) + within * dtype.itemsize
    raw = np.frombuffer(data, np.uint8)[first[:, None] + np.arange(dtype.itemsize)]
    values: Values = raw.reshape(-1).view(dtype)
    return values
