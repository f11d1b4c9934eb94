"""One slit, laid out whole: line, ribbon, depths, numbers, proof."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import KNIFE_STEP_MM, THIN_SKIN_MM
from ..geometry.solid import area_cm2
from .keying import keyed_slit
from .opening import pull_at
from .piece import allowed_stretch
from .proof import prove_slit
from .result import KnifeDepth, Way
from .slit import find_slit
from .under import rubber_along_mm

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..case.result import CaseResult
    from ..geometry.mesh import Mesh
    from .block import Block
    from .keying import Keying
    from .lips import Lips
    from .proof import Proof
    from .result import Pull
    from .settings import CutSettings
    from .slit import Lines, Slit


@dataclass(frozen=True, eq=False)
class SlitCut:
    """One slit; fields as those of `CutResult`.

    Of slits that are tried only the pull is asked for: the rest is worked out for one that is
    taken.
    """

    pull: Pull
    slit: Slit
    lines: Lines

    @cached_property
    def line_mm(self) -> Floats:
        """On the piece."""
        base_mm, low = self.lines.found.base_mm, self.lines.case.master.bounds[0]
        return _on_piece(self.slit.blade.points_mm, base_mm, float(low[2]))

    @cached_property
    def length_mm(self) -> float:
        """Of that line."""
        return float(np.linalg.norm(np.diff(self.line_mm, axis=0), axis=1).sum())

    @cached_property
    def depths(self) -> tuple[KnifeDepth, ...]:
        """Of the knife, every so many millimetres of height."""
        blade = self.slit.blade
        depths = self.lines.case.bore.reaches_mm(blade.points_mm[:, :2], blade.ways)
        return _knife_depths(blade.points_mm[:, 2], depths)

    @cached_property
    def keying(self) -> Keying:
        """The surface that the knife follows."""
        lines = self.lines
        return keyed_slit(self.slit.blade, lines.found.sections, lines.case.bore, lines.settings)

    @cached_property
    def way(self) -> Way:
        """Its numbers."""
        return Way("one slit", self.length_mm, area_cm2(self.keying.ribbon), self.pull.stretch)

    @property
    def lips(self) -> Lips:
        """What its two lips have to do."""
        return self.slit.lips

    @property
    def trace_mm(self) -> Floats:
        """On the outside of the block."""
        trace: Floats = self.keying.rows[:, -1]
        return trace

    @property
    def tooth_mm(self) -> float:
        """Pitch of the teeth."""
        return self.keying.tooth_mm

    @property
    def wave_mm(self) -> float:
        """How far long waves go to each side."""
        return self.keying.wave_mm

    @property
    def loops_mm(self) -> tuple[Floats, ...]:
        """None: it parts nothing."""
        return ()

    def proven(
        self, case: CaseResult, block: Block | None, base_mm: float
    ) -> tuple[Proof | None, Mesh]:
        """Return the proof, if there is a block to cut, and the ribbon."""
        ribbon = self.keying.ribbon
        if block is None:
            return None, ribbon
        return prove_slit(case, block, self.keying, base_mm), ribbon


def slit_cut(lines: Lines, must_mm: float, settings: CutSettings) -> SlitCut:
    """Lay out one slit from the base up to a height at the least.

    Raises
    ------
    NoWayForSlitError
        If marks bar every way.
    """
    slit = find_slit(lines, must_mm, allowed_stretch(settings))
    tip, found = slit.tip, lines.found
    deep = float(lines.case.bore.reaches_mm(tip.points_mm[:, :2], tip.ways)[-1])
    thick = rubber_along_mm(found.sections, tip, deep)
    return SlitCut(pull_at(found.curve, slit.top_mm, thick, settings, slit.lips), slit, lines)


def _on_piece(points: Floats, base_mm: float, low_mm: float) -> Floats:
    """Return the part of a line that is on the piece; on a flat base it begins at the base."""
    kept = points[points[:, 2] >= base_mm].copy()
    if len(kept) < 2:  # nothing that would have to be slit
        kept = points[-2:].copy()
    if kept[0, 2] - low_mm < THIN_SKIN_MM:
        kept[0, 2] = low_mm
    return kept


def _knife_depths(z: Floats, depth: Floats) -> tuple[KnifeDepth, ...]:
    told = np.arange(0.0, z[-1] + 1e-9, KNIFE_STEP_MM)
    at = np.minimum(np.searchsorted(z, told), len(z) - 1)
    return tuple(KnifeDepth(float(a), float(b)) for a, b in zip(told, depth[at], strict=True))
