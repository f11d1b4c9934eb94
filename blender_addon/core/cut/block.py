"""The block of rubber as a solid, and its volume without making it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from ..constants.cut import KERF_MM, PROOF_MARGIN_MM
from ..geometry.hull import hull_corners
from ..geometry.manifold import prism

if TYPE_CHECKING:
    import manifold3d

    from ..case.result import CaseResult


@dataclass(frozen=True, eq=False)
class Block:
    """The rubber: what a bore holds up to its level, less the master, its riser and the wax on it.

    ``full`` is the bore's filling, ``riser`` that with its wax, None where there is none. The piece
    is in the bore if ``within`` says so.
    """

    full: manifold3d.Manifold
    riser: manifold3d.Manifold | None
    master: manifold3d.Manifold
    within: bool

    @cached_property
    def solid(self) -> manifold3d.Manifold:
        """The rubber itself. It has every triangle of the scan, so that it takes its time."""
        return self.without_piece(self.full)

    @cached_property
    def volume_mm3(self) -> float:
        """Of the rubber: filling less piece and riser, and what the two share counted once."""
        if not self.within:
            return float(self.solid.volume())
        if self.riser is None:
            return float(self.full.volume() - self.master.volume())
        shared = (self.master ^ self.riser).volume()
        return float((self.full - self.riser).volume() - self.master.volume() + shared)

    def without_piece(self, solid: manifold3d.Manifold) -> manifold3d.Manifold:
        """Return a solid less riser and master, the small one first.

        Left to itself the library would add the two up before, and the master is fine.
        """
        if self.riser is not None:
            solid -= self.riser
            solid.status()  # has the library work it out
        return solid - self.master


def block_of(case: CaseResult, master: manifold3d.Manifold, base_mm: float) -> Block:
    """Return the block of a case; wax seals the master's base up to a height."""
    full = prism([np.array(case.bore.outline_mm)], 0.0, case.level_z_mm)
    riser = None
    if base_mm > 0.0 and len(case.riser_outline):
        riser = prism(case.riser_outline, -PROOF_MARGIN_MM, base_mm + KERF_MM)
    return Block(full, riser, master, _stands_within(case))


def _stands_within(case: CaseResult) -> bool:
    """Return whether no part of the master is outside of the filling, which is convex."""
    low, high = case.master.bounds
    around = np.array(case.bore.outline_mm)
    side = np.roll(around, -1, axis=0) - around
    off = hull_corners(case.master.vertices[:, :2])[:, None] - around
    left = side[:, 0] * off[..., 1] - side[:, 1] * off[..., 0]
    return bool(low[2] >= 0.0 and high[2] <= case.level_z_mm and (left >= 0.0).all())
