"""The job as plain data: its keys, its frame, and the folder it is written to."""

from __future__ import annotations

import dataclasses
import json
import math
import re
import tomllib
from pathlib import Path

import numpy as np
import pytest

from blender_addon.core.bubbles.result import Lean, WayUp
from blender_addon.core.cut.lips import Lips
from blender_addon.core.cut.result import Pull
from blender_addon.core.cut.stretch import StretchCurve
from blender_addon.core.cut.webs import web_within
from blender_addon.core.errors import CancelledError, UnwritableFolderError
from blender_addon.core.files.read import read
from blender_addon.core.geometry.solid import enclosed_volume_ml
from blender_addon.core.job import job_of, job_text, own_files, write_job
from blender_addon.core.job_parts import part_stems
from blender_addon.core.job_plain import plain
from blender_addon.core.job_program import MANIFEST
from blender_addon.core.job_summary import CAUTIONS, summary
from blender_addon.core.parts.hold import Hold
from blender_addon.core.parts.result import GuidePlace
from blender_addon.core.settings import as_tables
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.layouts import layout

pytestmark = pytest.mark.usefixtures("coarse_pictures")

# The published format: what a reader of version 1 may count on in each table.
KEYS = {
    "scan": "file triangles size_mm volume_ml area_cm2 open_edges holes_closed pieces "
    "through_holes up scale oriented_file",
    "bubbles": "pitch_mm trapped_ml pockets clinging_area_cm2 narrow_area_cm2 prebrush_area_cm2 "
    "prebrush_g lean",
    "case": "kind inner_diameter_mm wall_mm height_mm riser_mm cover_mm center_mm least_rubber_mm "
    "channel_mm channel_at_mm forces choices",
    "funnel": "throat_area_cm2 bowl_ml height_mm pour_s",
    "cut": "kind slit_mm slit_length_mm needed_stretch allowed_stretch zigzag_mm depths membranes",
    "rubber": "volume_ml level_z_mm spare_percent mix_ml mass_g batches pour_s pot_life_s coat "
    "budget needs_s block vessel_ml growth chunks_ml chunks_most_g cost pots shrink_percent",
    "resin": "copy_ml copy_g shell_ml shell_g fills fill_table cavity_table coats hollow_ml "
    "shell_table needs_g cost true_base_mm_below_rim sanded_ml sanded_g opening heat shrinkage "
    "sculpt leaning",
}
ENTRIES = {
    ("bubbles", "pockets"): "volume_ml depth_mm area_cm2 ceiling_mm escape_mm kind",
    ("cut", "depths"): "z_mm depth_mm",
    ("rubber", "batches"): "a_g b_g cup_ml a_ml b_ml",
    ("resin", "fills"): "to_mm_below_rim ml g deep_mm thick_mm a_g b_g",
    ("resin", "coats"): "a_g b_g cup_ml a_ml b_ml",
    ("resin", "shrinkage"): "name by_clay size_mm opening_mm",
}
PART = (
    "name file role size_mm volume_ml watertight quantity to_assembly lies fits_bed over_bed_mm "
    "prints_without_supports steepest_overhang_deg"
)


def test_every_key_of_the_format_is_there():
    job = job_of(layout(), "bird.stl")
    assert (job["format"], job["version"]) == ("riseline-job", 1)
    for table, keys in KEYS.items():
        assert set(keys.split()) <= set(job[table]), table
    for (table, key), keys in ENTRIES.items():
        assert set(keys.split()) <= set(job[table][key][0]), key
    assert set(PART.split()) <= set(job["parts"][0])
    assert {"degrees", "towards_deg", "trapped_ml"} == set(job["bubbles"]["lean"])
    forces = {"floor_pressure_kpa", "base_push_n", "seam_pull_n", "uplift_n"}
    assert forces == set(job["case"]["forces"])


