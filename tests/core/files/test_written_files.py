"""Every file of a job, as judged by readers that are not ours."""

from __future__ import annotations

import json

import numpy as np
import pytest

from blender_addon.core.files.threemf_write import NamedSolid
from blender_addon.core.files.write import write_3mf, write_stl
from blender_addon.core.job import write_job
from tests import shapes
from tests.core.layouts import layout
from tests.judges import solids

BALL_MM3 = 4 / 3 * np.pi * 20**3  # closed form; the inscribed ball of 128 rings lacks about 0.1 %


@pytest.mark.parametrize("judge", [solids.by_meshio, solids.by_trimesh])
def test_stl_is_closed_and_of_its_volume(tmp_path, judge):
    path = tmp_path / "Kugel, groß.stl"
    write_stl(path, shapes.sphere(20, 128, center=(100, 0, 30)))
    seen = judge(path)
    assert seen.closed
    assert 0.998 * BALL_MM3 < seen.volume_mm3 < BALL_MM3
    assert np.allclose(seen.low, (80, -20, 10), atol=1e-4)


def test_3mf_is_strictly_valid_named_closed_and_in_millimetres(tmp_path):
    turn = np.array([[0.0, -1, 0, 7], [1, 0, 0, 0], [0, 0, 1, 50], [0, 0, 0, 1]])
    write_3mf(
        tmp_path / "two.3mf",
        [
            NamedSolid('Case "A" & <B>, größer', shapes.box((10, 20, 30))),
            NamedSolid("Ball", shapes.sphere(20, 128), turn),
        ],
    )
    unit, (box, ball) = solids.by_lib3mf(tmp_path / "two.3mf")
    assert unit == "MilliMeter"
    assert (box.name, ball.name) == ('Case "A" & <B>, größer', "Ball")
    assert box.closed
    assert ball.closed
    assert box.volume_mm3 == pytest.approx(6000)
    assert 0.998 * BALL_MM3 < ball.volume_mm3 < BALL_MM3
    assert np.allclose(ball.high, (27, 20, 70), atol=1e-2)


def test_same_solids_give_the_same_bytes(tmp_path):
    for name in ("a", "b"):
        write_3mf(tmp_path / name, [NamedSolid("Ball", shapes.sphere(20, 16))])
    assert (tmp_path / "a").read_bytes() == (tmp_path / "b").read_bytes()


def test_every_part_of_a_job_is_what_the_job_says(tmp_path):
    write_job(layout(), "bird.stl", tmp_path / "job")
    job = json.loads((tmp_path / "job" / "job.json").read_text(encoding="utf-8"))
    _, standing = solids.by_lib3mf(tmp_path / "job" / "parts" / "assembly.3mf")
    for part, stands in zip(job["parts"], standing, strict=True):
        unit, (alone,) = solids.by_lib3mf(tmp_path / "job" / part["file_3mf"])
        loose = solids.by_meshio(tmp_path / "job" / part["file"])
        assert unit == "MilliMeter"
        assert part["name"] == alone.name == stands.name
        for seen in (alone, loose, stands):
            assert seen.closed is part["watertight"] is True
            assert seen.volume_mm3 / 1000 == pytest.approx(part["volume_ml"])
        assert np.subtract(alone.high, alone.low) == pytest.approx(part["size_mm"])
        matrix = np.array(part["to_assembly"])
        assert np.allclose(stands.low, np.add(alone.low, matrix[:3, 3]))  # all lie unturned here
    master = solids.by_trimesh(tmp_path / "job" / job["scan"]["oriented_file"])
    assert master.closed
    assert master.volume_mm3 / 1000 == pytest.approx(job["scan"]["volume_ml"])


def test_a_judge_sees_a_hole():
    box = shapes.box((1, 1, 1))
    assert solids.verdict("box", box.vertices, box.faces).closed
    assert not solids.verdict("box", box.vertices, box.faces[1:]).closed
    assert not solids.verdict(
        "box", box.vertices, np.vstack([box.faces[1:], box.faces[:1, ::-1]])
    ).closed
