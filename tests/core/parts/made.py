"""Parts of layouts made by hand, for several tests; each is made once."""

from __future__ import annotations

import functools

import manifold3d
import numpy as np

from blender_addon.core.case.bore import Bore
from blender_addon.core.funnel.settings import FunnelSettings
from blender_addon.core.funnel.stage import funnel_stage
from blender_addon.core.geometry.manifold import to_solid
from blender_addon.core.geometry.solid import enclosed_volume_ml
from blender_addon.core.parts.settings import PartsSettings
from blender_addon.core.parts.stage import parts_stage
from blender_addon.core.rubber.forces import forces_at
from blender_addon.core.watch import Watch
from tests import shapes
from tests.core.cases import cased

TOUCH_MM3 = 0.5
"""What rounding to float32 lets touching faces of 100 cm2 overlap: 10 000 mm2 by 3e-5 mm."""


def ellipse(a, b, count=200):
    """Return an oval bore that touches the ellipse from outside nowhere by more than 0.03 mm."""
    angle = 2 * np.pi * np.arange(count) / count
    return Bore(np.column_stack([a * np.cos(angle), b * np.sin(angle)]) / np.cos(np.pi / count))


def stadium(half_wide, half_long, count=100):
    """Return a bore of two straight sides with half a circle at each end."""
    angle = np.pi * (np.arange(count) + 0.5) / count
    end = half_wide * np.column_stack([np.cos(angle), np.sin(angle)]) / np.cos(np.pi / 2 / count)
    end[:, 1] += half_long - half_wide
    return Bore(np.vstack([end, -end]))


def egg(count=180):
    """Return a bore that follows a pear: its widest place lies before y = 0, nothing mirrors."""
    angle = 2 * np.pi * np.arange(count) / count
    points = np.column_stack([70 * np.cos(angle), 62 * np.sin(angle)])
    bulge = np.column_stack([36 * np.cos(angle) + 6, 36 * np.sin(angle) + 52])
    (hull,) = manifold3d.CrossSection.hull_points(np.vstack([points, bulge])).to_polygons()
    return Bore(np.asarray(hull) - [0.0, 14.0])


def lumpy():
    """Return a bore with sides of almost no length and bends that rounding made hollow."""
    outline = egg().outline_mm
    noise = np.random.default_rng(3).uniform(-1e-7, 1e-7, outline.shape)
    doubled = np.repeat(outline, 2, axis=0)
    doubled[1::2] += noise
    return Bore(doubled)


SMALL = {"riser_mm": 3.0, "cover_mm": 7.0, "freeboard_mm": 10.0, "inner_diameter_mm": 70.0}
LOW_BED = {"bed_x_mm": 110.0, "bed_y_mm": 120.0, "bed_z_mm": 100.0}
CASES = {
    "usual": lambda: cased(shapes.cylinder(50, 200)),
    "tall": lambda: cased(shapes.cylinder(60, 460), inner_diameter_mm=200.0),
    "low": lambda: cased(shapes.cylinder(15, 10), at=(0, -5), **SMALL),
    "no riser": lambda: cased(shapes.sphere(40, 48), riser_mm=0.0),
    "stock tube": lambda: cased(shapes.cylinder(50, 90), kind="stock tube", wall_mm=3.2),
    "no freeboard": lambda: cased(shapes.cylinder(50, 90), freeboard_mm=0.0),
    "oval": lambda: cased(
        shapes.cylinder(40, 90), bore=ellipse(95, 70), kind="printed oval", wall_mm=5.0
    ),
    "pear": lambda: cased(
        shapes.cylinder(40, 90),
        bore=egg(),
        kind="printed contour",
        at=(0.0, -10.0),
        channel_mm=36.0,
        channel_at=(0.0, 54.9),
    ),
    # the throat is as wide as the bore at its end: there is no room for jaws beside it
    "bar": lambda: cased(
        shapes.box((14, 90, 40)), bore=stadium(21, 64.5), kind="printed oval", at=(0.0, -0.6)
    ),
    "two feet": lambda: cased(
        shapes.joined(
            shapes.box((30, 20, 60), (-40, 0, 0)),
            shapes.box((30, 20, 60), (10, 0, 0)),
            shapes.box((80, 20, 20), (-40, 0, 61)),
        ),
        outline=tuple(
            np.array([[x, -18], [x + 30, -18], [x + 30, 2], [x, 2.0]]) for x in (-40, 10)
        ),
    ),
}
"""Cases by what is special about them."""

LAYOUTS = {
    **{name: (name, {}) for name in CASES},
    "small bed": ("usual", LOW_BED),
    "oval, small bed": ("oval", LOW_BED),
    "pear, small bed": ("pear", LOW_BED),
    "clips and cord": ("usual", {"closing": "clips", "seam": "cord"}),
    "thin wall": ("thin", {}),
}
"""Cases with settings of the parts."""
CASES["thin"] = lambda: cased(shapes.cylinder(50, 90), wall_mm=1.2)


@functools.cache
def case_of(name):
    """Return a case by its name."""
    return CASES[name]()


def made(case, bowl_ml=300.0, **settings):
    """Return funnel and parts of a case."""
    funnel = funnel_stage(case, FunnelSettings(bowl_ml=bowl_ml), Watch())
    return funnel, stage(case, funnel, PartsSettings(**settings)).parts


def stage(case, funnel, settings, density_kg_m3=1200.0):
    """Return what the stage finds for a rubber of this density."""
    master_ml = enclosed_volume_ml(case.master)
    forces = forces_at(case.bore, case.level_z_mm, master_ml, density_kg_m3)
    return parts_stage(case, funnel, forces, settings, Watch())


@functools.cache
def laid_out(name):
    """Return case, funnel and parts of a layout by its name."""
    case_name, settings = LAYOUTS[name]
    case = case_of(case_name)
    return (case, *made(case, **settings))


def settings_of(name):
    """Return the settings of the parts of a layout."""
    return PartsSettings(**LAYOUTS[name][1])


@functools.cache
def _placed(mesh, matrix):
    return to_solid(mesh.moved(np.array(matrix)))


def placed(part):
    """Return a part as the library's solid at its place in the job frame."""
    return _placed(part.mesh, tuple(map(tuple, part.to_assembly)))


def by_name(parts, *words):
    """Return the parts whose name has all the words."""
    return [part for part in parts if all(word in part.name for word in words)]


def in_job_frame(part):
    """Return a part's vertices in the job frame."""
    return part.mesh.moved(part.to_assembly).vertices
