"""The pictures as files: read by a general library, and held against what the layout says."""

from __future__ import annotations

import base64
import dataclasses
import io
import re

import numpy as np
import pytest
from lxml import etree
from PIL import Image

from blender_addon.core.bubbles.result import Doubt
from blender_addon.core.constants.bubbles import MOST_BODIES
from blender_addon.core.constants.pictures import LABEL_PIXELS
from blender_addon.core.job import write_job
from blender_addon.core.pictures.classes import CLASS_COLORS, shown_classes
from blender_addon.core.pictures.marks import label_rows
from blender_addon.core.pictures.views_of import legend_of, pictures_of, seen_from_all_sides
from tests.core.layouts import layout

SVG = "{http://www.w3.org/2000/svg}"
LINK = "{http://www.w3.org/1999/xlink}href"


def drawn(made):
    return {
        name: etree.fromstring(svg.encode())
        for name, svg in pictures_of(
            seen_from_all_sides(made.bubbles, made.case),
            legend_of(made.bubbles, made.case),
            made.bubbles,
            made.case,
        ).items()
    }


@pytest.fixture(scope="module")
def pictures():
    return drawn(layout())


def words(picture):
    return [text.text for text in picture.iter(SVG + "text")]


def with_bubbles(**changes):
    made = layout()
    return dataclasses.replace(made, bubbles=dataclasses.replace(made.bubbles, **changes))


def test_each_picture_holds_a_png_of_the_size_it_is_shown_at(pictures):
    for picture in pictures.values():
        (image,) = picture.iter(SVG + "image")
        head, data = image.get(LINK).split(",")
        assert head == "data:image/png;base64"
        with Image.open(io.BytesIO(base64.b64decode(data, validate=True))) as pixels:
            size = (int(image.get("width")), int(image.get("height")))
            assert pixels.size == size
            assert len(np.unique(np.asarray(pixels).reshape(-1, 3), axis=0)) > 1


def test_the_bar_is_as_long_as_it_says(pictures):
    # By hand: the box of 40 x 20 x 60 mm, 60 mm on 520 pixels, shows a bar of 20 mm.
    picture = pictures["front"]
    (bar,) = [one for one in picture.iter(SVG + "path") if one.get("class") == "scale"]
    end = float(re.search(r"H([\d.]+)", bar.get("d"))[1])
    assert end == pytest.approx(520.0 * 20.0 / 60.0, abs=1e-3)
    assert "20 mm" in words(picture)


def test_marks_stand_at_ceiling_and_saddle_of_each_pocket(pictures):
    # By hand in the job frame: box x -5..15, z 6.35..66.35; pocket 1 at (5, 2, 52.5), its saddle at
    # (5, 4, 45), pocket 2 at (-5, -8, 40), its saddle at (-7, -8, 37.5). 60 mm on 520 pixels, two
    # pixels of margin.
    picture = pictures["front"]
    scale = 520.0 / 60.0
    rings = [(float(c.get("cx")), float(c.get("cy"))) for c in picture.iter(SVG + "circle")]
    width = int(next(picture.iter(SVG + "image")).get("width"))
    middle = width / 2.0  # of the picture is that of the box, x = 5
    wanted = [(middle - 10.0 * scale, 2 + 26.35 * scale), (middle, 2 + 13.85 * scale)]
    assert np.allclose(rings, wanted, atol=0.06)  # the largest is drawn last, over the others
    triangles = [
        [float(one) for one in re.match(r"M([-\d.]+) ([-\d.]+)h12", path.get("d")).groups()]
        for path in picture.iter(SVG + "path")
        if "h12" in path.get("d")
    ]
    saddles = [(x + 6.0, y + 5.0) for x, y in triangles]
    assert np.allclose(
        saddles,
        [(middle - 12.0 * scale, 2 + 28.85 * scale), (middle, 2 + 21.35 * scale)],
        atol=0.06,
    )
    text = words(picture)
    assert "1: 1.8 ml, 7.5 mm deep" in text
    assert "2: 0.2 ml, 2.5 mm deep" in text


def test_what_the_piece_hides_is_dashed(pictures):
    # pocket 1 lies within the box, pocket 2's ceiling on its left wall
    dashed = [one.get("stroke-dasharray") for one in pictures["left"].iter(SVG + "circle")]
    assert dashed == [None, "3 2"]


