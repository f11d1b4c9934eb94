"""A whole layout made by hand, each number chosen to be told apart from every other."""

from __future__ import annotations

import numpy as np

from blender_addon.core.bubbles.result import BubblesResult, Lean, Pocket
from blender_addon.core.case.bore import round_bore
from blender_addon.core.case.result import CaseChoice, CaseResult
from blender_addon.core.cut.result import CutResult, KnifeDepth
from blender_addon.core.funnel.result import FunnelResult
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.layout import Layout
from blender_addon.core.notices import Notice
from blender_addon.core.parts.result import Part, PartsResult
from blender_addon.core.resin.heat import Heat
from blender_addon.core.resin.opening import Opening
from blender_addon.core.resin.result import Fill, ResinResult
from blender_addon.core.resin.shell import Cavity
from blender_addon.core.resin.shrinkage import Sculpt, ShrinkStep
from blender_addon.core.rubber.budget import Budget
from blender_addon.core.rubber.result import Block, Forces, RubberResult
from blender_addon.core.rubber.weigh import Batch
from blender_addon.core.scan.result import Hole, ScanResult
from blender_addon.core.settings import Settings
from blender_addon.core.sheet.stage import sheet_stage
from blender_addon.core.watch import Watch
from tests import shapes

QUARTER = np.array([[0.0, -1.0, 0.0, 5.0], [1.0, 0.0, 0.0, -8.0], [0, 0, 1, 0], [0, 0, 0, 1]])
"""A quarter turn counter-clockwise, then 5 mm along x and 8 mm back."""


