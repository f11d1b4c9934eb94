"""What the maker should know of the cut, though the work went on."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ..constants.cut import HARD_PULL_N, SMALL_PARTS_TOLD
from ..notices import Notice
from ..sentences import a_length, an_area
from ..units import stretch_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ..errors import NoWayForSlitError
    from .result import CutResult


def cut_warnings(
    cut: CutResult,
    bare_mm: tuple[float, float] | None,
    choice: Notice | None = None,
    refusal: NoWayForSlitError | None = None,
) -> CutResult:
    """Return a result with its warnings.

    Parameters
    ----------
    cut : CutResult
        Without any.
    bare_mm : tuple, optional
        Heights from and to which a slit has no room for teeth.
    choice : Notice, optional
        Why another cut is taken than the shortest slit.
    refusal : NoWayForSlitError, optional
        Why no cut was found.
    """
    if refusal is not None:
        text = f"No cut is laid out. {refusal} All else in the layout stands."
        found = [Notice("no_cut", text, refusal.at_mm), *_webs(cut), *_tight(cut)]
        return replace(cut, warnings=tuple(found))
    found = [*([] if choice is None else [choice]), *_torn(cut), *_pull(cut), *_lips(cut)]
    found += _missed(cut)
    found += [*_webs(cut), *_tight(cut)]
    if cut.kind == "one slit" and bare_mm is not None:
        low, high = (a_length(z) for z in bare_mm)
        text = (
            f"The rubber at the cut is too thin for teeth from {low} to {high} above the board: cut"
            " it straight there. More Rubber at the Cut, a smaller Tooth or a shorter Straight Part"
            " makes room."
        )
        found.append(Notice("no_teeth", text))
    return replace(cut, warnings=(*found, *_proof(cut)))


def _torn(cut: CutResult) -> Iterator[Notice]:
    allowed = cut.allowed_stretch
    if cut.pull is not None and cut.pull.stretch > allowed and not _too_short(cut):
        text = (
            f"Even so the rubber has to stretch by {stretch_text(cut.pull.stretch)}, more than the"
            f" safe {allowed:.0%}: it may tear. {_instead(cut)}"
        )
        yield Notice("stretch_too_far", text)


def _instead(cut: CutResult) -> str:
    """Return what helps where the rubber has to stretch too far."""
    others = [way.stretch for way in cut.ways if way.kind != cut.kind]
    if others and cut.pull is not None and min(others) < cut.pull.stretch:
        return "Take the other way to open, or a softer rubber."
    return (
        "No other way to open takes less: take a softer rubber, stand the piece another way, or"
        " mold it in parts."
    )


def _pull(cut: CutResult) -> Iterator[Notice]:
    pull = cut.pull
    if pull is None or pull.force_n <= HARD_PULL_N or pull.stretch > cut.allowed_stretch:
        return
    other = "two halves" if cut.kind == "one slit" else "one slit"
    sure = "takes" if pull.least_n > HARD_PULL_N else "may take"
    text = (
        f"Opening {sure} a pull of {pull.least_n:.0f} to {pull.most_n:.0f} N, closer than that the"
        f" hardness of rubber does not tell it; one person should not pull with more than"
        f" {HARD_PULL_N:.0f} N. The rubber is {a_length(pull.thickness_mm)} thick where the cut"
        f" ends. Take a softer rubber, a case with less room round the piece, or {other}."
    )
    yield Notice("hard_to_open", text)


def _lips(cut: CutResult) -> Iterator[Notice]:
    if cut.lips is not None and _too_short(cut):
        text = (
            f"The slit's lips have to stretch by {stretch_text(cut.lips.stretch)} to let a girth of"
            f" {a_length(cut.lips.girth_mm)} pass, more than the safe {cut.allowed_stretch:.0%},"
            " and it cannot go on from where it ends. Take two halves, or a softer rubber."
        )
        yield Notice("lips_too_short", text, (*cut.slit_mm[-1].tolist(),))


def _too_short(cut: CutResult) -> bool:
    return cut.lips is not None and cut.lips.stretch > cut.allowed_stretch


def _missed(cut: CutResult) -> Iterator[Notice]:
    for place in cut.missed:
        text = (
            f"Another large part is held fast at {a_length(place.at_mm[2])} above the board:"
            f" its ring has to stretch by {stretch_text(place.needed_stretch)}, and the slit does"
            " not open it. Cut a second slit there, from the base up past that place, or take two"
            " halves."
        )
        yield Notice("second_slit", text, place.at_mm)


def _webs(cut: CutResult) -> Iterator[Notice]:
    if cut.webs:
        many = "a web" if len(cut.webs) == 1 else f"{len(cut.webs)} webs"
        text = (
            f"Rubber fills the holes through the piece: cut {many} before you pull, the largest of"
            f" {an_area(cut.webs[0].area_cm2)} at {a_length(cut.webs[0].at_mm[2])} above the"
            " board."
        )
        yield Notice("webs", text, cut.webs[0].at_mm)
    thick = sorted((web for web in cut.webs if web.thick), key=lambda web: -web.width_mm)
    if thick:
        height, width = a_length(thick[0].at_mm[2]), a_length(thick[0].width_mm)
        if len(thick) == 1:
            text = (
                f"The web at {height} above the board is {width} thick: one stroke does not cut it."
            )
        else:
            text = (
                f"{len(thick)} of the webs are too thick to cut in one stroke, most the one at"
                f" {height} above the board: {width}."
            )
        text += " Open the block first, then cut in strokes in the plane that is drawn."
        yield Notice("thick_web", text, thick[0].at_mm)


def _tight(cut: CutResult) -> Iterator[Notice]:
    for place in cut.tight[:SMALL_PARTS_TOLD]:
        text = (
            f"A small part at {a_length(place.at_mm[2])} above the board is held fast: its ring "
            f"has to stretch by {stretch_text(place.needed_stretch)}. Nick the rubber there from"
            " inside, once the block is open."
        )
        yield Notice("small_part_held", text, place.at_mm)
    if len(cut.tight) > SMALL_PARTS_TOLD:
        more = cut.tight[SMALL_PARTS_TOLD:]
        most = stretch_text(more[0].needed_stretch)
        parts = "1 more small part is" if len(more) == 1 else f"{len(more)} more small parts are"
        text = f"{parts} held fast, by rings that stretch by up to {most}"
        yield Notice("small_part_held", f"{text}: nick the rubber there, too.", more[0].at_mm)


def _proof(cut: CutResult) -> Iterator[Notice]:
    if cut.proof is None:
        text = (
            "The surface of the scan is no closed manifold, so that cutting the block was not "
            "tried out, and holes through the piece were not looked for."
        )
        yield Notice("not_proven", text)
    elif not cut.proof.opens or cut.proof.pieces != (1 if cut.kind == "one slit" else 2):
        text = (
            "Trying the cut out left rubber that still holds the lips together: look for skins at "
            "ledges of the piece, and cut them as the block opens."
        )
        yield Notice("not_all_open", text)
