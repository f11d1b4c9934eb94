"""Why so many fills: by hand on a wide trough, 100 mm deep, of 1000 ml."""

import numpy as np
import pytest

from blender_addon.core.resin.fills import staged_fills
from blender_addon.core.resin.heat import fill_limits
from blender_addon.core.resin.settings import ResinSettings
from blender_addon.core.resin.why import why_fills

TABLE = np.array([[0.0, 0.0], [100.0, 1000.0]])
WIDTHS = np.array([[0.0, 1e4], [100.0, 1e4]])  # so wide that a fill is as thick as it is deep


def why(**given):
    settings = ResinSettings(density_kg_m3=1050.0, **given)
    fills = staged_fills(TABLE, fill_limits(settings, WIDTHS), settings, 1.0)
    return len(fills), why_fills(len(fills), TABLE, WIDTHS, settings)


@pytest.mark.parametrize(
    ("given", "count", "told"),
    [
        # 100 mm in layers of 25; twice that would do with 2, but 1050 g in fills of 400 g are 3
        ({"stage_g": 400.0}, 4, ("25.0 mm at a time", "it would be 3", "Deepest Fill")),
        ({"stage_g": 2000.0, "kind": "slow polyurethane"}, 2, ("50.0 mm", "it would be 1")),
        ({"stage_g": 200.0}, 6, ("Largest Fill is set to 200 g",)),
        ({"stage_g": 2000.0, "deepest_fill_mm": 21.0}, 5, ("Deepest Fill is 21.0 mm",)),
    ],
)
def test_the_limit_that_asks_for_so_many_fills_is_named(given, count, told):
    found, text = why(**given)
    assert found == count
    assert text.startswith(f"{count} fills, because ")
    assert all(one in text for one in told)


def test_of_one_fill_nothing_has_to_be_said():
    assert why(stage_g=2000.0, deepest_fill_mm=150.0) == (1, "")


def test_lengths_are_told_in_the_readers_unit():
    assert "0.98 in at a time" in why()[1].in_inches
