"""Where every cut is barred, the cut says so and where, and all else is laid out and written."""

import numpy as np
import pytest

from blender_addon.core.cut.marks import Marks
from blender_addon.core.job import write_job
from blender_addon.core.job_summary import summary
from blender_addon.core.pipeline import lay_out
from blender_addon.core.settings import from_tables
from tests import shapes


def barred(way):
    """Return the layout of a mushroom whose stem is marked all round, from 20 to 40 mm up."""
    mesh = shapes.turned([(0, 0), *[(10, z) for z in range(0, 61, 4)], (30, 60), (30, 75), (0, 75)])
    middle = mesh.corners.mean(axis=1)
    band = (middle[:, 2] > 20) & (middle[:, 2] < 40) & (np.hypot(*middle[:, :2].T) < 15)
    tables = {"scan": {"up": "+z"}, "bubbles": {"lean_limit_deg": 0.0}, "cut": {"way": way}}
    return lay_out(mesh, from_tables(tables), marks=Marks(band))


@pytest.fixture(scope="module")
def layout():
    return barred("slit")


def test_the_cut_says_where_every_way_ends(layout):
    assert layout.cut.kind == "none"
    (notice,) = (one for one in layout.cut.warnings if one.code == "no_cut")
    height = notice.at_mm[2] - layout.case.riser_mm
    assert 12 <= height <= 20  # the last ring of faces below the band
    assert np.hypot(*(np.array(notice.at_mm) - layout.case.placement[:3, 3])[:2]) < 10.1
    assert "Clear some of the marks" in notice.text


def test_the_other_stages_and_the_numbers_of_the_piece_stand(layout):
    assert {part.role for part in layout.parts.parts} == {"case", "base", "funnel"}
    assert layout.rubber.mix_ml > 0.0
    assert layout.cut.needed_stretch == pytest.approx(2.0, rel=1e-3)  # 30 / 10 - 1
    assert [one.kind for one in layout.cut.ways] == ["two halves"]
    assert layout.cut.slit_mm.shape == (0, 3)


def test_the_job_is_written_with_no_cut_in_it(layout, tmp_path):
    job = write_job(layout, "mushroom.stl", tmp_path / "job")
    assert job["cut"]["kind"] == "none"
    assert job["cut"]["slit_mm"] == []
    assert job["cut"]["pull"] is None
    assert "Cut:          none found" in summary(job)
    names = [one.name for one in (tmp_path / "job").rglob("*")]
    assert "job.json" in names
    assert not any("knife" in one for one in names)
    (page,) = (tmp_path / "job").rglob("*.html")
    assert "No cut is laid out" in page.read_text(encoding="utf-8")


def test_marks_that_bar_both_ways_leave_no_cut():
    assert barred("best").cut.kind == "none"
