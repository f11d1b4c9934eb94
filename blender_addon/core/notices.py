"""What a stage found that the maker should know, though the work went on."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Notice:
    """One warning: a fixed code for programs, a text for people, and the place where there is one.

    ``at_mm`` is x, y, z in the frame of the stage that gives it.
    """

    code: str
    text: str
    at_mm: tuple[float, float, float] | None = None
