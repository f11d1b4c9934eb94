"""What an eye far away sees: which surface, how bright, how far; and the bytes of a PNG."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.pictures.png import png_bytes
from blender_addon.core.pictures.raster import rendered, smooth_normals, srgb_bytes
from blender_addon.core.pictures.views import VIEWS
from tests import shapes

BY_NAME = {view.name: view for view in VIEWS}
SIDES = {"left": (-1, 0, 0), "right": (1, 0, 0), "front": (0, -1, 0), "back": (0, 1, 0),
         "below": (0, 0, -1)}  # fmt: skip
"""Where the eye stands: the channel, at the back, is towards +y of the job frame."""


def flat_normals(mesh):
    return mesh.vectors_mm2 / np.linalg.norm(mesh.vectors_mm2, axis=1)[:, None]


def seen(mesh, name, colors=None):
    colors = np.full((len(mesh.faces), 3), 0.5) if colors is None else colors
    return rendered(mesh, flat_normals(mesh), colors, BY_NAME[name])


def test_there_are_the_four_sides_and_below():
    assert {view.name: tuple(view.axes[2]) for view in VIEWS} == SIDES
    for view in VIEWS:
        assert np.allclose(view.axes @ view.axes.T, np.eye(3))
        assert np.linalg.det(view.axes) == pytest.approx(1.0)  # no picture is a mirror's


@pytest.mark.parametrize("name", SIDES)
def test_of_a_box_one_face_is_seen_and_no_other(name):
    box = shapes.box((30, 20, 10))
    red = flat_normals(box) @ SIDES[name] > 0.5
    colors = np.where(red[:, None], (0.9, 0.0, 0.0), (0.0, 0.9, 0.0))
    pixels = seen(box, name, colors).pixels
    assert (pixels[:, :, 1] > pixels[:, :, 0]).sum() == 0
    wide, tall = {"below": (30, 20), "left": (20, 10), "right": (20, 10)}.get(name, (30, 10))
    covered = (pixels[:, :, 1] == 0).sum() / (pixels.shape[0] * pixels.shape[1])
    margin = (1 + 4 / 520) * (1 + 4 / (520 * tall / wide))  # two pixels on each side
    assert covered * margin == pytest.approx(1.0, abs=0.015)  # edges cut pixels in two


def test_the_nearer_surface_hides_the_farther_and_right_is_right():
    # By hand: seen from the front (-y), the near block covers the left half of the far one.
    near, far = shapes.box((10, 2, 10)), shapes.box((20, 2, 10), (0, 10, 0))
    colors = np.repeat([[0.9, 0.0, 0.0], [0.0, 0.0, 0.9]], 12, axis=0)
    raster = seen(shapes.joined(near, far), "front", colors)
    tall, wide, _ = raster.pixels.shape
    assert raster.pixels[tall // 2, wide // 4].tolist()[1:] == [0, 0]
    assert raster.pixels[tall // 2, 3 * wide // 4].tolist()[:2] == [0, 0]
    assert raster.depth_mm[tall // 2, wide // 4] == pytest.approx(0.0)  # -y is towards the eye
    assert raster.depth_mm[tall // 2, 3 * wide // 4] == pytest.approx(-10.0)
    assert raster.is_hidden(np.array([5.0, 5.0, -5.0]))
    assert not raster.is_hidden(np.array([15.0, 5.0, -5.0]))
    assert not raster.is_hidden(np.array([500.0, 5.0, -5.0]))


def test_places_come_to_lie_where_they_are_seen():
    raster = seen(shapes.box((30, 20, 10)), "front")
    tall, wide, _ = raster.pixels.shape
    left, bottom = raster.at(np.array([0.0, 0.0, 0.0]))
    right, top = raster.at(np.array([30.0, 10.0, 0.0]))
    assert right - left == pytest.approx(520.0)
    assert bottom - top == pytest.approx(520.0 / 3.0)
    assert left + right == pytest.approx(wide)
    assert top + bottom == pytest.approx(tall)


def test_a_ball_covers_its_disc():
    # pi r^2; the outline's pixels are half covered, white paper is linear 1.
    ball = shapes.sphere(20.0, 192)
    raster = seen(ball, "left", np.zeros((len(ball.faces), 3)))
    covered = 1.0 - raster.pixels[:, :, 0].astype(float) / 255.0
    inside = np.isfinite(raster.depth_mm).sum() * raster.pixel_mm**2
    assert inside == pytest.approx(np.pi * 400.0, rel=0.01)
    assert 0 < np.count_nonzero((covered > 0.05) & (covered < 0.95)) < 4 * 520  # a smooth edge
    assert raster.depth_mm.max() == pytest.approx(20.0, abs=0.01)


def test_the_same_piece_finer_looks_the_same():
    box = shapes.spun(shapes.box((30, 20, 10)), 33.0)
    fine = shapes.refined(box)
    assert np.array_equal(seen(box, "front").pixels, seen(fine, "front").pixels)


def test_smooth_normals_of_a_ball_point_away_from_its_middle():
    ball = shapes.sphere(20.0, 96)
    away = ball.corners.mean(axis=1)
    away /= np.linalg.norm(away, axis=1)[:, None]
    assert (np.einsum("ij,ij->i", smooth_normals(ball), away) > 0.995).all()


def test_light_is_written_as_srgb():
    # IEC 61966-2-1: middle grey of 18 % is 118, half is 188; from memory.
    assert srgb_bytes(np.array([0.0, 0.18, 0.5, 1.0, 2.0])).tolist() == [0, 118, 188, 255, 255]


@pytest.mark.parametrize("shape", [(1, 1), (3, 7), (64, 31)])
def test_another_library_reads_the_png_to_the_same_pixels(shape):
    pixels = np.random.default_rng(5).integers(0, 256, (*shape, 3), dtype=np.uint8)
    with Image.open(io.BytesIO(png_bytes(pixels))) as image:
        assert (image.format, image.mode) == ("PNG", "RGB")
        assert np.array_equal(np.asarray(image), pixels)


def test_an_empty_picture_is_white():
    wall = Mesh([[0, 0, 0], [10, 0, 0], [0, 0, 10]], [[0, 2, 1]])  # turns its back to the front
    assert (seen(wall, "front").pixels == 255).all()
    assert (seen(wall, "back").pixels < 255).any()
