"""One part alone, as a file that another reader takes; written whole or not at all."""

from __future__ import annotations

import dataclasses
import json

import pytest

from blender_addon.core.errors import UnknownPartError, UnwritableFolderError
from blender_addon.core.job import write_job
from blender_addon.core.job_parts import write_part
from tests.core.layouts import layout
from tests.judges import solids

pytestmark = pytest.mark.usefixtures("coarse_pictures")

NAME = "Bügel & Haken"


def test_3mf_bears_the_name_and_the_unit(tmp_path):
    write_part(tmp_path / "one.3mf", layout().parts, NAME)
    unit, (seen,) = solids.by_lib3mf(tmp_path / "one.3mf")
    assert (unit, seen.name, seen.closed) == ("MilliMeter", NAME, True)
    assert seen.volume_mm3 == pytest.approx(4500)
    assert [one.name for one in tmp_path.iterdir()] == ["one.3mf"]


def test_stl_is_closed_and_replaces_what_stood_there(tmp_path):
    path = tmp_path / "one.STL"
    path.write_bytes(b"older")
    write_part(path, layout().parts, NAME)
    assert solids.by_trimesh(path).closed
    assert path.stat().st_size == 84 + 50 * 12


@pytest.mark.parametrize(
    ("file", "name", "says"),
    [("one.obj", NAME, "3mf or .stl"), ("one.stl", "lid", "There is no part 'lid'")],
)
def test_what_is_not_there_is_refused_in_one_line(tmp_path, file, name, says):
    with pytest.raises(UnknownPartError, match=says) as caught:
        write_part(tmp_path / file, layout().parts, name)
    assert "\n" not in str(caught.value)
    assert not list(tmp_path.iterdir())


def test_a_place_that_cannot_be_written_keeps_what_it_had(tmp_path):
    blocked = tmp_path / "one.stl"
    blocked.mkdir()
    with pytest.raises(UnwritableFolderError, match="cannot be written"):
        write_part(blocked, layout().parts, NAME)
    assert [one.name for one in tmp_path.iterdir()] == ["one.stl"]
    with pytest.raises(UnwritableFolderError):
        write_part(tmp_path / "nowhere" / "one.stl", layout().parts, NAME)


def test_each_print_bed_is_one_3mf_with_its_parts_where_they_lie(tmp_path):
    made = layout()
    places = ((0, -40.0, 10.0), (1, 0.0, 0.0), (0, 40.0, 10.0))
    parts = dataclasses.replace(made.parts, bed_places_mm=places)
    write_job(dataclasses.replace(made, parts=parts), "bird.stl", tmp_path / "job")
    job = json.loads((tmp_path / "job" / "job.json").read_text(encoding="utf-8"))
    for number, lying in ((1, (0, 2)), (2, (1,))):
        file = f"parts/print-bed-{number}.3mf"
        assert file in job["files"]
        _, seen = solids.by_lib3mf(tmp_path / "job" / file)
        assert [one.name for one in seen] == [parts.parts[k].name for k in lying]
        for one, k in zip(seen, lying, strict=True):
            low, _ = parts.parts[k].mesh.bounds
            _, x, y = places[k]
            assert one.low == pytest.approx((low[0] + x, low[1] + y, low[2]))
