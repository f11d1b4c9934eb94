"""A desk: one piece at work, with all that is remembered of it between two orders."""

from __future__ import annotations

from ..memo import Memo
from .read import Reader


class Desk:
    """What was read last, and what the stages found."""

    def __init__(self) -> None:
        self.reader = Reader()
        self.memo = Memo()


class Desks:
    """The desk of the last piece: scans may be large, so only one is kept."""

    def __init__(self) -> None:
        self._kept: dict[object, Desk] = {}

    def desk(self, piece: object) -> Desk:
        """Return the desk of a piece; of none, one that is not kept.

        Examples
        --------
        >>> desks = Desks()
        >>> first = desks.desk("frog")
        >>> desks.desk(None) is first, desks.desk("frog") is first, desks.desk("toad") is first
        (False, True, False)
        """
        if piece is None:
            return Desk()
        if piece not in self._kept:
            self._kept = {piece: Desk()}
        return self._kept[piece]

    def clear(self) -> None:
        """Forget what is remembered."""
        self._kept.clear()
