"""The stream that is shown is the channel that was found."""

from __future__ import annotations

import numpy as np
import pytest

from blender_addon.core.case.settings import CaseSettings
from blender_addon.core.case.stage import case_stage
from blender_addon.core.case.stream import stream_of
from blender_addon.core.catalog.tubes import tubes
from blender_addon.core.geometry.manifold import to_solid
from blender_addon.core.watch import Watch
from tests.core import scans
from tests.core.case.plates import plate, star


@pytest.mark.parametrize("kind", ["automatic", "printed oval", "printed contour"])
def test_stream_meets_neither_master_nor_case_from_rim_to_floor(kind):
    scan = scans.standing(plate(star(3)))
    case = case_stage(scan, tubes(), CaseSettings(kind=kind), Watch())
    stream = stream_of(case)
    assert (to_solid(stream) ^ to_solid(case.master)).volume() == 0
    assert case.bore.distances_mm(stream.vertices[:, :2]).min() > -1e-6
    low, high = stream.bounds
    assert (low[2], high[2]) == pytest.approx((0, case.height_mm))
    assert np.ptp(stream.vertices[:, 0]) == pytest.approx(case.channel_mm, rel=1e-3)
