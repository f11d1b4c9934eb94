"""Why a copy takes so many fills: which limit asks for them, and what another would come to."""

from __future__ import annotations

from dataclasses import replace
from math import inf
from typing import TYPE_CHECKING

from ..constants.resin import FILL_THICK_MM
from ..sentences import Sentence, a_length
from ..units import mass_text
from .fills import fewest_fills
from .heat import fill_limits

if TYPE_CHECKING:
    from ..arrays import Floats
    from .settings import ResinSettings


def why_fills(count: int, table: Floats, widths: Floats, settings: ResinSettings) -> Sentence:
    """Return one sentence that says what asks for so many fills; empty where one is enough.

    Parameters
    ----------
    count : int
        Of the fills that were found.
    table : ndarray, shape (n, 2)
        As that of `staged_fills`.
    widths : ndarray, shape (k, 2)
        Of the hollow, as `level_widths` returns them.
    settings : ResinSettings
        Class and limits.
    """
    if count < 2:
        return Sentence("")
    limits = fill_limits(settings, widths)
    by_mass = fewest_fills(table, replace(limits, thick_mm=inf, deep_mm=inf), settings)
    if by_mass >= count:
        most = mass_text(settings.stage_g)
        return Sentence(f"{count} fills, because the Largest Fill is set to {most}.")
    if settings.deepest_fill_mm:
        deep = a_length(settings.deepest_fill_mm)
        return Sentence(f"{count} fills, because the data sheet's Deepest Fill is {deep}.")
    thick = FILL_THICK_MM[settings.kind]
    doubled = fewest_fills(table, replace(limits, thick_mm=2.0 * thick), settings)
    return Sentence(
        f"{count} fills, because {settings.kind} is commonly poured no thicker than"
        f" {a_length(thick)} at a time; twice as thick it would be {doubled}. The largest pour of"
        " your data sheet, entered as Deepest Fill, goes before that."
    )
