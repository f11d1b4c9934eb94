"""When a stage runs again: only if one of its inputs differs from last time."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable

    from .watch import Watch

Result = TypeVar("Result")


class Memo:
    """Remember each stage's last inputs and result.

    Results hold arrays and compare by identity, settings compare by value, so one comparison of two
    tuples is the whole rule.

    Examples
    --------
    >>> from blender_addon.core.watch import Watch
    >>> memo, runs = Memo(), []
    >>> def doubled(number, watch):
    ...     runs.append(number)
    ...     return 2 * number
    >>> memo("Double", doubled, 4, watch=Watch()), memo("Double", doubled, 4, watch=Watch()), runs
    (8, 8, [4])
    """

    def __init__(self) -> None:
        self._last: dict[str, tuple[tuple[Any, ...], Any]] = {}
        self.timings_s: dict[str, float] = {}

    def __call__(
        self, label: str, stage: Callable[..., Result], *inputs: Any, watch: Watch
    ) -> Result:
        """Return ``stage(*inputs, watch)``, or its last result when the inputs are the same.

        Parameters
        ----------
        label : str
            The stage's name as users read it; one stage, one label.
        stage : callable
            Takes the inputs and the watch.
        *inputs : object
            Earlier results, then the stage's own settings.
        watch : Watch
            Told that the stage begins, even if it need not run.
        """
        watch.begin(label)
        if label in self._last and self._last[label][0] == inputs:
            result: Result = self._last[label][1]
            return result
        start = time.perf_counter()
        result = stage(*inputs, watch)
        self.timings_s[label] = time.perf_counter() - start
        self._last[label] = (inputs, result)
        return result
