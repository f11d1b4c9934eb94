"""Mixing, degassing and pouring one batch, against its pot life."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..constants.rubber import POT_LIFE_LATEST_SHARE, POT_LIFE_TIGHT_SHARE
from ..notices import Notice
from ..units import time_text

YES, TIGHT, NO = "yes", "yes, but tight", "no"


@dataclass(frozen=True)
class Budget:
    """Times of one batch; ``fits`` is "yes", "yes, but tight" or "no".

    ``pour_s`` counts that the rubber thickens while it stands: infinite if it never gets through.
    """

    mix_s: float
    degas_s: float
    pour_s: float
    pot_life_s: float
    fits: str

    @property
    def needs_s(self) -> float:
        """Return all three together."""
        return self.mix_s + self.degas_s + self.pour_s


def thickening_pour_s(fresh_s: float, started_s: float, pot_life_s: float) -> float:
    """Return how long a pour takes whose rubber doubles its viscosity over the pot life.

    Data sheets often mean that by pot life (common practice, no source). The flow is that of fresh
    rubber times ``2 ** (-t / pot_life)``, and its integral from ``started_s`` on is the volume.

    Parameters
    ----------
    fresh_s : float
        What the pour would take with fresh rubber.
    started_s : float
        Since the first stir when the pour begins.
    pot_life_s : float
        Of the rubber.

    Returns
    -------
    float
        Infinite if the rubber never gets through.

    Examples
    --------
    >>> round(thickening_pour_s(0.7213 * 1800.0, 0.0, 1800.0))  # x = 1: the whole pot life
    1800
    >>> thickening_pour_s(3000.0, 0.0, 1800.0)
    inf
    """
    flow_left = 2.0 ** (-started_s / pot_life_s) * pot_life_s / math.log(2.0)
    used = fresh_s / flow_left
    return -math.log2(1.0 - used) * pot_life_s if used < 1.0 else math.inf


def budget_of(mix_s: float, degas_s: float, fresh_pour_s: float, pot_life_s: float) -> Budget:
    """Return the budget of one batch; ``fresh_pour_s`` is what fresh rubber would take.

    Examples
    --------
    >>> budget_of(240.0, 240.0, 300.0, 1800.0).fits
    'yes'
    >>> budget_of(240.0, 240.0, 1300.0, 1800.0).fits
    'no'
    """
    pour_s = thickening_pour_s(fresh_pour_s, mix_s + degas_s, pot_life_s)
    share = (mix_s + degas_s + pour_s) / pot_life_s
    late = NO if share > POT_LIFE_LATEST_SHARE else TIGHT
    fits = YES if share <= POT_LIFE_TIGHT_SHARE else late
    return Budget(mix_s, degas_s, pour_s, pot_life_s, fits)


def pot_life_notices(budget: Budget, batches: int) -> tuple[Notice, ...]:
    """Return a warning when one batch takes too much of its pot life."""
    if budget.fits == YES:
        return ()
    which = "Mixing, degassing and pouring" + ("" if batches == 1 else " one batch")
    times = (budget.mix_s, budget.degas_s, budget.pour_s)
    if not math.isfinite(budget.pour_s):
        found = f"The rubber sets before it is through the funnel: {time_text(budget.pot_life_s)}"
        found += " of pot life are too short."
    else:
        parts = " + ".join(time_text(one) for one in times)
        found = (
            f"{which} take {time_text(budget.needs_s)} ({parts}) of {time_text(budget.pot_life_s)}"
            " pot life."
        )
    if budget.fits == TIGHT:
        return (
            Notice("pot_life_tight", f"{found} The rubber thickens meanwhile: have all ready."),
        )
    advice = (
        " It does not fit: take a slower or thinner rubber, a wider channel for a wider throat,"
        " or a smaller cup for more batches."
    )
    return (Notice("pot_life", found + advice),)
