"""Conversion and wording of quantities; inside core all is mm, ml, g, s, N."""

from __future__ import annotations

from .constants.common import KPA_PER_INHG, KPA_PER_PSI, MM_PER_INCH, MOST_STRETCH_TOLD

ML_PER_MM3 = 1e-3
CM2_PER_MM2 = 1e-2
KG_M3_TO_G_ML = 1e-3
N_MM2_PER_KPA = 1e-3
S_PER_H = 3600.0
CM2_PER_INCH2 = (MM_PER_INCH / 10.0) ** 2

FINE_INCHES = 0.1
"""Below this a hundredth of an inch is more than a tenth of the length. Ours."""


def length_text(length_mm: float, digits: str = ".1f", *, inches: bool = False) -> str:
    """Return a length in words: a tenth of a millimetre, or a hundredth of an inch.

    Parameters
    ----------
    length_mm : float
    digits : str
        How many are shown in millimetres.
    inches : bool
        Whether in inches: below a tenth of one in thousandths, as feeler gauges are marked.

    Examples
    --------
    >>> length_text(152.4), length_text(152.4, inches=True)
    ('152.4 mm', '6.00 in')
    >>> length_text(0.1, inches=True), length_text(50.0, "g"), length_text(0.0, inches=True)
    ('0.004 in', '50 mm', '0.00 in')
    """
    if not inches:
        return f"{length_mm:{digits}} mm"
    length_in = length_mm / MM_PER_INCH
    return f"{length_in:.3f} in" if 0.0 < abs(length_in) < FINE_INCHES else f"{length_in:.2f} in"


def area_text(area_cm2: float, digits: str = ".1f", *, inches: bool = False) -> str:
    """Return an area in words; square inches have one place, and two below one.

    Examples
    --------
    >>> area_text(25.8064), area_text(25.8064, inches=True), area_text(2.58064, inches=True)
    ('25.8 cm²', '4.0 in²', '0.40 in²')
    """
    if not inches:
        return f"{area_cm2:{digits}} cm²"
    area_in2 = area_cm2 / CM2_PER_INCH2
    return f"{area_in2:.2f} in²" if 0.0 < area_in2 < 1.0 else f"{area_in2:.1f} in²"


def volume_text(volume_ml: float) -> str:
    """Return a volume in words: two or three digits that matter, litres from a litre up.

    Examples
    --------
    >>> volume_text(2.914), volume_text(87.26), volume_text(1834.2)
    ('2.9 ml', '87 ml', '1.83 l')
    >>> volume_text(0.0), volume_text(0.004), volume_text(0.02)
    ('0 ml', '0 ml', '0.02 ml')
    """
    if volume_ml >= 1000.0:
        return f"{volume_ml / 1000.0:.2f} l"
    if volume_ml >= 10.0:
        return f"{volume_ml:.0f} ml"
    if volume_ml >= 0.095:
        return f"{volume_ml:.1f} ml"
    return f"{volume_ml:.2f} ml" if volume_ml >= 0.005 else "0 ml"


def mass_text(mass_g: float) -> str:
    """Return a mass in words, whole grams below a kilogram, tenths below one.

    Examples
    --------
    >>> mass_text(217.6), mass_text(2181.8)
    ('218 g', '2.18 kg')
    >>> mass_text(0.36), mass_text(0.04)
    ('0.4 g', '0 g')
    """
    if 0.05 <= mass_g < 0.95:
        return f"{mass_g:.1f} g"
    return f"{mass_g / 1000.0:.2f} kg" if mass_g >= 1000.0 else f"{mass_g:.0f} g"


def weigh_text(mass_g: float) -> str:
    """Return what to put on the scale, to the last step of it: never rounded to kilograms.

    Seven digits are 99 kg to the hundredth of a gram; what a float32 adds to 35.1 comes after them.

    Examples
    --------
    >>> weigh_text(4432.0), weigh_text(118.5), weigh_text(35.099998474121094)
    ('4432 g', '118.5 g', '35.1 g')
    """
    return f"{mass_g:.7g} g"


def stretch_text(stretch: float) -> str:
    """Return how far rubber stretches in words, without the digits that no rubber lives to see.

    Examples
    --------
    >>> stretch_text(0.154), stretch_text(1.32), stretch_text(787.25)
    ('15%', '132%', '1000% and more')
    """
    more = " and more" if stretch > MOST_STRETCH_TOLD else ""
    return f"{min(stretch, MOST_STRETCH_TOLD):.0%}{more}"


def time_text(seconds: float) -> str:
    """Return a duration in words.

    Examples
    --------
    >>> time_text(42.4), time_text(1328), time_text(57600), time_text(12600)
    ('42 s', '22 min', '16 h', '3.5 h')
    """
    if seconds >= 3.0 * S_PER_H:
        return f"{seconds / S_PER_H:.1f}".removesuffix(".0") + " h"
    return f"{seconds:.0f} s" if seconds < 90.0 else f"{seconds / 60.0:.0f} min"


def pressure_text(pressure_kpa: float) -> str:
    """Return a pressure over the air outside in words, as both kinds of gauges show it.

    Examples
    --------
    >>> pressure_text(275.0)
    '275 kPa (40 psi)'
    """
    return f"{pressure_kpa:.0f} kPa ({pressure_kpa / KPA_PER_PSI:.0f} psi)"


def vacuum_text(vacuum_kpa: float) -> str:
    """Return a vacuum under the air outside in words, as both kinds of gauges show it.

    Examples
    --------
    >>> vacuum_text(98.2)
    '98 kPa (29.0 inHg)'
    """
    return f"{vacuum_kpa:.0f} kPa ({vacuum_kpa / KPA_PER_INHG:.1f} inHg)"