def test_shut_off_air_has_no_saddle():
    pocket = dataclasses.replace(layout().bubbles.pockets[1], kind="sealed")
    picture = drawn(with_bubbles(pockets=(pocket,)))["below"]
    assert "1: 1.8 ml, 7.5 mm deep, shut off" in words(picture)
    assert not [one for one in picture.iter(SVG + "path") if "h12" in one.get("d")]


def test_the_legend_tells_the_area_of_each_class_and_leaves_out_the_others():
    # By hand: two triangles of the box a class: below 40 x 20 mm, above the same, the rest plain.
    count = len(layout().case.master.faces)
    depth, brush = np.zeros(count), np.zeros(count, bool)
    depth[:2], brush[:4] = 3.0, True
    made = with_bubbles(trapped_depth_mm=depth, prebrush=brush, computed=brush)
    text = words(drawn(made)["below"])
    assert "Trapped Air, 8.0 cm²" in text
    assert "Brush Margin, 8.0 cm²" in text
    assert "Plain, 72.0 cm²" in text
    assert not [one for one in text if one.startswith(("Narrow", "Clinging", "Painted"))]
    assert "Brush first: 10.5 cm², 11 g of rubber. Trapped air: 2.0 ml." in text


def test_a_face_shows_the_gravest_of_its_classes_unless_it_is_taken_off():
    bit = np.arange(32)
    prebrush, computed, narrow, clinging, trapped = ((bit >> k) % 2 == 1 for k in range(5))
    made = with_bubbles(
        prebrush=prebrush, computed=computed, narrow=narrow, clinging=clinging,
        trapped_depth_mm=np.where(trapped, 2.0, 0.0),
    )  # fmt: skip
    kinds = np.array(list(CLASS_COLORS))[shown_classes(made.bubbles)]
    assert set(kinds[~prebrush]) == {"Plain"}
    assert (kinds[prebrush & trapped] == "Trapped Air").all()
    assert (kinds[prebrush & clinging & ~trapped] == "Clinging").all()
    assert (kinds[prebrush & narrow & ~clinging & ~trapped] == "Narrow").all()
    assert kinds[0b00001] == "Painted"
    assert kinds[0b00011] == "Brush Margin"


def test_classes_differ_in_lightness():
    # Relative luminance of linear light, ITU-R BT.709; parts of a picture that lie side by side are
    # to differ by 3 to 1: WCAG 2.2, 1.4.11. The margin lies round every place to brush.
    light = {
        kind: float(np.dot(rgb, (0.2126, 0.7152, 0.0722))) for kind, rgb in CLASS_COLORS.items()
    }
    for kind in ("Narrow", "Trapped Air"):
        assert (light["Brush Margin"] + 0.05) / (light[kind] + 0.05) >= 3.0
    assert len({round(one, 2) for one in light.values()}) == len(light)


def test_labels_never_lie_over_each_other_and_keep_their_order():
    wanted = np.random.default_rng(3).uniform(0.0, 200.0, MOST_BODIES)
    rows = np.array(label_rows(wanted.tolist()))
    assert (np.diff(np.sort(rows)) >= LABEL_PIXELS - 1e-9).all()
    assert np.array_equal(np.argsort(rows), np.argsort(wanted))
    assert (rows >= wanted).all()


def test_the_job_lists_and_holds_the_pictures(tmp_path):
    job = write_job(layout(), "bird.stl", tmp_path / "job")
    names = {f"pictures/{name}.svg" for name in ("below", "front", "back", "left", "right")}
    assert names <= set(job["files"])
    for name in names:
        assert etree.parse(tmp_path / "job" / name).getroot().tag == SVG + "svg"


def test_a_question_mark_stands_where_columns_are_undecided():
    # By hand, as for the pockets above: (0, 10, 40) lies at (-5, -8, 40) of the job frame.
    asked = drawn(with_bubbles(doubt=Doubt(12, 0.5, (0.0, 10.0, 40.0))))["front"]
    (square,) = [one for one in asked.iter(SVG + "rect") if one.get("class") == "question"]
    scale = 520.0 / 60.0
    middle = int(next(asked.iter(SVG + "image")).get("width")) / 2.0
    at = [float(square.get("x")) + 8.0, float(square.get("y")) + 8.0]
    assert at == pytest.approx([middle - 10.0 * scale, 2 + 26.35 * scale], abs=0.06)
    assert "?: undecided, 0.5 ml at the most" in words(asked)


def test_no_question_is_asked_for_less_than_a_pocket():
    calm = drawn(with_bubbles(doubt=Doubt(12, 0.001, (0.0, 10.0, 40.0))))["front"]
    assert not [one for one in calm.iter(SVG + "rect") if one.get("class") == "question"]
