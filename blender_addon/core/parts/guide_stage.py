"""Knife guides among the parts, once the cut is known."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from ..case.bore import Bore
from ..case.girth import around_mm
from ..constants.parts import GUIDE_LEAST_MM, GUIDE_MOST_SHARE
from ..errors import BadSettingError, OpenPartError
from ..geometry.convex import cleaned
from ..notices import Notice
from ..sentences import a_length, marked
from .arrange import arranged
from .bed import bed_of
from .check import checked_part
from .guide import Plate, guide_mesh
from .naming import ring_names
from .pose import pose_of
from .result import AS_IT_STANDS, GuidePlace
from .settings import EDGE_GUIDE

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..case.result import CaseResult
    from ..cut.result import CutResult
    from ..watch import Watch
    from .result import Part, PartsResult
    from .settings import PartsSettings


def guide_stage(
    case: CaseResult, cut: CutResult, parts: PartsResult, settings: PartsSettings, watch: Watch
) -> PartsResult:
    """Return the parts with a knife guide for each line that runs up the block, where one is asked.

    Where no sound guide can be made the parts say so.

    Parameters
    ----------
    case : CaseResult
        Its bore is the outside of the block.
    cut : CutResult
        The line on the outside.
    parts : PartsResult
        Of `parts_stage`.
    settings : PartsSettings
        Whether, how much play, and the print bed.
    watch : Watch
        Asked whether to go on.
    """
    watch.at(0.0)
    if settings.guide != EDGE_GUIDE:
        return parts
    if cut.kind == "none":
        return _refused(parts, "there is no cut")
    bore = case.bore if case.bore.is_round else Bore(cleaned(case.bore.outline_mm))
    found: list[Part] = []
    places: list[GuidePlace] = []
    try:
        for side, line in lines_up(case, cut, bore):
            plate, place = plate_of(bore, side, line)
            found += _parts(side, bore, plate, settings)
            places.append(place)
    except (BadSettingError, OpenPartError) as error:
        return _refused(parts, marked(str(error)))
    whole = (*parts.parts, *found)
    notices = [
        Notice(
            "needs_supports",
            f"The {part.name} hangs over too far to print without supports where the line turns"
            " sharply. Print it with supports, or use the knife card.",
        )
        for part in found
        if not part.overhang.prints_without_supports
    ]
    return replace(
        parts,
        parts=whole,
        guides=tuple(places),
        warnings=(*parts.warnings, *notices),
        bed_places_mm=arranged(whole, bed_of(settings)),
    )


def _refused(parts: PartsResult, why: str) -> PartsResult:
    text = f"No knife guide is made: {why}. Lay the knife card round the block instead."
    return replace(parts, warnings=(*parts.warnings, Notice("no_guide", text)))


def lines_up(case: CaseResult, cut: CutResult, bore: Bore) -> list[tuple[str, Floats]]:
    """Return the side's name and the line (n, 2), round and high, of each line up the outside."""
    trace = cut.zigzag_mm
    if cut.kind == "one slit":
        return [("", _unrolled(bore, trace))]
    top = np.flatnonzero(trace[:, 2] >= case.level_z_mm - 1e-6)
    return [("left", _unrolled(bore, trace[: top[0] + 1])),
            ("right", _unrolled(bore, trace[top[-1]:][::-1]))]  # fmt: skip


def _unrolled(bore: Bore, trace: Floats) -> Floats:
    around = around_mm(bore, trace[:, :2])
    around = np.unwrap(around, period=bore.girth_mm)
    rising = np.append(True, np.diff(trace[:, 2]) > 0.0)
    line: Floats = np.column_stack([around, trace[:, 2]])[rising]
    return line


def plate_of(bore: Bore, side: str, line: Floats) -> tuple[Plate, GuidePlace]:
    """Return the plate beside a line, to the nearest seam where that is at a handy distance.

    Raises
    ------
    OpenPartError
        If the line wanders too far round for a plate to be put on.
    """
    low, high, girth = float(line[:, 0].min()), float(line[:, 0].max()), bore.girth_mm
    most = GUIDE_MOST_SHARE * girth
    if high - low + GUIDE_LEAST_MM > most:
        what = (
            f"the line goes {a_length(high - low)} round the block, too far for a plate that is"
            " put on from the side"
        )
        raise OpenPartError(what)
    seams = _seams(bore)
    handy: list[tuple[float, float, str]] = []
    for name, at in seams:
        for turn in (-1.0, 0.0, 1.0):
            far = at + turn * girth
            near, wide = min(abs(far - low), abs(far - high)), max(abs(far - low), abs(far - high))
            if not low < far < high and near >= GUIDE_LEAST_MM and wide <= most:
                handy.append((wide, far, name))
    if handy:
        _, far, name = min(handy)
        return Plate(line, far), GuidePlace(side, name, 0.0, "")
    far = high + GUIDE_LEAST_MM
    name, off = min(
        ((name, math.remainder(far - at, girth)) for name, at in seams), key=lambda one: abs(one[1])
    )
    return Plate(line, far), GuidePlace(side, name, abs(off), "right" if off > 0.0 else "left")


def _seams(bore: Bore) -> list[tuple[str, float]]:
    """Return name and place, round from the front, of the seams of the case."""
    left, right = bore.seam_x_mm
    at = around_mm(bore, np.array([[left, 0.0], [right, 0.0]]))
    return [("left", float(at[0])), ("right", float(at[1]))]


def _parts(side: str, bore: Bore, plate: Plate, settings: PartsSettings) -> list[Part]:
    """Return a guide, in as many pieces on each other as the printer is too low for."""
    low, high = float(plate.line[0, 1]), float(plate.line[-1, 1])
    bed = bed_of(settings)
    count = math.ceil((high - low) / bed.z_mm - 1e-9)
    floors = np.linspace(low, high, count + 1).tolist()
    found = []
    for row, name in enumerate(ring_names(count)):
        words = " ".join(one for one in ("knife guide", side, name) if one)
        mesh = guide_mesh(bore, plate.between(floors[row], floors[row + 1]), settings.fit_mm)
        pose = pose_of(words, mesh, AS_IT_STANDS, bed)
        found.append(checked_part(words, "guide", mesh, pose, AS_IT_STANDS, bed))
    return found
