"""Settings at the ends of their ranges, several at once: a layout or words why not, no fault."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest

from blender_addon.core.errors import RiselineError
from blender_addon.core.fields import spec_of
from blender_addon.core.pipeline import lay_out
from blender_addon.core.settings import Settings, as_tables, from_tables
from tests import shapes

CALM = {"pitch_mm": 2.0, "lean_limit_deg": 0.0}
"""Where nothing else is drawn: looking closely is tested elsewhere, and takes its time."""


def piece():
    """Return a piece on a foot, with a waist and a brim that traps air."""
    profile = [(0, 0), (22, 0), (18, 12), (10, 25), (12, 42), (30, 36), (33, 44), (26, 52), (0, 60)]
    return shapes.turned(profile, 24)


SIZES = ("height_mm", "width_mm", "depth_mm")
"""Most pieces of such a size cannot be poured: that is tested by itself."""


def drawable():
    """Return stage, name and values of every setting that has a range or choices, but sizes."""
    found = []
    for stage in dataclasses.fields(Settings):
        for field in dataclasses.fields(getattr(Settings(), stage.name)):
            spec = spec_of(field)
            if stage.name == "scan" and field.name in SIZES:
                continue
            if spec.choices:
                found.append((stage.name, field.name, list(spec.choices)))
            elif isinstance(field.default, float):
                middle = math.sqrt(max(spec.low, 0.01) * spec.high)
                values = (spec.low, middle, spec.high)
                found.append((stage.name, field.name, [float(value) for value in values]))
    return found


def drawn(seed):
    """Return the tables of settings of which a tenth is drawn at random, and what was drawn."""
    rng = np.random.default_rng(seed)
    tables = as_tables(Settings())
    tables["bubbles"].update(CALM)
    chosen = []
    for stage, name, values in drawable():
        if rng.random() < 0.1:
            tables[stage][name] = values[rng.integers(len(values))]
            chosen.append(f"{stage}.{name} = {tables[stage][name]}")
    return tables, chosen


def ended(tables):
    """Return the layout, or the words that it was refused in; anything else is raised."""
    try:
        return lay_out(piece(), from_tables(tables))
    except RiselineError as error:
        return str(error)


def test_the_piece_is_laid_out_with_settings_as_they_come():
    tables = as_tables(Settings())
    tables["bubbles"].update(CALM)
    assert ended(tables).bubbles.trapped_ml > 1.0


@pytest.mark.parametrize("seed", range(8))
def test_settings_at_the_ends_of_their_ranges_end_in_a_layout_or_in_words(seed):
    tables, chosen = drawn(seed)
    found = ended(tables)
    assert len(chosen) > 3
    if isinstance(found, str):
        assert found.endswith("."), chosen
        return
    scan, rubber, resin = found.scan, found.rubber, found.resin
    assert 0.0 < scan.volume_ml < math.inf, chosen
    assert 0.0 < rubber.volume_ml < math.inf, chosen
    mixed_g = sum(batch.a_g + batch.b_g for batch in rubber.batches)
    assert mixed_g == pytest.approx(rubber.mass_g), chosen
    filled_ml = resin.shell_ml + sum(fill.ml for fill in resin.fills) + resin.hollow_ml
    assert filled_ml == pytest.approx(resin.copy_ml, rel=0.01), chosen
    assert found.case.least_rubber_mm > 0.0, chosen
    assert found.case.channel_mm > 0.0, chosen
