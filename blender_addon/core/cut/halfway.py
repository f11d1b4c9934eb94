"""Two halves, laid out whole: parting line, surface, depths, numbers, proof."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import GIVE_SHARE, KNIFE_STEP_MM, LONG_WAVE_MM
from ..errors import NoWayForSlitError
from ..geometry.mesh import Mesh
from .halves import parting_line
from .opening import pull_of_halves
from .parting import area_cm2, depths_mm, outside_mm, parting_of
from .proof import prove_halves
from .result import KnifeDepth, Way

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from ..case.result import CaseResult
    from .block import Block
    from .parting import Parting
    from .proof import Proof
    from .result import Pull
    from .settings import CutSettings
    from .undercut import Split
    from .way import Ground


@dataclass(frozen=True, eq=False)
class HalvesCut:
    """Two halves; fields as those of `CutResult`.

    ``crossed_at_mm`` is where the parting line crosses what is marked, None where it does not.
    """

    parting: Parting
    loops_mm: tuple[Floats, ...]
    trace_mm: Floats
    depths: tuple[KnifeDepth, ...]
    crossed_at_mm: tuple[float, float, float] | None
    way: Way
    pull: Pull

    @property
    def line_mm(self) -> Floats:
        """The longest loop, closed."""
        if not self.loops_mm:
            return np.zeros((0, 3))
        longest = self.loops_mm[0]
        return np.vstack([longest, longest[:1]])

    @property
    def tooth_mm(self) -> float:
        """Pitch of the teeth."""
        return self.parting.tooth_mm

    @property
    def wave_mm(self) -> float:
        """How far long waves go to each side, where there is room."""
        return LONG_WAVE_MM if self.parting.tooth_mm else 0.0

    def refusal(self) -> NoWayForSlitError | None:
        """Return why the parting line will not do, where it crosses what is marked."""
        if self.crossed_at_mm is None:
            return None
        message = (
            "No slit and no two halves come round the faces marked Not Here: they reach too far "
            "about the piece. Clear some of the marks, or set another way for the halves to open."
        )
        return NoWayForSlitError(message, self.crossed_at_mm)

    def proven(
        self, _case: CaseResult, block: Block | None, _base_mm: float
    ) -> tuple[Proof | None, Mesh]:
        """Return the proof and the parting surface in the rubber, if there is a block to cut."""
        if block is None:
            return None, Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64))
        return prove_halves(block.solid, self.parting.solid)


def halves_cut(
    case: CaseResult, ground: Ground, split: Split, allowed: float, settings: CutSettings
) -> HalvesCut:
    """Lay out two halves, though they may cross marks: `HalvesCut.refusal` tells."""
    give_mm = GIVE_SHARE * min(allowed, 1.0) * max(case.least_rubber_mm, 0.0)
    parting = parting_of(case, ground, split, give_mm, settings)
    line = parting_line(ground.mesh, parting)
    left, top, right = outside_mm(parting, case)
    turn = float(np.degrees(np.arctan2(split.towards[1], split.towards[0])) % 180.0)
    way = Way(
        "two halves", line.length_mm, area_cm2(parting, case), split.needed_stretch,
        split.undercut_ml, turn,
    )  # fmt: skip
    return HalvesCut(
        parting=parting,
        loops_mm=line.loops,
        trace_mm=np.vstack([left, top[1:-1], right]),
        depths=_knife_depths(parting, case),
        crossed_at_mm=_crossed_at_mm(parting, ground, line.faces),
        way=way,
        pull=pull_of_halves(split.needed_stretch, case.least_rubber_mm, settings),
    )


def _crossed_at_mm(
    parting: Parting, ground: Ground, faces: Ints
) -> tuple[float, float, float] | None:
    """Return where marks are crossed by a line over some faces, or push it off the piece."""
    crossed = faces[ground.barred[faces]]
    if parting.barred and not len(crossed):
        crossed = np.flatnonzero(ground.barred)
    if not len(crossed):
        return None
    x, y, z = ground.mesh.corners[crossed[0]].mean(axis=0).tolist()
    return x, y, z


def _knife_depths(parting: Parting, case: CaseResult) -> tuple[KnifeDepth, ...]:
    """Return the depth from both sides every so many millimetres of height, and from the top."""
    heights = np.arange(0.0, case.level_z_mm, KNIFE_STEP_MM).tolist()
    both = [(z, *depths_mm(parting, case, z)) for z in heights]
    top = case.level_z_mm - float(case.master.bounds[1][2])
    return (
        *(KnifeDepth(z, left, "left") for z, left, _ in both),
        *(KnifeDepth(z, right, "right") for z, _, right in both),
        KnifeDepth(case.level_z_mm, top, "top"),
    )