def test_program_is_the_one_of_the_manifest():
    manifest = tomllib.loads(MANIFEST.read_text(encoding="utf-8"))
    program = job_of(layout(), "bird.stl")["program"]
    assert program == {"name": "riseline", "version": manifest["version"]}
    assert re.fullmatch(r"\d+\.\d+\.\d+", program["version"])


def test_places_of_stages_before_the_case_are_turned_into_the_job_frame():
    job = job_of(layout(), "bird.stl")
    first = job["bubbles"]["pockets"][0]
    # by hand: (x, y) -> (5 - y, x - 8)
    assert first["ceiling_at_mm"] == [5.0, 2.0, 52.5]
    assert first["escape_at_mm"] == [5.0, 4.0, 45.0]
    assert job["scan"]["holes"][0]["at_mm"] == [5.0, 12.0, 30.0]
    assert job["bubbles"]["lean"]["towards_deg"] == 30.0  # 300 and a quarter turn
    warnings = {one["code"]: one for one in job["warnings"]}
    assert warnings["scan_says"]["at_mm"] == [5.0, 12.0, 30.0]
    assert warnings["case_says"]["at_mm"] == [1.0, 2.0, 3.0]  # is in the job frame already
    assert "at_mm" not in warnings["bubbles_say"]


def test_leans_ways_and_what_frees_a_pocket_are_told():
    made = layout()
    lean = Lean(12.0, 90.0, 0.5)
    pockets = (dataclasses.replace(made.bubbles.pockets[0], freed_by=lean),)
    bubbles = dataclasses.replace(
        made.bubbles, pockets=pockets, leans=(lean,), ways=(WayUp("-y", 0.25),)
    )
    job = job_of(dataclasses.replace(made, bubbles=bubbles), "a.stl")["bubbles"]
    told = {"degrees": 12.0, "towards_deg": 180.0, "trapped_ml": 0.5}  # a quarter turn further
    assert job["leans"] == [told]
    assert job["lean_map"] == {"degrees": [12.0], "towards_deg": [180.0], "trapped_ml": [[0.5]]}
    assert job["pockets"][0]["freed_by"] == told
    assert job["ways_up"] == [{"up": "-y", "trapped_ml": 0.25}]


def test_a_direction_of_lean_turns_as_an_arrow_does():
    made = layout()
    for towards_deg in (0.0, 77.0, 181.0, 359.5):
        lean = dataclasses.replace(made.bubbles.lean, towards_deg=towards_deg)
        bubbles = dataclasses.replace(made.bubbles, lean=lean)
        job = job_of(dataclasses.replace(made, bubbles=bubbles), "bird.stl")
        angle = math.radians(towards_deg)
        arrow = made.case.placement[:2, :2] @ [math.cos(angle), math.sin(angle)]
        turned = math.radians(job["bubbles"]["lean"]["towards_deg"])
        assert np.allclose(arrow, [math.cos(turned), math.sin(turned)], atol=1e-6)


def test_pockets_come_largest_first_with_heights():
    pockets = job_of(layout(), "bird.stl")["bubbles"]["pockets"]
    assert [one["volume_ml"] for one in pockets] == [1.75, 0.25]
    assert [one["ceiling_mm"] - one["escape_mm"] for one in pockets] == [7.5, 2.5]


def test_numbers_stand_where_the_format_wants_them():
    job = job_of(layout(uplift_n=3.5), "bird.stl")
    assert job["case"]["forces"]["uplift_n"] == 3.5
    assert "forces" not in job["rubber"]
    assert job["funnel"]["pour_s"] == job["rubber"]["pour_s"] == 95.5
    assert job["scan"]["holes_closed"] == 1
    assert job["settings"] == as_tables(layout().settings)
    assert job["timings_s"] == {"scan": 0.25, "cut": 1.5}
    assert job["parts"][1]["to_assembly"][2] == [0.0, 0.0, 1.0, 96.35]
    assert all(one["watertight"] for one in job["parts"])


