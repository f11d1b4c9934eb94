"""A desk: one piece at work, with all that is remembered of it between two orders."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..errors import RiselineError
from ..memo import Memo
from .picture import Pictures
from .read import Reader

if TYPE_CHECKING:
    from ..layout import Layout


class ForgottenLayoutError(RiselineError):
    """A layout that is asked about is not at the desk any more; who asks has to bring it along."""


class Desk:
    """What was read last, what the stages found and is shown, and the last layout by its token."""

    def __init__(self) -> None:
        self.reader = Reader()
        self.memo = Memo()
        self.pictures = Pictures()
        self._laid: dict[str, Layout] = {}

    def keep(self, token: str, layout: Layout) -> None:
        """Remember a layout, in place of the one before."""
        self._laid = {token: layout}

    def layout(self, token: str) -> Layout:
        """Return the layout of a token.

        Raises
        ------
        ForgottenLayoutError
            If it is another one.
        """
        if token not in self._laid:
            raise ForgottenLayoutError
        return self._laid[token]


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
