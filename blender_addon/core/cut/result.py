"""What the cut stage hands on: where the knife goes, in the job frame."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..geometry.mesh import Mesh
    from ..notices import Notice
    from .classes import InClass
    from .held import TightPlace
    from .lips import Lips
    from .proof import Proof
    from .stretch import StretchCurve
    from .webs import Web


@dataclass(frozen=True)
class KnifeDepth:
    """How deep the knife goes from the outside of the block, at a height.

    ``side`` is "slit", and of halves "left", "right" or "top", as one looks along the pull.
    """

    z_mm: float
    depth_mm: float
    side: str = "slit"


@dataclass(frozen=True)
class Pull:
    """How hard it is to open the mold at the slit's end.

    ``word`` is "easy", "hard" or "do not". The rubber there is ``thickness_mm`` thick and still has
    to stretch by ``stretch``; a lip of it takes ``force_n``, and from ``least_n`` to ``most_n`` by
    the relations between hardness and stiffness that are in use; the word goes by these. While no
    air gets between rubber and piece, suction can hold against a pull straight up with up to
    ``suction_n``; 0 if not asked for.
    """

    word: str
    force_n: float
    stretch: float
    thickness_mm: float
    suction_n: float = 0.0
    least_n: float = 0.0
    most_n: float = 0.0


@dataclass(frozen=True)
class Way:
    """One of the two ways to open the block, in numbers, so that both can be compared.

    ``length_mm`` is cut on the piece and leaves a line on every copy, ``area_cm2`` through the
    rubber. ``stretch`` is what the rubber still has to stretch then. Of halves, ``undercut_ml`` of
    rubber stand behind the piece, and ``towards_deg`` is the pull, counter-clockwise from +x of the
    job's frame; of a slit both are 0.
    """

    kind: str
    length_mm: float
    area_cm2: float
    stretch: float
    undercut_ml: float = 0.0
    towards_deg: float = 0.0


@dataclass(frozen=True, eq=False)
class CutResult:
    """``kind`` is "one slit" or "two halves", or "none" where no cut was found: no lines then.

    Of a slit, ``slit_mm`` (n, 3) runs on the master from its base up; of halves it is the longest
    closed line that they part along, with its first point again at its end, and ``parting_mm``
    holds all of them. ``zigzag_mm`` (k, 3) runs on the outside of the block; ``ribbon`` is the
    surface between them, open, for the eye. Stretch is a fraction of length. ``webs`` are in the
    through-holes, ``hairs`` counts holes so narrow that theirs tear by themselves. ``tight`` are
    small parts that are held fast, ``missed`` large ones that a slit runs past; ``ways`` both ways
    to open in numbers, ``lips`` what those of a slit let pass;
    ``not_here_faces`` of the piece were barred. ``start_deg`` is where a slit starts
    as the setting of that name counts it; ``classes`` are what it would come to in common classes
    of rubber.
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
    missed: tuple[TightPlace, ...] = ()
    lips: Lips | None = None
    not_here_faces: int = 0
    pull: Pull | None = None
    proof: Proof | None = None
    webs: tuple[Web, ...] = ()
    hairs: int = 0
    ways: tuple[Way, ...] = ()
    parting_mm: tuple[Floats, ...] = ()
    start_deg: float = 0.0
    classes: tuple[InClass, ...] = ()
