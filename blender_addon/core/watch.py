"""Progress and results out, cancel in: what a long computation is given to report to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .errors import CancelledError

if TYPE_CHECKING:
    from collections.abc import Callable


def _silent(stage: str, fraction: float) -> None:
    del stage, fraction


def _never() -> bool:
    return False


def _unseen(*results: object) -> None:
    del results


class Watch:
    """Tell how far the work is, and stop it when asked to.

    Parameters
    ----------
    tell : callable, optional
        Called with the stage's label and the done fraction of that stage, from the working thread.
    cancelled : callable, optional
        Asked at every step; when it returns True the step raises `CancelledError`.
    show : callable, optional
        Called with results that can be looked at before the rest is there.

    Examples
    --------
    >>> seen = []
    >>> watch = Watch(lambda stage, fraction: seen.append((stage, fraction)))
    >>> watch.begin("Bubbles"); watch.at(0.5); seen
    [('Bubbles', 0.0), ('Bubbles', 0.5)]
    """

    def __init__(
        self,
        tell: Callable[[str, float], None] = _silent,
        cancelled: Callable[[], bool] = _never,
        show: Callable[..., None] = _unseen,
    ) -> None:
        self._tell = tell
        self._cancelled = cancelled
        self._show = show
        self._stage = ""

    def begin(self, stage: str) -> None:
        """Start a stage, by its label; one that goes on under its label is not begun again."""
        if stage != self._stage:
            self._stage = stage
            self.at(0.0)

    def at(self, fraction: float) -> None:
        """Report the done fraction of the stage, 0 to 1.

        Raises
        ------
        CancelledError
            If the user asked to stop.
        """
        if self._cancelled():
            raise CancelledError
        self._tell(self._stage, fraction)

    def made(self, *results: object) -> None:
        """Show results ahead of the rest."""
        self._show(*results)
