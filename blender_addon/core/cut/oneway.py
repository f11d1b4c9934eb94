"""One slit, laid out whole: line, ribbon, depths, numbers, proof."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import KNIFE_STEP_MM, THIN_SKIN_MM
from ..geometry.solid import area_cm2
from .keying import keyed_slit
from .opening import most_suction_n, pull_at
from .proof import prove_slit
from .result import KnifeDepth, Way
from .slit import find_slit
from .under import rubber_along_mm

if TYPE_CHECKING:
    import manifold3d

    from ..arrays import Floats
    from ..case.result import CaseResult
    from ..geometry.mesh import Mesh
    from .keying import Keying
    from .lips import Lips
    from .measure import Measured
    from .proof import Proof
    from .result import Pull
    from .settings import CutSettings
    from .slit import Slit
    from .way import Ground


@dataclass(frozen=True, eq=False)
class SlitCut:
    """One slit; fields as those of `CutResult`."""

    line_mm: Floats
    keying: Keying
    depths: tuple[KnifeDepth, ...]
    way: Way
    pull: Pull
    slit: Slit

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
        self, case: CaseResult, block: manifold3d.Manifold | None, base_mm: float
    ) -> tuple[Proof | None, Mesh]:
        """Return the proof, if there is a block to cut, and the ribbon."""
        ribbon = self.keying.ribbon
        if block is None:
            return None, ribbon
        return prove_slit(case, block, self.keying, base_mm), ribbon


def slit_cut(
    case: CaseResult, found: Measured, must_mm: float, ground: Ground, settings: CutSettings
) -> SlitCut:
    """Lay out one slit from the base up to a height at the least.

    Raises
    ------
    NoWayForSlitError
        If marks bar every way.
    """
    slit = find_slit(case, found, must_mm, ground, settings)
    keying = keyed_slit(slit.blade, found.sections, case.bore, settings)
    points = slit.blade.points_mm
    line = _on_piece(points, found.base_mm, float(case.master.bounds[0][2]))
    depths = case.bore.reaches_mm(points[:, :2], slit.blade.ways)
    thick = rubber_along_mm(found.sections, slit.blade, float(depths[-1]))
    pull = replace(
        pull_at(found.curve, slit.top_mm, thick, settings, slit.lips),
        suction_n=most_suction_n(case.master),
    )
    length = float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum())
    way = Way("one slit", length, area_cm2(keying.ribbon), pull.stretch)
    return SlitCut(line, keying, _knife_depths(points[:, 2], depths), way, pull, slit)


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
