"""What a job sheet is made of: the same blocks become pages of a PDF and a page of HTML."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from .drawing import Drawing


@dataclass(frozen=True)
class Title:
    """The sheet's own name, and a line under it."""

    words: str
    under: str


@dataclass(frozen=True)
class Numbers:
    """The numbers that matter most, large: what each is, and how much."""

    facts: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Heading:
    """Begins a step of the job."""

    words: str


@dataclass(frozen=True)
class Words:
    """A paragraph."""

    words: str


@dataclass(frozen=True)
class Tick:
    """Something to do, with a box to tick."""

    words: str


@dataclass(frozen=True)
class Heed:
    """A warning of this very job, or the usual caution (``usual``) beside what it concerns."""

    words: str
    usual: bool = False


@dataclass(frozen=True)
class Table:
    """Rows of words under a head; ``ticks`` puts a box before each row.

    What is weighed out by it is ``large``. A narrow one of many rows goes on beside itself.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    ticks: bool = False
    large: bool = False


@dataclass(frozen=True, eq=False)
class Figure:
    """A drawing as large as it lies on the page, and what it shows.

    ``least`` is the share of its size that will do where it else would leave a page half empty.
    ``wants_next`` makes it so small for what follows to stand on its page, where that will do.
    """

    drawing: Drawing
    caption: str
    least: float = 1.0
    wants_next: bool = False


@dataclass(frozen=True, eq=False)
class Side:
    """Figures side by side."""

    figures: tuple[Figure, ...]


Block: TypeAlias = Title | Numbers | Heading | Words | Tick | Heed | Table | Figure | Side