def layout(*, through_holes=0, uplift_n=0.0):
    """Return the layout of a box of 40 x 20 x 60 mm with a pocket under an eave."""
    master = shapes.box((40, 20, 60), (-20, -10, 6.35))
    count = len(master.faces)
    scan = ScanResult(
        mesh=master, source_faces=np.arange(count), base_faces=np.zeros(count, bool),
        riser_outline=(np.array([[-20.0, -10], [20, -10], [20, 10], [-20, 10]]),), riser_mm=6.35,
        placement=np.eye(4), triangles=12, size_mm=(40.0, 20.0, 60.0), volume_ml=48.0,
        area_cm2=88.0, open_edges=7, holes=(Hole(7, 3.25, (20.0, 0.0, 30.0)),), pieces=1,
        through_holes=through_holes, up="+z", scale=25.4, changes=("1 hole closed",),
        warnings=(Notice("scan_says", "The scan says so.", (20.0, 0.0, 30.0)),),
    )  # fmt: skip
    pockets = (
        Pocket(0.25, 2.5, 1.0, (0.0, 10.0, 40.0), (0.0, 12.0, 37.5), "underside"),
        Pocket(1.75, 7.5, 3.0, (10.0, 0.0, 52.5), (12.0, 0.0, 45.0), "underside"),
    )
    none = np.zeros(count, bool)
    bubbles = BubblesResult(
        0.5, 2.0, 0.02, pockets, np.zeros(count), none, none, none, 4.5, 3.5, 10.5, 11.34,
        Lean(20.0, 300.0, 0.125), np.full(count, -1), none,
        warnings=(Notice("bubbles_say", "The bubbles say so."),),
    )  # fmt: skip
    case = CaseResult(
        name="PVC 100", kind="stock tube", bore=round_bore(103.6), wall_mm=3.2, height_mm=96.35,
        level_z_mm=86.35, riser_mm=6.35, cover_mm=20.0, placement=QUARTER,
        master=master.moved(QUARTER), riser_outline=scan.riser_outline, center_mm=(5.0, -8.0),
        least_rubber_mm=13.5, least_rubber_at_mm=(5.0, -28.0, 30.0), channel_mm=24.5,
        channel_at_mm=(0.0, 39.5),
        choices=(CaseChoice("PVC 125", "stock tube", 127.0, 3.0, 20.0, 40.0, 900.0),),
        warnings=(Notice("case_says", "The case says so.", (1.0, 2.0, 3.0)),),
    )  # fmt: skip
    throat = np.array([[-9.0, 30.5], [9.0, 30.5], [9.0, 48.5], [-9.0, 48.5]])
    funnel = FunnelResult(
        (0.0, 39.5), (0.0, 1.0), throat, 20.5, 66.0, 100.0, 31.0, 90.0, 140.0, 2.0, 34.0, 3.3,
        300.5, 40.0,
    )  # fmt: skip
    line = np.array([[0.0, 10, 6.35], [0, 10, 36.35]])
    ribbon = Mesh([[0, 10, 6.35], [0, 10, 36.35], [0, 50, 6.35]], [[0, 1, 2]])
    depths = (KnifeDepth(10.0, 31.5),)
    cut = CutResult("one slit", line, 30.0, 0.15, 1.32, line + [0, 40, 0], ribbon, depths)
    rubber = RubberResult(
        volume_ml=650.0, level_z_mm=86.35, spare_percent=10.0, mix_ml=715.0, mass_g=772.2,
        batches=(Batch(351.0, 35.1, 357.5), Batch(351.0, 35.1, 357.5)), pour_s=95.5,
        pot_life_s=1800.0, forces=Forces(0.9144, 7.71, 4.09, uplift_n),
        budget=Budget(240.0, 300.0, 47.75, 1800.0, "yes"), block=Block(103.6, 86.35, 702.0, 783.6),
        vessel_ml=1430.0, growth=32.5, shrink_percent=0.3, coat=Batch(11.5, 1.2, 11.8),
        chunks_most_g=171.0,
    )  # fmt: skip
    table = np.array([[0.0, 0.0], [60, 53.08]])
    resin = ResinResult(
        copy_ml=53.08, copy_g=55.734, shell_ml=18.0, shell_g=18.9,
        fills=(Fill(40.0, 35.08, 36.834, 16.5, 15.0, 19.0, 18.0),), fill_table=table,
        cavity_table=table * [0.95, 0.66], shell_table=np.array([[0.0, 0.0], [3.0, 18.0]]),
        coats=(Batch(10.0, 9.0, 18.1),), hollow_ml=0.0,
        needs_g=55.7, cost=None, true_base_mm_below_rim=6.35, sanded_ml=5.08, sanded_g=5.334,
        opening=Opening(4.76, 14.0, 4.9, 5.15), heat=Heat(123.0, 143.0, 16.5, 15.0, 25.0, 2228.0),
        shrinkage=(ShrinkStep("clay", 1.0, (40.0, 20.0, 60.0), None),
                   ShrinkStep("resin copy", 0.993, (39.7, 19.9, 59.6), None)),
        sculpt=Sculpt(1.007, None, None, None),
        cavity=Cavity(35.08, 0.0, np.array([[0.0, 0, 30, 35.08]], np.float32), 5.0, 0.0, 0.0,
                      np.zeros((1, 2)), np.zeros((1, 2))),
    )  # fmt: skip
    up = np.eye(4)
    up[:3, 3] = (0.0, 0.0, 96.35)
    plate = shapes.box((30, 30, 5))
    parts = PartsResult(
        (
            Part("Base board", "base", plate, np.eye(4), (30.0, 30.0, 5.0), 4.5),
            Part("Bügel & Haken", "guide", plate, up, (30.0, 30.0, 5.0), 4.5, 2),
            Part("base-board", "base", plate, up, (30.0, 30.0, 5.0), 4.5),
        )
    )
    timings_s = {"Scan": 0.25, "Cut": 1.5}
    sheet = sheet_stage(case, funnel, cut, Settings().sheet, Watch())
    return Layout(
        Settings(), scan, bubbles, case, funnel, cut, rubber, resin, parts, sheet, timings_s
    )
