"""Each stage's table of ``job.json``: keys, units in their names, all places in the job frame."""

from __future__ import annotations

from dataclasses import asdict, fields, is_dataclass
from itertools import zip_longest
from typing import TYPE_CHECKING, Any

import numpy as np

from .bubbles.lean_grid import lean_grid, turned_deg
from .constants.bubbles import BODY_AGREES_SHARE
from .geometry.solid import enclosed_volume_ml, open_edges
from .rubber.compare import compared
from .sheet.names import HTML_FILE, drawing_file, in_job, job_sheet_file, templates_file

if TYPE_CHECKING:
    from .arrays import Floats
    from .bubbles.result import BubblesResult, Lean, Pocket
    from .case.result import CaseChoice, CaseResult
    from .cut.result import CutResult
    from .cut.webs import Web
    from .funnel.result import FunnelResult
    from .geometry.mesh import Mesh
    from .layout import Layout
    from .notices import Notice
    from .parts.hold import Hold
    from .parts.result import Part
    from .resin.result import ResinResult
    from .rubber.compare import Compared
    from .rubber.result import RubberResult
    from .scan.result import ScanResult
    from .sheet.result import SheetResult
    from .sheet.settings import SheetSettings

Table = dict[str, Any]

IN_SCAN_FRAME = ("scan", "bubbles", "resin")
"""Stages that know no case: their places are turned into the job frame."""


def placed(point: tuple[float, float, float], placement: Floats) -> list[float]:
    """Return a place of the scan frame in the job frame.

    Parameters
    ----------
    point : tuple
        x, y, z in mm.
    placement : ndarray, shape (4, 4)
        The case's.

    Examples
    --------
    >>> placed((1.0, 0.0, 5.0), np.eye(4)[[1, 0, 2, 3]])
    [0.0, 1.0, 5.0]
    """
    moved: list[float] = (placement[:3, :3] @ np.asarray(point) + placement[:3, 3]).tolist()
    return moved


def scan_table(scan: ScanResult, case: CaseResult, file_name: str, oriented_file: str) -> Table:
    """Return what was read and what was changed."""
    return {
        "file": file_name,
        "triangles": scan.triangles,
        "size_mm": scan.size_mm,
        "volume_ml": scan.volume_ml,
        "area_cm2": scan.area_cm2,
        "open_edges": scan.open_edges,
        "holes_closed": len(scan.holes),
        "holes": [
            {"edges": one.edges, "across_mm": one.across_mm,
             "at_mm": placed(one.at_mm, case.placement)}
            for one in scan.holes
        ],
        "pieces": scan.pieces,
        "through_holes": scan.through_holes,
        "up": scan.up,
        "scale": scan.scale,
        "changes": scan.changes,
        "oriented_file": oriented_file,
    }  # fmt: skip


def bubbles_table(bubbles: BubblesResult, placement: Floats) -> Table:
    """Return where air stays, and what to brush."""
    bodied = zip_longest(bubbles.pockets, bubbles.bodies)  # the largest pockets have bodies
    pockets = sorted(bodied, key=lambda one: -one[0].volume_ml)
    return {
        "pitch_mm": bubbles.pitch_mm,
        "trapped_ml": bubbles.trapped_ml,
        "bound_ml": bubbles.bound_ml,
        "undecided_columns": bubbles.doubt.columns,
        "undecided_ml": bubbles.doubt.most_ml,
        "narrow_ways_ml": bubbles.doubt.narrow_ml,
        "pockets": [_pocket(one, body, placement) for one, body in pockets],
        "clinging_area_cm2": bubbles.clinging_area_cm2,
        "narrow_area_cm2": bubbles.narrow_area_cm2,
        "prebrush_area_cm2": bubbles.prebrush_area_cm2,
        "prebrush_g": bubbles.prebrush_g,
        "lean": _lean(bubbles.lean, placement),
        "leans": [_lean(one, placement) for one in bubbles.leans],
        "lean_map": asdict(lean_grid(bubbles.leans, placement)),
        "ways_up": [{"up": one.up, "trapped_ml": one.trapped_ml} for one in bubbles.ways],
    }


