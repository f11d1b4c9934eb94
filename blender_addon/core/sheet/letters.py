"""How wide words are in Helvetica, one of the fonts that every PDF reader has."""

from __future__ import annotations

import unicodedata

WIDTHS = (
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
    1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
    333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
    556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
)  # fmt: skip
"""Thousandths of the font's size, from the space to the tilde: Adobe's metrics of Helvetica."""

BOLD_WIDTHS = (
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611,
    975, 722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584, 556,
    333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611,
    611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584,
)  # fmt: skip
"""The same of Helvetica-Bold."""

OTHERS = {"\xb0": 400, "\xd7": 584, "\xb2": 333, "\xb3": 333, "\xb7": 278, "\xb1": 584, "\xbd": 834}
"""Degree, times, square, cube, dot, plus or minus, half: no letters with an accent. What
is not known counts as an n."""


def width_mm(words: str, size_mm: float, *, bold: bool = False) -> float:
    """Return how long a line of words is.

    Examples
    --------
    >>> round(width_mm("cut", 10.0), 2), round(width_mm("Größe", 10.0), 2)
    (13.34, 27.79)
    """
    widths = BOLD_WIDTHS if bold else WIDTHS
    return sum(_width(letter, widths) for letter in words) * size_mm / 1000.0


def _width(letter: str, widths: tuple[int, ...]) -> int:
    if letter in OTHERS:
        return OTHERS[letter]
    place = ord(unicodedata.normalize("NFD", letter)[0]) - ord(" ")
    return widths[place if 0 <= place < len(widths) else ord("n") - ord(" ")]


def lines_of(words: str, size_mm: float, room_mm: float, *, bold: bool = False) -> list[str]:
    """Return words as lines that are no longer than a room; a longer word has its own line.

    Examples
    --------
    >>> lines_of("Weigh out both parts", 4.0, 28.0)
    ['Weigh out both', 'parts']
    """
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_mm(longer, size_mm, bold=bold) <= room_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines
