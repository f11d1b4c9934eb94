"""Each sample scan against what is known of its shape without the add-on.

The numbers and how each was found stand in sample_scenes/NAME.expected.json.
"""

from __future__ import annotations

import json
import re
from functools import lru_cache
from math import pi
from pathlib import Path

import numpy as np
import pytest
import trimesh

from blender_addon.core.files.read import read
from blender_addon.core.job import job_of
from blender_addon.core.job_summary import summary
from blender_addon.core.pipeline import lay_out
from blender_addon.core.sentences import in_unit
from blender_addon.core.settings import load
from blender_addon.core.sheet.settings import INCHES
from blender_addon.core.watch import Watch
from tests.core.readings import differs, readings

FOLDER = Path(__file__).resolve().parents[2] / "sample_scenes"
FILES = {
    "toadstool": "toadstool.ply",
    "watering_can": "watering_can.stl",
    "hedgehog": "hedgehog.ply",
}


@lru_cache
def laid_out(name):
    """Return a sample's layout, computed once."""
    settings = load(FOLDER / f"{name}.toml")
    return lay_out(read(FOLDER / FILES[name]), settings, watch=Watch())


@pytest.fixture(scope="module", params=sorted(FILES))
def sample(request):
    name = request.param
    known = json.loads((FOLDER / f"{name}.expected.json").read_text(encoding="utf-8"))
    return known, laid_out(name)


def near(known, name):
    return pytest.approx(known[name]["value"], abs=known[name]["tolerance"])


def test_every_number_says_how_it_was_found(sample):
    known, _ = sample
    assert all(
        set(number) == {"value", "tolerance", "how"} and number["how"] for number in known.values()
    )


def test_the_scan_is_read_whole(sample):
    known, layout = sample
    assert layout.scan.triangles == known["triangles"]["value"]


def test_the_size_is_that_of_the_shape_upright(sample):
    known, layout = sample
    *plan, height = known["size_mm"]["value"]
    *found, found_height = layout.scan.size_mm
    assert found_height == pytest.approx(height, abs=known["size_mm"]["tolerance"])
    assert sorted(found) == pytest.approx(sorted(plan), abs=known["size_mm"]["tolerance"])


def test_volume_and_area_are_those_of_the_shape(sample):
    known, layout = sample
    assert layout.scan.volume_ml == near(known, "volume_ml")
    assert layout.scan.area_cm2 == near(known, "area_cm2")


def test_dust_is_dropped_and_the_missed_spot_closed(sample):
    known, layout = sample
    assert f"{known['specks']['value']} specks dropped" in layout.scan.changes
    base, *spots = sorted(layout.scan.holes, key=lambda hole: -hole.edges)
    assert len(spots) == known["missed_spots"]["value"]
    assert base.across_mm > 5 * max(spot.across_mm for spot in spots)


def test_through_holes_are_those_that_were_modelled(sample):
    known, layout = sample
    assert layout.scan.through_holes == known["through_holes"]["value"]


def test_the_air_that_stays_is_that_of_a_flood_of_cells(sample):
    known, layout = sample
    assert layout.bubbles.trapped_ml == near(known, "trapped_ml")


def test_the_rubber_fills_the_tube_round_the_master(sample):
    known, layout = sample
    case = layout.case
    assert case.kind in ("stock tube", "printed round")
    radius_mm = case.inner_diameter_mm / 2
    tube_ml = pi * radius_mm**2 * case.level_z_mm * 1e-3  # closed form: a cylinder
    riser_ml = known["footprint_cm2"]["value"] * case.riser_mm * 0.1
    master_ml = known["volume_ml"]["value"] + riser_ml
    slack_ml = known["volume_ml"]["tolerance"] + known["footprint_cm2"]["tolerance"] * 0.64
    assert layout.rubber.volume_ml == pytest.approx(
        tube_ml - master_ml, abs=slack_ml + 2e-3 * tube_ml
    )


