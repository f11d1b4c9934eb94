"""The whole layout: one field a stage."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from .rubber.compare import compared

if TYPE_CHECKING:
    from collections.abc import Mapping

    from .bubbles.result import BubblesResult
    from .case.result import CaseResult
    from .cut.result import CutResult
    from .funnel.result import FunnelResult
    from .notices import Notice
    from .parts.result import PartsResult
    from .resin.result import ResinResult
    from .rubber.compare import Compared
    from .rubber.result import RubberResult
    from .scan.result import ScanResult
    from .settings import Settings
    from .sheet.result import SheetResult


@dataclass(frozen=True, eq=False)
class Layout:
    """What every stage found, and the settings it was told."""

    settings: Settings
    scan: ScanResult
    bubbles: BubblesResult
    case: CaseResult
    funnel: FunnelResult
    cut: CutResult
    rubber: RubberResult
    resin: ResinResult
    parts: PartsResult
    sheet: SheetResult
    timings_s: Mapping[str, float]

    @cached_property
    def looks_to(self) -> tuple[float, float]:
        """The level direction (x, y), of length 1, that most of the places to brush look to."""
        faces = np.flatnonzero(self.bubbles.prebrush)
        x, y, _ = self.case.master.vectors_mm2[faces].sum(axis=0).tolist()
        length = math.hypot(x, y)
        return (x / length, y / length) if length > 0.0 else (0.0, -1.0)

    @property
    def cases(self) -> tuple[Compared, ...]:
        """The cases that would do, the least rubber first."""
        return compared(self.case, self.rubber)

    @property
    def warnings(self) -> tuple[Notice, ...]:
        """What the stages warn of, in the order of the job."""
        return tuple(notice for _, notice in self.warnings_by_stage)

    @property
    def warnings_by_stage(self) -> tuple[tuple[str, Notice], ...]:
        """The same, each with the name of the stage that warns."""
        return tuple(
            (field.name, notice)
            for field in fields(self)
            for notice in getattr(getattr(self, field.name), "warnings", ())
        )
