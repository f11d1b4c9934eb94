"""A case round an upright closed mesh, made by hand: where funnel, rubber, cut and parts start."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import manifold3d
import numpy as np

from blender_addon.core.bubbles.result import BubblesResult, Lean
from blender_addon.core.case.bore import round_bore
from blender_addon.core.case.result import CaseResult
from blender_addon.core.cut import piece as piece_module
from blender_addon.core.cut.measure import measured
from blender_addon.core.cut.piece import allowed_stretch, piece_of, split_of
from blender_addon.core.cut.stage import cut_stage as stage_of_pieces
from blender_addon.core.cut.webs import webs_of
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.watch import Watch


def cased(
    mesh,
    *,
    inner_diameter_mm=160.0,
    wall_mm=4.0,
    riser_mm=6.35,
    cover_mm=20.0,
    freeboard_mm=10.0,
    at=(0.0, -8.0),
    bore=None,
    channel_mm=None,
    channel_at=None,
    outline=None,
    kind="printed round",
):
    """Return the case of ``mesh``: its plan box centred over ``at``, its lowest point on the riser.

    The riser's outline is the hull of the vertices at the base unless polygons are given; the
    channel is the widest disc that touches the wall at +y and the hull of the master's plan.
    """
    low, high = mesh.bounds
    middle = (low + high) / 2
    shift = np.array([at[0] - middle[0], at[1] - middle[1], riser_mm - low[2]])
    master = mesh.with_vertices(mesh.vertices + shift)
    placement = np.eye(4)
    placement[:3, 3] = shift
    height = float(high[2] - low[2])
    plan = _hull(master.vertices[:, :2])
    bore = bore or round_bore(inner_diameter_mm)
    channel = _widest_disc_mm(plan, bore) if channel_mm is None else channel_mm
    base = master.vertices[master.vertices[:, 2] < riser_mm + 0.01 * height, :2]
    return CaseResult(
        name="test case",
        kind=kind,
        bore=bore,
        wall_mm=wall_mm,
        height_mm=riser_mm + height + cover_mm + freeboard_mm,
        level_z_mm=riser_mm + height + cover_mm,
        riser_mm=riser_mm,
        cover_mm=cover_mm,
        placement=placement,
        master=master,
        riser_outline=(_hull(base),) if outline is None else outline,
        center_mm=tuple(at),
        least_rubber_mm=float(bore.distances_mm(plan).min()),
        least_rubber_at_mm=(0.0, 0.0, 0.0),
        channel_mm=channel,
        channel_at_mm=(0.0, _back_mm(bore) - channel / 2) if channel_at is None else channel_at,
        choices=(),
    )


def _hull(points):
    (polygon,) = manifold3d.CrossSection.hull_points(np.array(points)).to_polygons()
    return np.asarray(polygon)


def _back_mm(bore):
    return float(bore.reaches_mm([[0.0, 0.0]], [[0.0, 1.0]])[0])


def _widest_disc_mm(plan, bore):
    radius = _back_mm(bore)
    low, high = 0.0, 2 * radius
    for _ in range(60):
        middle = (low + high) / 2
        clear = _distance_mm(plan, np.array([0.0, radius - middle / 2])) > middle / 2
        low, high = (middle, high) if clear else (low, middle)
    return low


def _distance_mm(plan, point):
    start, end = plan - point, np.roll(plan, -1, axis=0) - point
    along = end - start
    share = np.clip(-(start * along).sum(1) / (along**2).sum(1), 0, 1)
    inside = (start[:, 0] * end[:, 1] - start[:, 1] * end[:, 0] > 0).all()
    return 0.0 if inside else float(np.hypot(*(start + share[:, None] * along).T).min())


def airless():
    """Return the map of a piece under which no air stays."""
    none = np.zeros(0, dtype=bool)
    return BubblesResult(
        pitch_mm=0.5, trapped_ml=0.0, bound_ml=0.0, pockets=(), trapped_depth_mm=np.zeros(0),
        clinging=none, narrow=none, prebrush=none, clinging_area_cm2=0.0, narrow_area_cm2=0.0,
        prebrush_area_cm2=0.0, prebrush_g=0.0, lean=Lean(0.0, 0.0, 0.0),
        face_pocket=np.zeros(0, dtype=np.int64), computed=none,
    )  # fmt: skip


def cut_stage(case, marks, settings, watch):
    """Return the cut of a case, with the piece worked out in the frame that it came from."""
    plan = case.placement.copy()
    plan[2, 3] = 0.0  # a scan's frame has the board at the same height
    back, case = np.linalg.inv(plan), replace(case, placement=plan)
    mesh = case.master.moved(back)
    risers = tuple(one @ back[:2, :2].T + back[:2, 3] for one in case.riser_outline)
    mesh = _same(mesh.vertices.tobytes(), mesh.faces.tobytes())
    piece = _piece_of(mesh, piece_module.DENSE_FACES)
    outlines = tuple(tuple(map(tuple, one.tolist())) for one in risers)
    bare = (
        piece,
        _webs_of(mesh, outlines, case.riser_mm, piece.simple),
        _split_of(mesh, piece.simple, allowed_stretch(settings), settings.split_deg),
        _measured(mesh, outlines, case.riser_mm, settings.tooth_mm, settings.least_slit_mm),
    )
    return stage_of_pieces(case, *bare, marks, settings, watch)


@lru_cache(maxsize=16)
def _same(vertices, faces):
    """Return the very same mesh for the same bytes: what was found of it is not sought again."""
    return Mesh(
        np.frombuffer(vertices).reshape(-1, 3), np.frombuffer(faces, np.int64).reshape(-1, 3)
    )


@lru_cache(maxsize=16)
def _piece_of(mesh, _dense_faces):
    return piece_of(mesh, Watch())


@lru_cache(maxsize=16)
def _split_of(mesh, simple, allowed, split_deg):
    return split_of(mesh, simple, allowed, split_deg, Watch())


@lru_cache(maxsize=16)
def _webs_of(mesh, risers, riser_mm, simple):
    return webs_of(mesh, tuple(np.array(one) for one in risers), riser_mm, simple, Watch())


@lru_cache(maxsize=16)
def _measured(mesh, risers, *numbers):
    return measured(mesh, tuple(np.array(one) for one in risers), *numbers, Watch())