def test_an_open_part_is_called_so():
    made = layout()
    first = made.parts.parts[0]
    open_mesh = dataclasses.replace(first.mesh, faces=first.mesh.faces[1:])
    parts = dataclasses.replace(made.parts, parts=(dataclasses.replace(first, mesh=open_mesh),))
    assert (
        job_of(dataclasses.replace(made, parts=parts), "b.stl")["parts"][0]["watertight"] is False
    )


def test_a_web_is_written_with_its_rim_and_its_plane():
    made = layout()
    rim = np.array([[0.0, 0, 10], [20, 0, 10], [20, 30, 10], [0, 30, 10]])
    cut = dataclasses.replace(made.cut, webs=(web_within(rim),), hairs=3)
    table = job_of(dataclasses.replace(made, cut=cut), "b.stl")["cut"]
    assert table["hairs"] == 3
    (one,) = table["membranes"]
    assert one["loop_mm"] == rim.tolist()
    assert (one["area_cm2"], one["length_mm"], one["width_mm"]) == (6.0, 100.0, 20.0)
    assert one["thick"] is True
    assert np.abs(one["normal"]).tolist() == [0, 0, 1]
    assert one["at_mm"] == [10.0, 15.0, 10.0]


def test_the_stretch_curve_is_written_by_height():
    made = layout()
    at = np.array([10.0, 20.0])
    curve = StretchCurve(at, at + 1, at + 2, at + 3, at + 4, np.zeros((2, 2)))
    lips = Lips(45.0, 220.0, 73.3, 1.4, 0.41, 156.0, 36.0)
    cut = dataclasses.replace(
        made.cut, curve=curve, pull=Pull("hard", 120.0, 0.5, 15.0, 390.0, 52.0, 120.0), lips=lips
    )
    table = job_of(dataclasses.replace(made, cut=cut), "b.stl")["cut"]
    assert table["stretch_curve"][1] == {
        "z_mm": 20.0, "needed_stretch": 24.0, "ring_mm": 21.0, "contour_mm": 22.0,
        "passing_mm": 23.0,
    }  # fmt: skip
    assert table["pull"] == {
        "word": "hard", "force_n": 120.0, "stretch": 0.5, "thickness_mm": 15.0, "suction_n": 390.0,
        "least_n": 52.0, "most_n": 120.0,
    }  # fmt: skip
    assert "to open: hard (52 to 120 N)" in summary(
        job_of(dataclasses.replace(made, cut=cut), "b.stl")
    )
    line = "let air in at the cut first, suction can hold the piece with up to 390 N"
    assert line in summary(job_of(dataclasses.replace(made, cut=cut), "b.stl"))
    assert table["lips"] == {
        "length_mm": 45.0, "girth_mm": 220.0, "alone_mm": 73.3, "alone_stretch": 1.4,
        "stretch": 0.41, "rim_mm": 156.0, "z_mm": 36.0,
    }  # fmt: skip
    line = "45.0 mm each, let 220.0 mm round pass, with the ring that they open, at 41 %"
    assert line in summary(job_of(dataclasses.replace(made, cut=cut), "b.stl"))
    bare = job_of(layout(), "b.stl")["cut"]
    assert (bare["stretch_curve"], bare["lips"]) == ([], None)


def test_where_a_knife_guide_goes_is_written_and_said():
    made = layout()
    guides = (GuidePlace("left", "right", 12.5, "left"),)
    job = job_of(
        dataclasses.replace(made, parts=dataclasses.replace(made.parts, guides=guides)), "b"
    )
    assert job["guides"] == [{"side": "left", "seam": "right", "to_seam_mm": 12.5, "way": "left"}]
    assert job_of(made, "b")["guides"] == []


def test_json_holds_no_number_that_is_none():
    made = layout()
    cut = dataclasses.replace(made.cut, allowed_stretch=math.inf, needed_stretch=math.nan)
    job = job_of(dataclasses.replace(made, cut=cut), "bird.stl")
    assert job["cut"]["allowed_stretch"] is None
    assert json.loads(job_text(job)) == job
    assert not re.search(r"\b(NaN|Infinity)\b", job_text(job))
    assert "unknown" in summary(job)


