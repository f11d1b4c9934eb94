"""Which of the cuts that were laid out is taken: the least that lets the piece out, and why."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ..constants.cut import (
    EASING_STEP,
    HARD_PULL_N,
    LEAST_BEHIND_ML,
    LEAST_SAFE_SHARE_PERCENT,
    TWO_HALVES_SHARE,
)
from ..errors import NoWayForSlitError
from ..notices import Notice
from ..sentences import a_length
from ..units import stretch_text, volume_text
from .blade import opens_ring
from .held import missed_places
from .lips import lips_end_mm, lips_of
from .oneway import slit_cut
from .opening import pull_at, pull_of_halves
from .piece import allowed_stretch
from .stretch import slit_top_mm

if TYPE_CHECKING:
    from ..case.result import CaseResult
    from .held import TightPlace
    from .measure import Measured
    from .oneway import SlitCut
    from .settings import CutSettings
    from .undercut import Split


def slit_end_mm(case: CaseResult, found: Measured, settings: CutSettings) -> tuple[float, bool]:
    """Return how high a slit must go for the rings alone, and whether that is almost to the top."""
    must = slit_top_mm(found.curve.heights_mm, found.curve.needed, allowed_stretch(settings))
    top = float(found.sections.heights_mm[-1])
    end = min(max(must, case.riser_mm + settings.least_slit_mm), top)
    return end, must - case.riser_mm > TWO_HALVES_SHARE * (top - case.riser_mm)


def eased(slit: SlitCut, settings: CutSettings) -> SlitCut | None:
    """Return a longer slit that one person opens, where the shortest takes too hard a pull.

    The longer a slit, the less is left to stretch: slits for less and less of it are laid out,
    until one takes no more than a person pulls with, and opens the block as drawn.

    Parameters
    ----------
    slit : SlitCut
        The shortest.
    settings : CutSettings

    Returns
    -------
    SlitCut or None
        None where the shortest will do, and where only a cut almost to the top would.
    """
    case, found = slit.lines.case, slit.lines.found
    share = settings.safe_share_percent
    while slit.pull.force_n > HARD_PULL_N and share * EASING_STEP >= LEAST_SAFE_SHARE_PERCENT:
        share *= EASING_STEP
        less = replace(settings, safe_share_percent=share)
        must, all_round = slit_end_mm(case, found, less)
        if all_round:
            return None
        if _forecast_n(found, slit, must, less) > HARD_PULL_N:
            continue
        try:
            longer = slit_cut(slit.lines, must, less)
        except NoWayForSlitError:
            return None
        if longer.pull.force_n > HARD_PULL_N:
            continue
        longer = _at_safe_stretch(longer, found, settings)
        if opens_ring(case, longer.keying, found.base_mm):
            return longer
    return None


def _forecast_n(found: Measured, slit: SlitCut, must_mm: float, less: CutSettings) -> float:
    """Return the pull that a slit would take which goes on along the same line."""
    curve, arcs, allowed = found.curve, slit.slit.arcs, allowed_stretch(less)
    long = curve.heights_mm[arcs >= lips_end_mm(curve, arcs, allowed)]
    end = max(must_mm, float(long[0]) if len(long) else float(curve.heights_mm[-1]))
    length = float(arcs[curve.heights_mm <= end].max(initial=0.0))
    lips = lips_of(curve, arcs, length, allowed)
    return pull_at(curve, end, slit.pull.thickness_mm, less, lips).force_n


def _at_safe_stretch(longer: SlitCut, found: Measured, settings: CutSettings) -> SlitCut:
    """Return a slit whose lips say again what would do at the stretch that is safe."""
    own = longer.slit
    lips = lips_of(found.curve, own.arcs, own.lips.length_mm, allowed_stretch(settings))
    return replace(longer, slit=replace(own, lips=lips))


def choose(
    case: CaseResult,
    found: Measured,
    slits: tuple[SlitCut, SlitCut] | None,
    split: Split,
    settings: CutSettings,
) -> tuple[str, Notice | None]:
    """Return the kind of cut that is taken, and why where it is not the shortest slit.

    Parameters
    ----------
    case : CaseResult
    found : Measured
    slits : tuple, optional
        The shortest and the one in its place, None where no slit was found.
    split : Split
        What two halves leave to stretch.
    settings : CutSettings
        What the maker asks for goes first.
    """
    if settings.way != "best":
        return ("two halves" if settings.way == "halves" else "one slit"), None
    reason = _against_slit(case, found, slits, split, settings)
    if reason is not None:
        return "two halves", reason
    return "one slit", None if slits is None else _longer(*slits)


def _against_slit(
    case: CaseResult,
    found: Measured,
    slits: tuple[SlitCut, SlitCut] | None,
    split: Split,
    settings: CutSettings,
) -> Notice | None:
    """Return why one slit will not do where two halves will."""
    allowed = allowed_stretch(settings)
    if slits is None or slit_end_mm(case, found, settings)[1]:
        return _halves(f"{_uncut(found)} and no slit with a hinge left lets the piece out", split)
    slit = slits[1]
    left = slit.pull.stretch
    if left > allowed and split.needed_stretch < left:
        return _halves(
            f"{_uncut(found)}, after one slit {stretch_text(left)}, more than the safe"
            f" {allowed:.0%}",
            split,
        )
    missed = missed_places(found.rings, found.sections.heights_mm, allowed, slit.line_mm)
    if missed and split.needed_stretch <= allowed:
        return _missed(missed[0], split)
    pull = pull_of_halves(split.needed_stretch, case.least_rubber_mm, settings)
    if slit.pull.word == "do not" and pull.force_n <= HARD_PULL_N:
        return _halves(
            f"Even a longer slit would take a pull of {slit.pull.least_n:.0f} N at the least to"
            f" open, and one person should not pull with more than {HARD_PULL_N:.0f} N",
            split,
        )
    return None


def _uncut(found: Measured) -> str:
    needed = float(found.curve.needed.max(initial=0.0))
    return f"The rubber would have to stretch by up to {stretch_text(needed)} uncut"


def _halves(why: str, split: Split) -> Notice:
    text = f"{why}. Cut the block in two halves all round, as drawn.{_behind(split)}"
    return Notice("two_halves", text)


def _behind(split: Split) -> str:
    """Return what halves leave to bend, if it is worth a sentence: no stretch tells of it."""
    if split.undercut_ml < LEAST_BEHIND_ML:
        return ""
    behind = volume_text(split.undercut_ml)
    return f" Then {behind} of rubber still stand behind the piece: bend them out of it, slowly."


def _missed(place: TightPlace, split: Split) -> Notice:
    text = (
        f"One slit does not open the ring of rubber at {a_length(place.at_mm[2])} above the"
        f" board, which holds another large part and would have to stretch by"
        f" {stretch_text(place.needed_stretch)}. Cut the block in two halves all round, as drawn;"
        f" or set Way to Open to slit and cut a second one there.{_behind(split)}"
    )
    return Notice("two_halves", text, place.at_mm)


def _longer(shortest: SlitCut, slit: SlitCut) -> Notice | None:
    if slit is shortest:
        return None
    text = (
        f"The slit is {a_length(slit.length_mm)} long. {a_length(shortest.length_mm)}"
        f" would do for the stretch, but take a pull of up to {shortest.pull.most_n:.0f} N to open;"
        f" this one takes up to {slit.pull.most_n:.0f} N."
    )
    return Notice("longer_slit", text, (*slit.line_mm[-1].tolist(),))
