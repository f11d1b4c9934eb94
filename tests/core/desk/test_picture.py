"""What is shown of the master: all of it, or a lighter mesh that stands for each of its faces."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from blender_addon.core.bubbles.paint import ADDED, ERASED, NO_PAINT, Paint
from blender_addon.core.constants import desk as limits
from blender_addon.core.cut.marks import NO_MARKS, Marks
from blender_addon.core.desk.picture import Pictures, packed, unpacked
from blender_addon.core.geometry.lighter import lighter
from tests import shapes
from tests.core import layouts

MOST = 200
LOST = 5
"""Triangles of the scan that are not in the master: dust."""


@pytest.fixture
def layout():
    """Return a layout of a fine torus, of which one face in nine was added by closing holes.

    Its faces come in another order than the scan's triangles.
    """
    made, master = layouts.layout(), shapes.torus(30.0, 8.0, 48)
    count, draw = len(master.faces), np.random.default_rng(3)
    source = draw.permutation(count + LOST)[:count]
    source[::9] = -1
    given = count + LOST
    yes = [draw.random(count) < 0.1 for _ in range(4)]
    return replace(
        made,
        scan=replace(made.scan, mesh=master, source_faces=source, triangles=given),
        case=replace(made.case, master=master.moved(made.case.placement)),
        bubbles=replace(
            made.bubbles, prebrush=yes[0], computed=yes[1], narrow=yes[2], clinging=yes[3],
            trapped_depth_mm=np.where(draw.random(count) < 0.1, draw.random(count), 0.0),
        ),
    )  # fmt: skip


@pytest.fixture
def paint(layout):
    return Paint(np.random.default_rng(4).integers(ERASED, ADDED + 1, layout.scan.triangles))


@pytest.fixture
def marks(layout):
    return Marks(np.random.default_rng(5).random(layout.scan.triangles) < 0.2)


@pytest.fixture
def fine(monkeypatch):
    """Take anything over a few faces for a fine scan."""
    monkeypatch.setattr(limits, "MOST_FACES_AS_GIVEN", MOST + 50)
    monkeypatch.setattr(limits, "MOST_FACES_SHOWN", MOST)


def test_a_small_scan_is_shown_as_it_is_with_all_that_is_known_of_each_face(layout, paint, marks):
    picture = Pictures().picture_of(layout, paint, marks)
    assert picture.mesh is layout.case.master
    assert picture.source is layout.scan.source_faces
    assert picture.prebrush is layout.bubbles.prebrush
    for face, source in enumerate(picture.source.tolist()):
        assert picture.paint[face] == (paint.faces[source] if source >= 0 else 0)
        assert picture.not_here[face] == (marks.faces[source] if source >= 0 else False)
    assert (picture.stands, picture.scan_paint, picture.scan_not_here) == ("", "", "")


@pytest.mark.usefixtures("fine")
class TestFineScan:
    def test_every_triangle_of_the_scan_has_one_face_that_stands_for_it(self, layout):
        picture = Pictures().picture_of(layout, NO_PAINT, NO_MARKS)
        assert 0.5 * MOST < len(picture.mesh.faces) <= MOST
        stands = unpacked(picture.stands, np.int32)
        in_master = np.zeros(layout.scan.triangles, dtype=bool)
        in_master[layout.scan.source_faces[layout.scan.source_faces >= 0]] = True
        assert len(stands) == layout.scan.triangles
        assert np.array_equal(stands >= 0, in_master)
        shown = picture.source[picture.source >= 0]
        assert len(set(shown.tolist())) == len(shown)
        assert set(stands[in_master].tolist()) == set(shown.tolist())
        assert np.array_equal(stands[shown], shown)  # each is one of those that it stands for

    def test_a_face_shows_the_gravest_of_what_it_stands_for(self, layout, paint, marks):
        picture = Pictures().picture_of(layout, paint, marks)
        face_of = lighter(layout.scan.mesh, MOST).face_of
        bubbles = layout.bubbles
        for face in range(len(picture.mesh.faces)):
            those = np.flatnonzero(face_of == face)
            given = layout.scan.source_faces[those]
            given = given[given >= 0]
            assert picture.source[face] == (given.min() if len(given) else -1)
            assert picture.depth_mm[face] == bubbles.trapped_depth_mm[those].max()
            assert picture.not_here[face] == marks.faces[given].any()
            painted = [*paint.faces[given], *[0] * (len(those) - len(given))]
            assert picture.paint[face] == max(painted)
            for name in ("prebrush", "computed", "narrow", "clinging"):
                assert getattr(picture, name)[face] == getattr(bubbles, name)[those].any()

    def test_the_rubber_is_as_thin_as_at_the_thinnest_of_what_a_face_stands_for(self, layout):
        picture = Pictures().picture_of(layout, NO_PAINT, NO_MARKS)
        middles = layout.case.master.corners.mean(axis=1)
        every_mm = layout.case.bore.distances_mm(middles[:, :2])
        face_of = lighter(layout.scan.mesh, MOST).face_of
        wanted_mm = [every_mm[face_of == face].min() for face in range(len(picture.mesh.faces))]
        assert picture.rubber_mm.tolist() == wanted_mm

    def test_paint_of_each_triangle_is_kept_as_it_was(self, layout, paint, marks):
        picture = Pictures().picture_of(layout, paint, marks)
        assert np.array_equal(unpacked(picture.scan_paint, np.int8), paint.faces)
        assert np.array_equal(unpacked(picture.scan_not_here, np.int8) == 1, marks.faces)
        bare = Pictures().picture_of(layout, NO_PAINT, NO_MARKS)
        assert unpacked(bare.scan_paint, np.int8).tolist() == [0] * layout.scan.triangles
        assert not bare.paint.any()
        assert not bare.not_here.any()

    def test_what_is_taken_off_in_part_only_is_not_shown_as_taken_off(self, layout):
        one = np.zeros(layout.scan.triangles, dtype=int)
        picture = Pictures().picture_of(layout, NO_PAINT, NO_MARKS)
        stands = unpacked(picture.stands, np.int32)
        shown, counts = np.unique(stands[stands >= 0], return_counts=True)
        many = shown[counts.argmax()]
        one[many] = ERASED
        part = Pictures().picture_of(layout, Paint(one), NO_MARKS)
        assert not part.paint.any()
        assert unpacked(part.scan_paint, np.int8)[many] == ERASED

    def test_it_stands_in_the_job_frame(self, layout):
        picture = Pictures().picture_of(layout, NO_PAINT, NO_MARKS)
        for found, wanted in zip(picture.mesh.bounds, layout.case.master.bounds, strict=True):
            assert found == pytest.approx(wanted, abs=5.0)  # a cell

    def test_the_lighter_mesh_is_made_once_while_the_master_is_the_same(self, layout, monkeypatch):
        pictures, calls = Pictures(), []
        monkeypatch.setattr(
            "blender_addon.core.desk.picture.lighter",
            lambda mesh, most: calls.append(mesh) or lighter(mesh, most),
        )
        first, *_ = (pictures.picture_of(layout, NO_PAINT, NO_MARKS) for _ in range(3))
        assert calls == [layout.scan.mesh]
        turned = replace(layout, scan=replace(layout.scan, mesh=shapes.spun(layout.scan.mesh, 9)))
        assert pictures.picture_of(turned, NO_PAINT, NO_MARKS).mesh is not first.mesh
        assert calls[1:] == [turned.scan.mesh]


@pytest.mark.parametrize("kind", [np.int8, np.int32])
def test_packed_numbers_come_back_whatever_they_are(kind):
    ends = np.iinfo(kind)
    values = np.array([ends.min, -1, 0, 1, ends.max] * 1000, dtype=np.int64)
    found = unpacked(packed(values, kind), kind)
    assert np.array_equal(found, values)
    assert found.dtype == kind
    found[0] = 5  # may be written to
