"""Results as plain data that any JSON reader takes."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from .sentences import Sentence, marked

DECIMALS = 6
"""Places after the point: a millionth of a mm or ml is below anything that can be measured."""


def plain(value: object) -> Any:
    """Return lists, dicts, texts and plain numbers only; what is no finite number becomes None.

    Parameters
    ----------
    value : object
        Dicts, sequences and numpy arrays of them, nested as deep as one likes.

    Examples
    --------
    >>> plain({"a": (np.float64(1 / 3), np.int64(2), -0.0), "b": float("nan"), "c": True})
    {'a': [0.333333, 2, 0.0], 'b': None, 'c': True}
    """
    if isinstance(value, dict):
        return {str(key): plain(one) for key, one in value.items()}
    if isinstance(value, np.ndarray | np.generic):
        return plain(value.tolist())
    if isinstance(value, list | tuple):
        return [plain(one) for one in value]
    if isinstance(value, float):
        return round(value, DECIMALS) + 0.0 if math.isfinite(value) else None
    if isinstance(value, str):
        return _readable(value)
    if value is None or isinstance(value, bool | int):
        return value
    raise TypeError(f"{type(value).__name__} is no plain data")


def _readable(text: str) -> str:
    """Return a text without the stray bytes that names of files may hold; a sentence stays one."""
    clean = marked(text).encode("utf-8", "replace").decode()
    return Sentence(clean) if isinstance(text, Sentence) else clean