def _lean(lean: Lean, placement: Floats) -> Table:
    return {
        "degrees": lean.degrees,
        "towards_deg": turned_deg(lean.towards_deg, placement),
        "trapped_ml": lean.trapped_ml,
    }


def _pocket(pocket: Pocket, body: Mesh | None, placement: Floats) -> Table:
    ceiling, escape = (
        placed(one, placement) for one in (pocket.ceiling_at_mm, pocket.escape_at_mm)
    )
    return {
        "volume_ml": pocket.volume_ml,
        "depth_mm": pocket.depth_mm,
        "area_cm2": pocket.area_cm2,
        "ceiling_mm": ceiling[2],
        "escape_mm": escape[2],
        "kind": pocket.kind,
        "ceiling_at_mm": ceiling,
        "escape_at_mm": escape,
        "freed_by": None if pocket.freed_by is None else _lean(pocket.freed_by, placement),
        **_body(pocket, body),
    }


def _body(pocket: Pocket, body: Mesh | None) -> Table:
    """Return the volume of a pocket's body where it agrees with that of its columns."""
    body_ml = 0.0 if body is None else enclosed_volume_ml(body)
    agrees = abs(body_ml - pocket.volume_ml) <= BODY_AGREES_SHARE * pocket.volume_ml
    return {"body_ml": body_ml} if agrees else {}


def case_table(case: CaseResult, rubber: RubberResult) -> Table:
    """Return the tube, and what pushes it."""
    listed = {one.name: one for one in compared(case, rubber)}
    return {
        "name": case.name,
        "kind": case.kind,
        "inner_diameter_mm": case.inner_diameter_mm,
        "inner_outline_mm": case.bore.outline_mm,
        "wall_mm": case.wall_mm,
        "height_mm": case.height_mm,
        "riser_mm": case.riser_mm,
        "cover_mm": case.cover_mm,
        "center_mm": case.center_mm,
        "least_rubber_mm": case.least_rubber_mm,
        "least_rubber_at_mm": case.least_rubber_at_mm,
        "channel_mm": case.channel_mm,
        "channel_at_mm": case.channel_at_mm,
        "forces": asdict(rubber.forces),
        "holding": None if rubber.holding is None else asdict(rubber.holding),
        "saved_g": next((one.saved_g for one in listed.values() if one.taken), None),
        "cost": next((one.cost or None for one in listed.values() if one.taken), None),
        "choices": [_choice(one, listed) for one in case.choices],
    }


def _choice(one: CaseChoice, listed: dict[str, Compared]) -> Table:
    """Return a case that would do, with what its rubber weighs and what rubber and tube cost."""
    found = listed[one.name]
    more = {"mass_g": found.mass_g, "saved_g": found.saved_g, "cost": found.cost or None}
    return {**asdict(one), **more}


def funnel_table(funnel: FunnelResult, rubber: RubberResult) -> Table:
    """Return the funnel's measures and how long it takes the rubber to pass it."""
    table = {field.name: getattr(funnel, field.name) for field in fields(funnel)}
    del table["warnings"], table["way_to_wall"]
    return {**table, "pour_s": rubber.pour_s}


def cut_table(cut: CutResult) -> Table:
    """Return where the knife goes, and both ways to open in numbers."""
    return {
        "kind": cut.kind,
        "slit_mm": cut.slit_mm,
        "slit_length_mm": cut.slit_length_mm,
        "needed_stretch": cut.needed_stretch,
        "allowed_stretch": cut.allowed_stretch,
        "zigzag_mm": cut.zigzag_mm,
        "depths": [asdict(one) for one in cut.depths],
        "membranes": [_membrane(one) for one in cut.webs],
        "hairs": cut.hairs,
        "parting_mm": list(cut.parting_mm),
        "ways": [asdict(one) for one in cut.ways],
        "start_deg": cut.start_deg,
        "classes": [asdict(one) for one in cut.classes],
        "tooth_mm": cut.tooth_mm,
        "wave_mm": cut.wave_mm,
        "stretch_curve": _stretch_curve(cut),
        "tight_places": [asdict(one) for one in cut.tight],
        "missed_places": [asdict(one) for one in cut.missed],
        "not_here_faces": cut.not_here_faces,
        "lips": None if cut.lips is None else asdict(cut.lips),
        "pull": None if cut.pull is None else asdict(cut.pull),
        "proof": None if cut.proof is None else asdict(cut.proof),
    }


