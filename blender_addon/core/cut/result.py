"""What the cut stage hands on: where the knife goes, in the job frame."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..geometry.mesh import Mesh
    from ..notices import Notice
    from .proof import Proof
    from .stretch import StretchCurve, TightPlace


@dataclass(frozen=True)
class KnifeDepth:
    """How deep the knife goes from the outside of the block, at a height."""

    z_mm: float
    depth_mm: float


@dataclass(frozen=True)
class Pull:
    """How hard it is to open the mold at the slit's end.

    ``word`` is "easy", "hard" or "do not". The rubber there is ``thickness_mm`` thick and still has
    to stretch by ``stretch``; a lip of it takes ``force_n``.
    """

    word: str
    force_n: float
    stretch: float
    thickness_mm: float


@dataclass(frozen=True, eq=False)
class CutResult:
    """``kind`` is "one slit" or "two halves".

    ``slit_mm`` (n, 3) runs on the master from its base up; ``zigzag_mm`` (k, 3) on the outside of
    the block; ``ribbon`` is the surface between them, open, for the eye. Stretch is a fraction of
    length.
    """

    kind: str
    slit_mm: Floats
    slit_length_mm: float
    needed_stretch: float
    allowed_stretch: float
    zigzag_mm: Floats
    ribbon: Mesh
    depths: tuple[KnifeDepth, ...]
    warnings: tuple[Notice, ...] = ()
    tooth_mm: float = 0.0
    wave_mm: float = 0.0
    curve: StretchCurve | None = None
    tight: tuple[TightPlace, ...] = ()
    pull: Pull | None = None
    proof: Proof | None = None
