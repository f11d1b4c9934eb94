"""What the resin stage hands on: the copy, its shell, and how it is filled."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..notices import Notice


@dataclass(frozen=True)
class Fill:
    """One back-fill: up to how far below the rim, and how much."""

    to_mm_below_rim: float
    ml: float
    g: float


@dataclass(frozen=True, eq=False)
class ResinResult:
    """``fill_table`` (n, 2): mm below the rim of the upturned mold, ml of copy still to fill."""

    copy_ml: float
    copy_g: float
    shell_ml: float
    shell_g: float
    fills: tuple[Fill, ...]
    fill_table: Floats
    warnings: tuple[Notice, ...] = ()
