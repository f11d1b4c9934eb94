"""Where the stream of rubber falls: the clear channel as a body."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from ..constants.case import STREAM_SIDES
from ..geometry.manifold import prism, to_mesh

if TYPE_CHECKING:
    from ..geometry.mesh import Mesh
    from .result import CaseResult


def stream_of(case: CaseResult) -> Mesh:
    """Return the bar that falls clear of the master, from the rim of the case to its floor.

    Its corners lie on the channel's circle, so it touches neither the master nor the case.

    Parameters
    ----------
    case : CaseResult
        With its channel, in the job frame.
    """
    turn = 2.0 * math.pi * np.arange(STREAM_SIDES) / STREAM_SIDES
    ring = case.channel_mm / 2.0 * np.column_stack([np.cos(turn), np.sin(turn)])
    return to_mesh(prism([ring + np.asarray(case.channel_at_mm)], 0.0, case.height_mm))