def test_only_plain_data_is_let_through():
    assert plain([np.float32(0.1), np.array([[1, 2]])]) == [0.1, [[1, 2]]]
    with pytest.raises(TypeError):
        plain({"mesh": layout().case.master})


def test_part_files_are_safe_names_and_differ():
    assert part_stems(layout().parts) == [
        "parts/base-board_1x_as-it-stands",
        "parts/bügel-haken_2x_as-it-stands",
        "parts/base-board-2_1x_as-it-stands",
    ]


def test_the_job_tells_what_closes_the_seams_and_the_summary_too():
    made = layout()
    assert job_of(made, "bird.stl")["closing"] is None
    hold = Hold("bolts", "M4", 2, (20.0, 80.0, 140.0), 14.2, 0.4, 0.013, 20.0)
    closed = dataclasses.replace(made, parts=dataclasses.replace(made.parts, hold=hold))
    job = job_of(closed, "bird.stl")
    assert job["closing"]["count"] == 6
    assert job["closing"]["heights_mm"] == [20.0, 80.0, 140.0]
    line = "Close:        6 bolts M4 x 20, 3 on each of 2 seams, up to 14 N on each"
    assert line in summary(job).splitlines()


def test_folder_holds_what_the_job_lists_and_nothing_else(tmp_path):
    job = write_job(layout(), "bird.stl", tmp_path / "out" / "job 1")
    folder = tmp_path / "out" / "job 1"
    found = {one.relative_to(folder).as_posix() for one in folder.rglob("*") if one.is_file()}
    assert found == set(job["files"])
    assert json.loads((folder / "job.json").read_text(encoding="utf-8")) == job
    assert [one.name for one in (tmp_path / "out").iterdir()] == ["job 1"]
    for part in job["parts"]:
        assert {part["file"], part["file_3mf"]} <= found


def test_oriented_file_is_the_master_in_the_job_frame(tmp_path):
    job = write_job(layout(), "bird.stl", tmp_path / "job")
    low, high = read(tmp_path / "job" / job["scan"]["oriented_file"]).bounds
    # the box of 40 x 20 x 60 after a quarter turn about its middle, shifted by (5, -8)
    assert np.allclose(low, [-5, -28, 6.35], atol=1e-5)
    assert np.allclose(high, [15, 12, 66.35], atol=1e-5)


def with_bodies(*bodies):
    made = layout()
    return dataclasses.replace(made, bubbles=dataclasses.replace(made.bubbles, bodies=bodies))


def test_trapped_air_is_written_in_the_job_frame_when_there_is_any(tmp_path):
    assert "trapped_air.stl" not in job_of(layout(), "bird.stl")["files"]
    made = with_bodies(shapes.box((5, 10, 5), (0, 0, 40)), shapes.box((10, 10, 17.5), (20, 0, 30)))
    job = write_job(made, "bird.stl", tmp_path / "job")
    assert "trapped_air.stl" in job["files"]
    air = read(tmp_path / "job" / "trapped_air.stl")
    low, high = air.bounds
    # by hand: (x, y) -> (5 - y, x - 8)
    assert np.allclose([low, high], [[-5, -8, 30], [5, 22, 47.5]], atol=1e-5)
    assert enclosed_volume_ml(air) == pytest.approx(2.0, rel=1e-5)  # 0.25 and 1.75 ml


def test_the_volume_of_a_body_is_told_where_it_agrees_with_the_columns():
    # pockets of 0.25 and 1.75 ml, told largest first; bodies of 0.254 and 1.8 ml: 1.6 and 2.9 % off
    made = with_bodies(shapes.box((10, 10, 2.54)), shapes.box((10, 10, 18)))
    large, small = job_of(made, "bird.stl")["bubbles"]["pockets"]
    assert small["body_ml"] == pytest.approx(0.254)
    assert "body_ml" not in large
    assert all("body_ml" not in one for one in job_of(layout(), "b.stl")["bubbles"]["pockets"])


