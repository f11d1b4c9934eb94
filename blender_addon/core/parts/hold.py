"""Do the flanges hold: how far apart bolts or clips may be, and what each of them takes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from ..constants.case import PRINTED_STRESS_MPA
from ..constants.parts import (
    BOLT_LENGTHS_MM,
    NUTS_MM,
    PRINTED_MODULUS_MPA,
    SEAM_OPENING_MM,
    THREAD_PITCHES_MM,
    WASHERS_THICK_MM,
)
from ..constants.rubber import HOLD_FACTOR
from ..sentences import Sentence, a_length, marked
from ..units import N_MM2_PER_KPA
from .flanges import fixing_heights, flange_low_mm

if TYPE_CHECKING:
    from ..case.result import CaseResult
    from ..rubber.result import Forces
    from .settings import PartsSettings
    from .split import Split


@dataclass(frozen=True)
class Hold:
    """What closes the seams and what it bears.

    ``heights_mm`` are those of the bolts or clips on each of ``seams`` seams. ``pull_each_n`` is
    the most that one of them takes, ``stress_mpa`` and ``opening_mm`` the most that the flange
    bends and opens between two. ``bolt_length_mm`` is the shortest common length that does.
    """

    kind: str
    size: str
    seams: int
    heights_mm: tuple[float, ...]
    pull_each_n: float
    stress_mpa: float
    opening_mm: float
    bolt_length_mm: float

    @property
    def count(self) -> int:
        """How many bolts or clips in all."""
        return self.seams * len(self.heights_mm)

    @property
    def shopping(self) -> Sentence:
        """What to lay out for it.

        Examples
        --------
        >>> Hold("bolts", "M4", 2, (20.0, 80.0, 140.0), 14.0, 0.4, 0.01, 20.0).shopping
        '6 bolts M4 x 20, 12 washers, 6 nuts: 3 on each of 2 seams'
        """
        what = (
            f"{self.count} bolts {self.size} x {self.bolt_length_mm:g}, {2 * self.count} washers,"
            f" {self.count} nuts"
            if self.kind == "bolts"
            else f"{self.count} clips {marked(self.size)} wide"
        )
        return Sentence(f"{what}: {len(self.heights_mm)} on each of {self.seams} seams")

    @property
    def bears(self) -> Sentence:
        """What it bears while the rubber is liquid.

        Examples
        --------
        >>> Hold("bolts", "M4", 2, (20.0, 80.0, 140.0), 14.2, 0.4, 0.013, 20.0).bears
        'Each is pulled with up to 14 N; between two of them a seam opens by 0.01 mm at most'
        """
        return Sentence(
            f"Each is pulled with up to {self.pull_each_n:.0f} N; between two of them a seam opens"
            f" by {a_length(max(self.opening_mm, 0.01), '.2f')} at most"
        )


def hold_of(case: CaseResult, forces: Forces, split: Split, settings: PartsSettings) -> Hold:
    """Return the bolts or clips of every seam: as near to each other as the flange needs them.

    Each ring of the case is held by its own. A flange is taken as a beam along the seam that is
    held fast at every bolt, under the line pull of the rubber at the ring's foot.

    Raises
    ------
    BadSettingError
        If not even one finds room on a ring.

    References
    ----------
    .. [1] Young, Budynas: Roark's Formulas for Stress and Strain, 7th ed. 2002, table 8.1, case 2d
       (ends fixed, even load: moment w l^2 / 12 at the ends, deflection w l^4 / 384 E I).
    """
    at_z: list[float] = []
    pull = stress = opening = 0.0
    for low, high in pairwise(split.floors_mm):
        foot = flange_low_mm(low)
        line = line_pull_n_mm(case, forces, split, foot)
        pitch = min(settings.bolt_pitch_mm, widest_pitch_mm(line, settings))
        found = fixing_heights(foot, high, settings, pitch)
        apart = float(np.diff(found).max()) if len(found) > 1 else high - foot
        at_z += found
        pull = max(pull, line * apart)
        stress = max(stress, line * apart**2 / 12.0 / _section_mm3(settings))
        stiff = PRINTED_MODULUS_MPA * _inertia_mm4(settings)
        opening = max(opening, 2.0 * line * apart**4 / (384.0 * stiff))
    bolts = settings.closing == "bolts"
    return Hold(
        kind=settings.closing,
        size=settings.bolt if bolts else Sentence(a_length(settings.clip_mm, "g")),
        seams=len(split.seams),
        heights_mm=tuple(at_z),
        pull_each_n=pull,
        stress_mpa=stress,
        opening_mm=opening,
        bolt_length_mm=bolt_length_mm(settings) if bolts else 0.0,
    )


def line_pull_n_mm(case: CaseResult, forces: Forces, split: Split, z_mm: float) -> float:
    """Return the pull across a seam for each mm of it, at a height: pressure by half the width.

    Examples
    --------
    >>> from types import SimpleNamespace as Given  # H4 of a case of 160 mm, 300 mm of rubber
    >>> seams = (Given(at=np.array([80.0, 0.0])), Given(at=np.array([-80.0, 0.0])))
    >>> case = Given(level_z_mm=300.0, bore=Given(reach_mm=80.0))
    >>> line = line_pull_n_mm(case, Given(floor_pressure_kpa=3.5304), Given(seams=seams), 0.0)
    >>> round(line, 4)
    0.2824
    """
    half = case.bore.reach_mm
    if len(split.seams) == 2:
        one, other = split.seams
        half = float(np.hypot(*(one.at - other.at))) / 2.0
    share = max(case.level_z_mm - z_mm, 0.0) / case.level_z_mm
    return forces.floor_pressure_kpa * N_MM2_PER_KPA * share * half


def widest_pitch_mm(line_n_mm: float, settings: PartsSettings) -> float:
    """Return how far apart bolts may be for a line pull: the flange neither breaks nor gapes.

    It bears `HOLD_FACTOR` times the pull at the allowed stress, and opens no further than what
    hardly leaks.
    """
    if line_n_mm <= 0.0:
        return math.inf
    line = HOLD_FACTOR * line_n_mm
    by_stress = math.sqrt(12.0 * PRINTED_STRESS_MPA * _section_mm3(settings) / line)
    stiff = PRINTED_MODULUS_MPA * _inertia_mm4(settings)
    by_opening = (384.0 * stiff * SEAM_OPENING_MM / (2.0 * line_n_mm)) ** 0.25
    return float(min(by_stress, by_opening))


def _section_mm3(settings: PartsSettings) -> float:
    """Return the section modulus of a flange that bends away from its partner."""
    return settings.flange_mm * settings.flange_thickness_mm**2 / 6.0


def _inertia_mm4(settings: PartsSettings) -> float:
    return settings.flange_mm * settings.flange_thickness_mm**3 / 12.0


def bolt_length_mm(settings: PartsSettings) -> float:
    """Return the shortest common bolt: two flanges, two washers, a nut and two turns beyond it.

    Examples
    --------
    >>> from .settings import PartsSettings
    >>> bolt_length_mm(PartsSettings())  # 10 + 1.6 + 3.2 + 1.4 = 16.2
    20.0
    """
    size = settings.bolt
    needed = (
        2.0 * settings.flange_thickness_mm
        + 2.0 * WASHERS_THICK_MM[size]
        + NUTS_MM[size]
        + 2.0 * THREAD_PITCHES_MM[size]
    )
    longer = 10.0 * math.ceil(needed / 10.0)
    return next((one for one in BOLT_LENGTHS_MM if one >= needed), longer)
