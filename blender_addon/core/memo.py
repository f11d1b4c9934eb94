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
    tuples is the whole rule. Several steps may share a label: each is remembered by itself, and
    ``timings_s`` adds them up.

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
        self._last: dict[tuple[str, str], tuple[tuple[Any, ...], Any]] = {}
        self._took_s: dict[tuple[str, str], float] = {}

    @property
    def timings_s(self) -> dict[str, float]:
        """Seconds by label, of the last time that each step ran."""
        found: dict[str, float] = {}
        for (label, _), took_s in self._took_s.items():
            found[label] = found.get(label, 0.0) + took_s
        return found

    def __call__(
        self, label: str, stage: Callable[..., Result], *inputs: Any, watch: Watch
    ) -> Result:
        """Return ``stage(*inputs, watch)``, or its last result when the inputs are the same.

        Parameters
        ----------
        label : str
            The stage's name as users read it.
        stage : callable
            Takes the inputs and the watch; under one label, each has a name of its own.
        *inputs : object
            Earlier results, then the stage's own settings.
        watch : Watch
            Told that the stage begins, even if it need not run.
        """
        watch.begin(label)
        step = (label, stage.__qualname__)
        if step in self._last and self._last[step][0] == inputs:
            result: Result = self._last[step][1]
            return result
        start = time.perf_counter()
        result = stage(*inputs, watch)
        self._took_s[step] = time.perf_counter() - start
        self._last[step] = (inputs, result)
        return result
