"""Work in a thread of its own, so that Blender's window goes on."""

from __future__ import annotations

import queue
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING, Any, Generic, TypeVar

from ..core.watch import Watch

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

Result = TypeVar("Result")

SHORTEST_S = 1e-9

KNOWN_AFTER_S, KNOWN_FROM = 2.0, 0.1
"""How long work must have gone on, and what share of it be done, to tell what is left."""


class Work(Generic[Result]):
    """One call that runs in a thread. It must never touch Blender's data.

    Parameters
    ----------
    task : callable
        Gets the watch to report to, and returns the result.
    pace_s : mapping of str to float
        The labels that it will report, in order, and how long each takes beside the others.

    Attributes
    ----------
    waits_for : str
        What has to end before the result can be taken, once it is there; "" for nothing.
    """

    def __init__(self, task: Callable[[Watch], Result], pace_s: Mapping[str, float]) -> None:
        self.stage = ""
        self.fraction = 0.0
        self.waits_for = ""
        self._pace_s = dict(pace_s)
        self._began_s = time.monotonic()
        self._reports: queue.SimpleQueue[tuple[str, float]] = queue.SimpleQueue()
        self._stop = threading.Event()
        with_one_thread = ThreadPoolExecutor(max_workers=1, thread_name_prefix="riseline")
        self._ahead: queue.SimpleQueue[tuple[Any, ...]] = queue.SimpleQueue()
        watch = Watch(
            lambda *report: self._reports.put(report),
            self._stop.is_set,
            lambda *results: self._ahead.put(results),
        )
        self._future = with_one_thread.submit(task, watch)
        with_one_thread.shutdown(wait=False)

    @property
    def total(self) -> float:
        """The done fraction of the whole, by what each stage commonly takes."""
        labels = list(self._pace_s)
        if self.stage not in labels:
            return 0.0
        done_s = sum(self._pace_s[one] for one in labels[: labels.index(self.stage)])
        done_s += self.fraction * self._pace_s[self.stage]
        return done_s / max(sum(self._pace_s.values()), SHORTEST_S)

    @property
    def left_s(self) -> float | None:
        """The seconds that are left at this pace, or None while that is a guess."""
        gone_s = time.monotonic() - self._began_s
        if gone_s < KNOWN_AFTER_S or self.total < KNOWN_FROM:
            return None
        return gone_s * (1.0 - self.total) / self.total

    @property
    def stopping(self) -> bool:
        """Whether it was asked to stop; it does so at its next report."""
        return self._stop.is_set()

    def cancel(self) -> None:
        """Ask it to stop."""
        self._stop.set()

    def poll(self) -> bool:
        """Take in what was reported since last time; return whether the work is over."""
        over = self._future.done()  # asked first, or reports made in between are lost
        while not self._reports.empty():
            self.stage, self.fraction = self._reports.get()
        return over

    @property
    def has_ahead(self) -> bool:
        """Whether results came ahead of the rest since last time."""
        return not self._ahead.empty()

    def ahead(self) -> tuple[Any, ...]:
        """Return the last results that came ahead of the rest since last time, or none."""
        results: tuple[Any, ...] = ()
        while not self._ahead.empty():
            results = self._ahead.get()
        return results

    def result(self) -> Result:
        """Wait for the end, then return the result or raise what the work raised."""
        return self._future.result()