def test_a_job_is_written_over_an_older_job_of_other_parts(tmp_path):
    made = layout()
    write_job(made, "bird.stl", tmp_path / "job")
    fewer = dataclasses.replace(made.parts, parts=made.parts.parts[:1])
    job = write_job(dataclasses.replace(made, parts=fewer), "bird.stl", tmp_path / "job")
    found = {
        one.relative_to(tmp_path / "job").as_posix() for one in (tmp_path / "job").rglob("*.*")
    }
    assert found == set(job["files"])


@pytest.mark.parametrize("after", [0.1, 0.4, 0.8, 0.9])
def test_writing_that_is_stopped_leaves_the_older_job_as_it_was(tmp_path, after):
    write_job(layout(), "frog.ply", tmp_path / "job")
    before = {one: one.read_bytes() for one in tmp_path.rglob("*") if one.is_file()}
    told = []
    watch = Watch(lambda _, fraction: told.append(fraction), lambda: after in told)
    with pytest.raises(CancelledError):
        write_job(layout(), "toad.ply", tmp_path / "job", watch)
    assert {one: one.read_bytes() for one in tmp_path.rglob("*") if one.is_file()} == before
    assert [one.name for one in tmp_path.iterdir()] == ["job"]


def test_a_file_of_the_users_own_keeps_the_folder_as_it_is(tmp_path):
    write_job(layout(), "bird.stl", tmp_path / "job")
    (tmp_path / "job" / "notes.txt").write_text("glaze: celadon", encoding="utf-8")
    before = {one: one.read_bytes() for one in (tmp_path / "job").rglob("*") if one.is_file()}
    with pytest.raises(UnwritableFolderError, match=r"notes\.txt"):
        write_job(layout(through_holes=3), "bird.stl", tmp_path / "job")
    assert {
        one: one.read_bytes() for one in (tmp_path / "job").rglob("*") if one.is_file()
    } == before


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", '{"format": "other", "files": ["a.txt"]}', '{"format": "riseline-job"}',
     '{"format": "riseline-job", "files": "a.txt"}', '{"format": "riseline-job", "files": [1]}'],
)  # fmt: skip
def test_a_strange_job_file_owns_nothing(tmp_path, text):
    (tmp_path / "job.json").write_text(text, encoding="utf-8")
    assert own_files(tmp_path) == frozenset()


def test_summary_says_what_to_weigh_out_and_where_care_is_due():
    job = job_of(layout(through_holes=1), "bird.stl")
    text = summary(job, "/shop/bird")
    lines = text.splitlines()
    assert 12 <= sum(not one.startswith(("Warning", "Caution", "Written")) for one in lines) <= 16
    facts = (
        "2.0 ml in 2 pockets",
        "10.5 cm2",
        "PVC 100",
        "A 702 g and B 70.2 g in 2 cups",  # the two batches added up by hand
        "24.5 mm wide",
        "30.0 mm up from the base",
        "53 ml = 56 g",
        "2 x Bügel & Haken",
        "/shop/bird",
    )
    for fact in facts:
        assert fact in text
    assert all(f"Caution: {one}" in text for one in CAUTIONS)
    assert sum(one.startswith("Warning: ") for one in lines) == len(job["warnings"]) == 3
    told = " ".join(CAUTIONS).lower()  # the usual cautions of the trade: common practice, no source
    assert all(word in told for word in ("gloves", "fresh air", "data sheets", "blade", "rules"))


def test_file_name_with_stray_bytes_is_written(tmp_path):
    job = write_job(layout(), "bird\udcff.stl", tmp_path / "job")
    assert job["scan"]["file"] == "bird?.stl"
    assert Path(tmp_path / "job" / "job.json").read_text(encoding="utf-8").count("bird?.stl") == 1
