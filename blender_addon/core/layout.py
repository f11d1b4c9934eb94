"""The whole layout: one field a stage."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from .bubbles.result import BubblesResult
    from .case.result import CaseResult
    from .cut.result import CutResult
    from .funnel.result import FunnelResult
    from .notices import Notice
    from .parts.result import PartsResult
    from .resin.result import ResinResult
    from .rubber.result import RubberResult
    from .scan.result import ScanResult
    from .settings import Settings


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
    timings_s: Mapping[str, float]

    @property
    def warnings(self) -> tuple[Notice, ...]:
        """What the stages warn of, in the order of the job."""
        stages = (getattr(self, field.name) for field in fields(self))
        return tuple(notice for stage in stages for notice in getattr(stage, "warnings", ()))
