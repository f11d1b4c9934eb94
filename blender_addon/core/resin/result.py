"""What the resin stage hands on: the copy, its shell, and how it is filled."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..notices import Notice
    from ..rubber.weigh import Batch
    from .heat import Heat
    from .opening import Opening
    from .reading import Leaning
    from .shell import Cavity
    from .shrinkage import Sculpt, ShrinkStep


@dataclass(frozen=True)
class Fill:
    """One back-fill: up to how far below the rim, and how much.

    ``g`` is what goes in; ``a_g`` and ``b_g`` are that in steps of the scale. A slab ``thick_mm``
    thick cools as slowly.
    """

    to_mm_below_rim: float
    ml: float
    g: float
    deep_mm: float
    thick_mm: float
    a_g: float
    b_g: float


@dataclass(frozen=True, eq=False)
class ResinResult:
    """Shell, fills and what is left hollow are the copy.

    ``fill_table`` (n, 2): mm below the rim of the upturned mold, ml of copy still to fill.
    ``cavity_table`` (k, 2) is the same inside the shell. ``shell_table`` (j, 2): mm of an
    even coat, ml that it takes. ``coats`` are the batches of the shell,
    ``fills_because`` says what asks for so many fills.
    ``true_base_mm_below_rim`` is the stop line, the riser beyond it is ``sanded_ml``. ``cavity`` is
    what the shell leaves open.
    """

    copy_ml: float
    copy_g: float
    shell_ml: float
    shell_g: float
    fills: tuple[Fill, ...]
    fill_table: Floats
    cavity_table: Floats
    shell_table: Floats
    coats: tuple[Batch, ...]
    hollow_ml: float
    needs_g: float
    cost: float | None
    true_base_mm_below_rim: float
    sanded_ml: float
    sanded_g: float
    opening: Opening
    heat: Heat
    shrinkage: tuple[ShrinkStep, ...]
    sculpt: Sculpt
    cavity: Cavity
    leaning: Leaning | None = None
    fills_because: str = ""
    warnings: tuple[Notice, ...] = ()
