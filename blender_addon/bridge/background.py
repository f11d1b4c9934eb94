"""Work in a thread of its own, so that Blender's window goes on."""

from __future__ import annotations

import queue
import threading
from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING, Generic, TypeVar

from ..core.watch import Watch

if TYPE_CHECKING:
    from collections.abc import Callable

Result = TypeVar("Result")


class Work(Generic[Result]):
    """One call that runs in a thread. It must never touch Blender's data.

    Parameters
    ----------
    task : callable
        Gets the watch to report to, and returns the result.
    stages : tuple of str
        The labels that it will report, in order.
    """

    def __init__(self, task: Callable[[Watch], Result], stages: tuple[str, ...]) -> None:
        self.stage = ""
        self.fraction = 0.0
        self._stages = stages
        self._reports: queue.SimpleQueue[tuple[str, float]] = queue.SimpleQueue()
        self._stop = threading.Event()
        with_one_thread = ThreadPoolExecutor(max_workers=1, thread_name_prefix="riseline")
        watch = Watch(lambda *report: self._reports.put(report), self._stop.is_set)
        self._future = with_one_thread.submit(task, watch)
        with_one_thread.shutdown(wait=False)

    @property
    def total(self) -> float:
        """The done fraction of all stages, each taken as equally long."""
        done = self._stages.index(self.stage) if self.stage in self._stages else 0
        return (done + self.fraction) / len(self._stages)

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

    def result(self) -> Result:
        """Wait for the end, then return the result or raise what the work raised."""
        return self._future.result()
