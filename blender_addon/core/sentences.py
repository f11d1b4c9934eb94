"""Sentences that hold lengths and areas, to be said in millimetres or in inches.

Whoever writes a sentence does not know who reads it. So it takes the exact quantity between marks,
and ``Sentence`` says it either way: a reading that was rounded in one unit could not be turned
into the other without an error in its last digit.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Self

from .units import area_text, length_text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

_BEGIN, _END, _BARE = "\ue000", "\ue001", "\ue002"
"""Of Unicode's private use area: no letter, and no file name holds them by chance."""

_MARKED = re.compile(f"{_BEGIN}([la])([^{_BEGIN}{_END}]+):([^{_BEGIN}{_END}]*){_END}")
_WORDING: dict[str, Callable[..., str]] = {"l": length_text, "a": area_text}


def a_length(length_mm: float, digits: str = ".1f") -> str:
    """Return a length for a sentence, still without a unit.

    Parameters
    ----------
    length_mm : float
    digits : str
        How many are shown in millimetres; inches have their own.

    Examples
    --------
    >>> Sentence(f"A hole {a_length(30.48)} across.")
    'A hole 30.5 mm across.'
    >>> Sentence(f"A hole {a_length(30.48)} across.").in_inches
    'A hole 1.20 in across.'
    """
    return f"{_BEGIN}l{float(length_mm)!r}:{digits}{_END}"


def some_lengths(lengths_mm: Iterable[float], between: str, digits: str = ".0f") -> str:
    """Return lengths for a sentence, the unit once.

    Examples
    --------
    >>> Sentence(some_lengths((154.2, 187.4), " x "))
    '154 x 187 mm'
    >>> Sentence(some_lengths((154.2, 187.4), " x ")).in_inches
    '6.07 x 7.38 in'
    """
    *others, last = (a_length(one, digits) for one in lengths_mm)
    return between.join([*(f"{one[:-1]}{_BARE}{_END}" for one in others), last])


def an_area(area_cm2: float, digits: str = ".1f") -> str:
    """Return an area for a sentence, still without a unit.

    Examples
    --------
    >>> Sentence(f"Webs: {an_area(64.516)}."), Sentence(f"Webs: {an_area(64.516)}.").in_inches
    ('Webs: 64.5 cm².', 'Webs: 10.0 in².')
    """
    return f"{_BEGIN}a{float(area_cm2)!r}:{digits}{_END}"


class Sentence(str):
    """A text in millimetres, as files hold it, which knows how it reads in inches.

    ``marked`` is what it was made from; that goes into a longer sentence.
    """

    __slots__ = ("marked",)
    marked: str

    def __new__(cls, marked: str) -> Self:
        """Word a text, or take a sentence as it is."""
        source = marked.marked if isinstance(marked, Sentence) else marked
        made = super().__new__(cls, _worded(source, inches=False))
        made.marked = source
        return made

    def __getnewargs__(self) -> tuple[str]:
        """Go from one process to another, and into a copy, as it was made."""
        return (self.marked,)

    @property
    def in_inches(self) -> str:
        """The same text with its lengths in inches."""
        return _worded(self.marked, inches=True)


def in_unit(text: str, *, inches: bool) -> str:
    """Return a text in the reader's unit; one that is no sentence holds no length.

    Examples
    --------
    >>> in_unit(Sentence(f"{a_length(25.4)} off"), inches=True), in_unit("So be it", inches=True)
    ('1.00 in off', 'So be it')
    """
    return text.in_inches if inches and isinstance(text, Sentence) else str(text)


def marked(text: str) -> str:
    """Return what of a text, or of a sentence, goes into a longer sentence."""
    return text.marked if isinstance(text, Sentence) else text


def _worded(source: str, *, inches: bool) -> str:
    def word(found: re.Match[str]) -> str:
        kind, value, digits = found.groups()
        said = _WORDING[kind](float(value), digits.removesuffix(_BARE), inches=inches)
        return said.split()[0] if digits.endswith(_BARE) else said

    return _MARKED.sub(word, source)
