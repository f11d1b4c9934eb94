"""Lengths and areas as they are read in a text, to hold one unit against the other."""

from __future__ import annotations

import re
from itertools import zip_longest

MM_PER_INCH = 25.4
"""NIST SP 811, appendix B."""

IN_METRIC = {"in": ("mm", MM_PER_INCH), "in²": ("cm²", (MM_PER_INCH / 10.0) ** 2)}
_READING = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?) (mm|cm²|in²|in)(?![\w²])")


def readings(text):
    """Return value, last digit and unit of each length and area in a text."""
    return [
        (float(value), 10.0 ** -len(value.partition(".")[2]), unit)
        for value, unit in _READING.findall(text)
    ]


def differs(metric, imperial):
    """Return the first pair of readings that cannot be of one exact quantity, or nothing.

    Each may be half of its last digit off, and no more.
    """
    for one, other in zip_longest(readings(metric), readings(imperial)):
        if one is None or other is None or other[2] not in IN_METRIC:
            return one, other
        unit, factor = IN_METRIC[other[2]]
        off = abs(one[0] - factor * other[0])
        if one[2] != unit or off > 0.5 * one[1] + 0.5 * factor * other[1] + 1e-9:
            return one, other
    return None