def test_the_copy_holds_the_shape_and_its_riser(sample):
    known, layout = sample
    riser_ml = known["footprint_cm2"]["value"] * layout.case.riser_mm * 0.1
    slack_ml = known["volume_ml"]["tolerance"] + known["footprint_cm2"]["tolerance"] * 0.64
    assert layout.resin.copy_ml == pytest.approx(
        known["volume_ml"]["value"] + riser_ml, abs=slack_ml
    )


def test_the_least_rubber_is_as_asked_and_as_measured_from_every_vertex(sample):
    _, layout = sample
    case = layout.case
    plan_mm = np.linalg.norm(case.master.vertices[:, :2], axis=1).max()
    # closed form: from a point to a round wall it is the wall's radius less the point's
    assert case.least_rubber_mm == pytest.approx(case.inner_diameter_mm / 2 - plan_mm, abs=0.2)
    assert case.least_rubber_mm >= layout.settings.case.least_rubber_mm - 0.2


def test_the_channel_drops_clear_of_the_master(sample):
    _, layout = sample
    case = layout.case
    from_channel = np.linalg.norm(case.master.vertices[:, :2] - case.channel_at_mm, axis=1)
    assert from_channel.min() >= case.channel_mm / 2 - 0.2
    assert case.channel_at_mm[1] > 0


def test_every_part_is_closed_and_has_its_volume_by_a_general_library(sample):
    _, layout = sample
    assert layout.parts.parts
    for part in layout.parts.parts:
        judge = trimesh.Trimesh(part.mesh.vertices, part.mesh.faces, process=False)
        assert judge.is_watertight, part.name
        assert judge.volume * 1e-3 == pytest.approx(part.volume_ml, rel=1e-6), part.name


NUMBER = re.compile(r"\d+(?:\.\d+)?")


def shown_in_the_readme():
    text = (FOLDER.parent / "README.md").read_text(encoding="utf-8")
    (block,) = re.findall(
        r"prints \(the cautions at its end left out here\):\n\n```\n(.*?)```", text, re.DOTALL
    )
    return block.splitlines()


def test_the_readme_shows_what_is_printed_for_the_toadstool():
    printed = summary(job_of(laid_out("toadstool"), FILES["toadstool"]), "build/toadstool")
    lines = [one for one in printed.splitlines() if not one.startswith("Caution:")]
    take_over = "put this into README.md:\n" + "\n".join(lines)
    shown = shown_in_the_readme()
    assert [NUMBER.sub("#", one) for one in shown] == [NUMBER.sub("#", one) for one in lines], (
        take_over
    )
    for ours, said in zip(lines, shown, strict=True):
        for new, old in zip(NUMBER.findall(ours), NUMBER.findall(said), strict=True):
            # a step of the last digit, and what two versions of a library may differ by
            step = 10.0 ** -len(old.partition(".")[2])
            assert float(new) == pytest.approx(float(old), rel=2e-3, abs=1.01 * step), take_over


@pytest.mark.parametrize("sample", sorted(FILES))
def test_in_inches_every_text_of_a_sample_tells_the_same_lengths_and_no_millimetre(sample):
    job = job_of(laid_out(sample), FILES[sample])
    name = job["case"]["name"]
    texts = [*(one["text"] for one in job["warnings"]), *job["case"]["holding"]["lines"]]
    assert any(readings(one) for one in texts)
    for text in texts:  # a tube is called as it is sold: "pipe 8 in"
        inches = in_unit(text, inches=True).replace(name, "")
        assert differs(text.replace(name, ""), inches) is None
        assert not re.search(r"\bmm\b|cm²", inches)
    metric = summary(job)
    job["settings"]["sheet"]["units"] = INCHES
    imperial = summary(job)
    assert not re.search(r"\bmm\b|cm2", imperial)
    assert imperial.count(" in") >= metric.count(" mm")
