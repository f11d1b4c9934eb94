"""The proof by cutting: what it leaves out to be quick changes nothing that it finds."""

import numpy as np
import pytest

from blender_addon.core.cut import blade as blade_module
from blender_addon.core.cut.blade import into_piece
from blender_addon.core.cut.block import Block, block_of
from blender_addon.core.cut.proof import _more_pieces
from blender_addon.core.geometry.manifold import prism, to_mesh, to_solid
from tests import shapes
from tests.core.cases import cased

ROOM = to_solid(shapes.box((60, 60, 60), (-30, -30, 0)))
NOTHING = to_solid(shapes.box((1, 1, 1), (200, 0, 0)))


def hollow():
    """Return a ball's shell that stands free, with rubber of its own in it."""
    shell = to_solid(shapes.sphere(20, 48, (0, 0, 30)))
    return shell - to_solid(shapes.sphere(10, 32, (0, 0, 30)))


def wall(size, low):
    return to_solid(shapes.box(size, low)).as_original()


@pytest.mark.parametrize("riser_mm", [0.0, 6.35])
@pytest.mark.parametrize("inner_diameter_mm", [160.0, 60.0])  # the narrow one cuts the cone off
def test_the_volume_of_the_block_is_that_of_its_solid(riser_mm, inner_diameter_mm):
    cone = shapes.turned([(0, 0), (15, 0), (40, 100), (0, 100)], segments=48)
    case = cased(cone, at=(0.0, 0.0), riser_mm=riser_mm, inner_diameter_mm=inner_diameter_mm)
    base_mm = riser_mm and riser_mm + 1.5  # wax goes up round the base
    block = block_of(case, to_solid(case.master), base_mm)
    assert block.within == (inner_diameter_mm > 80.0)
    solid = prism([np.array(case.bore.outline_mm)], 0.0, case.level_z_mm) - to_solid(case.master)
    if riser_mm:
        solid -= prism(case.riser_outline, -1.0, base_mm + 0.1)  # with a blade's thickness more
    assert block.volume_mm3 == pytest.approx(solid.volume(), rel=1e-9)
    assert block.solid.volume() == pytest.approx(solid.volume(), rel=1e-9)


@pytest.mark.parametrize(
    ("blade", "pieces"),
    [
        (wall((10, 1, 70), (22, -0.5, -5)), 1),  # from the outside in, a slit
        (wall((31, 1, 70), (5, -0.5, -5)), 1),  # through the shell, into the rubber in it
        (wall((80, 1, 80), (-40, -0.5, -5)), 3),  # all through: block and core in two each
        (wall((80, 1, 80), (-40, 24.5, -5)), 2),  # beside the shell: the core stays whole
    ],
)
def test_a_part_that_was_apart_before_is_no_piece_that_the_blade_made(blade, pieces):
    block = Block(ROOM, None, hollow(), within=True)
    opened = block.without_piece(ROOM - blade)
    # the library's count; the surface of a hollow is a part to it, and its volume is below zero
    before, after = (
        sum(part.volume() > 0.0 for part in one.decompose()) for one in (block.solid, opened)
    )
    assert before == 2
    assert _more_pieces(block, opened, blade.original_id()) == pieces == after + 1 - before


def test_a_blade_that_meets_no_rubber_leaves_one_piece():
    block = Block(ROOM, None, hollow(), within=True)
    assert _more_pieces(block, block.without_piece(ROOM - NOTHING), -1) == 1


def post_with_plate():
    post = to_solid(shapes.box((20, 20, 60), (-10, -10, 0)))
    return to_mesh(post + to_solid(shapes.box((70, 50, 10), (-35, -25, 40))))


@pytest.mark.parametrize("seed", range(6))
def test_where_a_blade_meets_the_piece_is_told_as_if_all_of_it_were_looked_at(seed, monkeypatch):
    case = cased(shapes.refined(shapes.refined(post_with_plate())), at=(0.0, 0.0))
    chance = np.random.default_rng(seed)
    z = np.sort(chance.uniform(0.5, 66.0, 40))
    angle = chance.uniform(0, 2 * np.pi) + np.cumsum(chance.normal(0.0, 0.2, 40))
    ways = np.column_stack([np.cos(angle), np.sin(angle), 0.0 * z])
    starts = np.column_stack([*chance.uniform(-45.0, 45.0, (2, 40)), z])
    rows = np.stack([starts + reach * ways for reach in (0.0, 5.0, 10.0, 80.0)], axis=1)
    into = chance.uniform(0.0, 15.0, 40)
    depths, meets = into_piece(case, rows, into, 7.0)
    assert 0 < np.count_nonzero(meets) < len(meets)
    monkeypatch.setattr(
        blade_module, "near_box", lambda mesh, _line, _reach: np.arange(len(mesh.faces))
    )
    again = into_piece(case, rows, into, 7.0)
    assert np.array_equal(depths, again[0])
    assert np.array_equal(meets, again[1])
