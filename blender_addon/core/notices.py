"""What a stage found that the maker should know, though the work went on."""

from __future__ import annotations

from dataclasses import dataclass

from .sentences import Sentence


@dataclass(frozen=True)
class Notice:
    """One warning: a fixed code for programs, a text for people, and the place where there is one.

    Lengths in the text come from ``a_length``, so that it can be read in inches too. ``at_mm`` is
    x, y, z in the frame of the stage that gives it.
    """

    code: str
    text: str
    at_mm: tuple[float, float, float] | None = None

    def __post_init__(self) -> None:
        """Word the text."""
        object.__setattr__(self, "text", Sentence(self.text))
