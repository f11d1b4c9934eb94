"""What runs again: told beforehand, and seen in a real run."""

from __future__ import annotations

import dataclasses

import pytest

from blender_addon.core.memo import Memo
from blender_addon.core.pipeline import STAGES, lay_out
from blender_addon.core.pipeline_inputs import changed_stages, inputs_of_stages, stages_after
from blender_addon.core.settings import Settings, as_tables, from_tables
from tests import shapes

QUICK = {"scan": {"up": "+z"}, "bubbles": {"lean_limit_deg": 0.0, "pitch_mm": 2.0}}
CHANGES = {"case": {"cover_mm": 25.0}, "resin": {"shell_mm": 4.0}, "funnel": {"bowl_ml": 250.0}}


@pytest.fixture(scope="module")
def run():
    mesh, memo = shapes.box((40, 40, 60), (0, 0, 0)), Memo()
    return mesh, memo, lay_out(mesh, from_tables(QUICK), memo)


@pytest.mark.parametrize("stage", CHANGES)
def test_the_stages_told_are_those_that_run(run, stage):
    mesh, memo, _ = run
    before = lay_out(mesh, from_tables(QUICK), memo)
    after = lay_out(mesh, from_tables({**QUICK, stage: CHANGES[stage]}), memo)
    names = [field.name for field in dataclasses.fields(Settings)]
    ran = {name for name in names if getattr(after, name) is not getattr(before, name)}
    told = set(stages_after({stage}))
    assert ran <= told
    assert told - ran <= {"resin"}  # takes one number of the rubber's, which may stay the same


def test_every_stage_is_told_after_those_that_feed_it():
    inputs = inputs_of_stages()
    assert {stage.title() for stage in inputs} == set(STAGES)
    told = list(inputs)
    assert all(told.index(given) < told.index(one) for one in told for given in inputs[one])


def test_the_parts_do_not_wait_for_the_cut():
    told = list(inputs_of_stages())
    assert told.index("parts") < told.index("cut")
    assert set(stages_after({"scan"})) == {stage.lower() for stage in STAGES}


def test_a_setting_that_the_old_table_does_not_know_changes_nothing():
    old = as_tables(Settings())
    del old["cut"]["tooth_mm"]
    del old["parts"]
    new = as_tables(from_tables({"cut": {"tooth_mm": 20.0}, "resin": {"shell_mm": 4.0}}))
    assert changed_stages(old, new) == ("resin",)