def _membrane(web: Web) -> Table:
    names = ("loop_mm", "length_mm", "area_cm2", "width_mm", "at_mm", "normal", "thick")
    return {name: getattr(web, name) for name in names}


def _stretch_curve(cut: CutResult) -> list[Table]:
    """Return the needed stretch from the base to the top, with the girths that it comes from."""
    if cut.curve is None:
        return []
    names = ("z_mm", "needed_stretch", "ring_mm", "contour_mm", "passing_mm")
    curve = cut.curve
    columns = (curve.heights_mm, curve.needed, curve.ring_mm, curve.contour_mm, curve.passing_mm)
    rows = np.column_stack(columns).tolist()
    return [dict(zip(names, row, strict=True)) for row in rows]


def rubber_table(rubber: RubberResult) -> Table:
    """Return what to weigh out."""
    table = asdict(rubber)
    del table["warnings"], table["forces"]
    return {**table, "needs_s": rubber.budget.needs_s}


def resin_table(resin: ResinResult) -> Table:
    """Return the copy, its shell, its fills and what shrinks."""
    names = [one.name for one in fields(resin) if one.name not in {"warnings", "cavity"}]
    return {name: _plainly(getattr(resin, name)) for name in names}


def _plainly(value: Any) -> Any:
    if isinstance(value, tuple):
        return [_plainly(one) for one in value]
    return asdict(value) if is_dataclass(value) and not isinstance(value, type) else value


def sheet_table(sheet: SheetResult, settings: SheetSettings) -> Table:
    """Return what is printed on paper."""
    return {
        "paper": settings.paper,
        "units": settings.units,
        "job_sheet": in_job(job_sheet_file(settings.paper)),
        "job_sheet_html": in_job(HTML_FILE),
        "templates": in_job(templates_file(settings.paper)),
        "templates_pages": len(sheet.pages),
        "drawings": [
            {
                "name": one.name,
                "title": one.title,
                "file": in_job(drawing_file(one.name)),
                "size_mm": one.size_mm,
                "sheets": count,
            }
            for one, count in zip(sheet.drawings, sheet.sheets, strict=True)
        ],
    }


def closing_table(hold: Hold | None) -> Table | None:
    """Return the bolts or clips that close the seams, and what they bear."""
    return None if hold is None else {**asdict(hold), "count": hold.count}


def part_table(part: Part, stem: str) -> Table:
    """Return one thing to print; ``stem`` is its file without the ending."""
    return {
        "name": part.name,
        "file": f"{stem}.stl",
        "file_3mf": f"{stem}.3mf",
        "role": part.role,
        "size_mm": part.size_mm,
        "volume_ml": part.volume_ml,
        "watertight": len(open_edges(part.mesh)) == 0,
        "quantity": part.quantity,
        "to_assembly": part.to_assembly,
        "lies": part.lies,
        "fits_bed": part.fits_bed,
        "over_bed_mm": part.over_bed_mm,
        "prints_without_supports": part.overhang.prints_without_supports,
        "steepest_overhang_deg": part.overhang.steepest_deg,
    }


def warnings_of(layout: Layout) -> list[Table]:
    """Return what every stage warns of, in the order of the job."""
    found: list[Table] = []
    for stage in ("scan", "bubbles", "case", "funnel", "cut", "rubber", "resin", "parts"):
        placement = layout.case.placement if stage in IN_SCAN_FRAME else None
        told = [_warning(notice, placement) for notice in getattr(layout, stage).warnings]
        found += [{**one, "stage": stage} for one in told]
    return found


def _warning(notice: Notice, placement: Floats | None) -> Table:
    table: Table = {"code": notice.code, "text": notice.text}
    if notice.at_mm is not None:
        table["at_mm"] = notice.at_mm if placement is None else placed(notice.at_mm, placement)
    return table
