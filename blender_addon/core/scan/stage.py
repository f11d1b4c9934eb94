"""Scan: from whatever was scanned to a closed master, in true size, upright on its riser."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from ..constants.common import GROUND_MM
from ..constants.scan import LEAST_JOINED_SHARE, WELL_CLOSED_SHARE
from ..errors import UnusableMeshError
from ..geometry.connect import agreeing, handles, piece_of_faces, welded, without_flaps
from ..geometry.solid import area_cm2, enclosed_volume_ml
from ..notices import Notice
from .holes import closed
from .outside import outward
from .result import Hole, ScanResult
from .riser import faces_on_the_riser, riser_outline
from .size import refuse_size, true_scale
from .specks import without_specks
from .united import united
from .upright import Up, find_up, turn_to
from .warn import guesses, hanging_free, too_fine

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from ..geometry.mesh import Mesh
    from ..watch import Watch
    from .settings import ScanSettings


@dataclass
class _Work:
    """The mesh on its way: ``source`` (m,) names the given face of each, -1 where it was added."""

    mesh: Mesh
    source: Ints
    open_edges: int
    changes: list[str] = field(default_factory=list)
    warnings: list[Notice] = field(default_factory=list)

    def keep(self, mesh: Mesh, kept: Ints) -> None:
        self.mesh, self.source = mesh, self.source[kept]

    def say(self, count: int, one: str, many: str) -> None:
        if count:
            self.changes.append(one if count == 1 else many.format(count))


def scan_stage(mesh: Mesh, settings: ScanSettings, watch: Watch) -> ScanResult:
    """Make the master of a scan.

    Parameters
    ----------
    mesh : Mesh
        As scanned.
    settings : ScanSettings
        Height, axis and tolerances.
    watch : Watch
        Progress and cancel.

    Returns
    -------
    ScanResult

    Raises
    ------
    UnusableMeshError
        If nothing can be molded from it: no triangles, no volume, an absurd size.
    """
    if not len(mesh.faces):
        raise UnusableMeshError("The scan has no triangles. Export it as a triangle mesh.")
    work = _cleaned(mesh, settings, watch)
    watch.at(0.4)
    up = find_up(work.mesh, settings.up)
    turn = turn_to(up)
    scale = _scale(work.mesh.with_vertices(work.mesh.vertices @ turn.T), settings)
    watch.at(0.6)
    work.mesh = work.mesh.with_vertices(work.mesh.vertices @ (scale * turn).T)
    holes = _close(work)
    watch.at(0.8)
    inner = outward(work.mesh)
    work.keep(inner.mesh, inner.kept)
    work.say(inner.turned, "turned inside out, turned back", "{} pieces inside out, turned back")
    work.say(inner.hollows, "one inner hollow left out", "{} inner hollows left out")
    whole = united(work.mesh)
    work.keep(whole.mesh, whole.kept)
    work.say(whole.joined, "", "{} pieces that reach into each other joined")
    shift = _shift(work.mesh, settings.riser_mm)
    work.mesh = work.mesh.with_vertices(work.mesh.vertices + shift)
    placement = np.eye(4)
    placement[:3, :3], placement[:3, 3] = scale * turn, shift
    if not up.flat_base:
        text = "No flat base was found, +z was taken as up. Name an axis if it stands otherwise."
        work.warnings.append(Notice("no_flat_base", text))
    return _result(work, settings, mesh, up, scale, placement, holes)


def _cleaned(mesh: Mesh, settings: ScanSettings, watch: Watch) -> _Work:
    watch.at(0.05)
    clean, kept = welded(mesh)
    work = _Work(clean, kept, int(np.count_nonzero(clean.edges.uses == 1)))
    work.warnings += too_fine(len(mesh.faces))
    lost = len(mesh.faces) - len(kept)
    work.say(lost, "one empty or double triangle left out", "{} empty or double triangles left out")
    if not len(kept):
        raise UnusableMeshError("Every triangle of the scan is empty. Export the scan again.")
    watch.at(0.2)
    whole, specks = without_specks(work.mesh, settings.speck_percent)
    _refuse_bits(work.mesh, whole.mesh, specks)
    work.keep(whole.mesh, whole.kept)
    work.say(specks, "one speck dropped", "{} specks dropped")
    work.keep(*without_flaps(work.mesh))
    work.say(len(whole.kept) - len(work.source), "one flap left out", "{} flaps left out")
    work.mesh, turned = agreeing(work.mesh)
    work.say(turned, "one triangle turned to face out", "{} triangles turned to face out")
    return work


def _refuse_bits(given: Mesh, kept: Mesh, dropped: int) -> None:
    """Refuse a scan of which hardly anything hangs together."""
    whole_cm2 = area_cm2(given)
    share = area_cm2(kept) / whole_cm2 if whole_cm2 else 1.0
    if share < LEAST_JOINED_SHARE:
        message = (
            f"The scan falls apart into {dropped + 1} bits, and what hangs together best is "
            f"{100.0 * share:.0f} % of its surface: its triangles do not join. Join their corners "
            "(merge by distance), or export the scan as one surface."
        )
        raise UnusableMeshError(message)


def _scale(turned: Mesh, settings: ScanSettings) -> float:
    low, high = turned.bounds
    size = high - low
    if float(np.min(size)) <= GROUND_MM * float(np.max(size)):
        message = "The scan is flat: it has no volume to mold. Give a scan of a solid piece."
        raise UnusableMeshError(message)
    scale = true_scale(size, settings)
    refuse_size(size, scale, settings)
    return scale


def _close(work: _Work) -> tuple[Hole, ...]:
    """Close the openings and say which; the base counts as one of them."""
    given = len(work.mesh.faces)
    shut = closed(work.mesh)
    work.mesh = shut.mesh
    added = len(shut.mesh.faces) - given
    work.source = np.append(work.source, np.full(added, -1, dtype=np.int64))
    work.say(len(shut.base), "base closed flat", "{} openings of the base closed flat")
    work.say(len(shut.holes), "one hole closed", "{} holes closed")
    size = float(np.linalg.norm(np.ptp(work.mesh.vertices, axis=0)))
    work.warnings += guesses([
        hole for hole in shut.holes if hole.across_mm > WELL_CLOSED_SHARE * size
    ])  # fmt: skip
    return shut.base + shut.holes


def _shift(mesh: Mesh, riser_mm: float) -> Floats:
    low, high = mesh.bounds
    middle = (low + high) / 2.0
    return np.array([-middle[0], -middle[1], riser_mm - low[2]])


def _result(
    work: _Work,
    settings: ScanSettings,
    given: Mesh,
    up: Up,
    scale: float,
    placement: Floats,
    holes: tuple[Hole, ...],
) -> ScanResult:
    volume_ml = enclosed_volume_ml(work.mesh)
    low, high = work.mesh.bounds
    box_ml = float(np.prod(high - low)) * 1e-3
    if volume_ml <= 1e-6 * box_ml:
        raise UnusableMeshError("The scan encloses no volume. Give a scan of a solid piece.")
    shift = placement[:3, 3]
    moved = [
        Notice(one.code, one.text, None if one.at_mm is None else _moved(one.at_mm, shift))
        for one in work.warnings
    ]
    pieces, piece = piece_of_faces(work.mesh)
    moved += hanging_free(work.mesh, piece, settings.riser_mm + settings.seam_mm)
    outline = riser_outline(work.mesh, settings.seam_mm)
    if not outline:
        text = "The piece stands on a point: nothing of it would rest on the riser. Turn it."
        moved.append(Notice("stands_on_a_point", text))
    x, y, z = (high - low).tolist()
    return ScanResult(
        mesh=work.mesh,
        source_faces=work.source,
        base_faces=faces_on_the_riser(work.mesh, settings.seam_mm),
        riser_outline=outline,
        riser_mm=settings.riser_mm,
        placement=placement,
        triangles=len(given.faces),
        size_mm=(x, y, z),
        volume_ml=volume_ml,
        area_cm2=area_cm2(work.mesh),
        open_edges=work.open_edges,
        holes=tuple(Hole(one.edges, one.across_mm, _moved(one.at_mm, shift)) for one in holes),
        pieces=pieces,
        through_holes=handles(work.mesh),
        up=up.axis,
        scale=scale,
        changes=tuple(work.changes),
        warnings=tuple(moved),
    )


def _moved(at_mm: tuple[float, float, float], shift: Floats) -> tuple[float, float, float]:
    x, y, z = (np.asarray(at_mm) + shift).tolist()
    return (x, y, z)
