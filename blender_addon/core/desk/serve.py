"""The process beside the window: takes orders from a pipe, works, and answers.

It ends when the pipe does, so it never outlives the window.
"""

from __future__ import annotations

import contextlib
import os
import queue
import sys
import threading
import time
import traceback
from typing import TYPE_CHECKING, Any

from ..errors import RiselineError
from ..watch import Watch
from .desk import Desks
from .sending import LostProcessError, Receiver, Sender

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import IO

    from .orders import Order

SECONDS_BETWEEN_REPORTS = 0.05
"""Of how far a stage is; that a stage begins is always told."""

RUN, STOP = "run", "stop"
"""What messages that come in begin with; then the number of the order, that grows by one."""

READY, AT, MADE = "ready", "at", "made"
DONE, REFUSED, FAULT = "done", "refused", "fault"
"""What messages that go out begin with; then the number of the order, which the last three end."""

EVERY = sys.maxsize
"""The orders to stop when nobody waits for them."""

NICER_BY = 5
"""The window comes first where two cores are all there is."""


class Clerk:
    """Reads orders in a thread of its own, so that "stop" is heard while work goes on.

    Parameters
    ----------
    orders, answers : binary streams
        What is printed must not go to the second.
    gone : callable, optional
        Called in that thread when the orders end, work or no work.
    """

    def __init__(
        self, orders: IO[bytes], answers: IO[bytes], gone: Callable[[], None] | None = None
    ) -> None:
        self._orders, self._sender, self._gone = Receiver(orders), Sender(answers), gone
        self._todo: queue.SimpleQueue[tuple[Any, ...] | None] = queue.SimpleQueue()
        self._stopped = 0
        self._desks = Desks()

    def work(self) -> None:
        """Work until the orders end."""
        threading.Thread(target=self._listen, daemon=True, name="riseline orders").start()
        with contextlib.suppress(LostProcessError):
            self._sender.send((READY, sys.version_info[:2]))
            while (todo := self._todo.get()) is not None:
                self._answer(*todo)

    def _listen(self) -> None:
        try:
            while True:
                word, number, *more = self._orders.receive()
                if word == STOP:
                    self._stopped = number
                else:
                    self._todo.put((number, *more))
        except LostProcessError:
            self._stopped = EVERY
            self._todo.put(None)
            if self._gone is not None:
                self._gone()

    def _answer(self, number: int, piece: object, order: Order) -> None:
        try:
            reporter = _Reporter(self._sender, number, lambda: self._stopped >= number)
            result = order.run_at(self._desks.desk(piece), reporter.watch)
            self._sender.send((DONE, number, result), last=order.is_whole)
        except RiselineError as error:
            self._sender.send((REFUSED, number, error))
        except LostProcessError:
            raise
        except Exception:  # noqa: BLE001 - our own fault: it must reach the window, not die here
            self._sender.send((FAULT, number, traceback.format_exc()))


class _Reporter:
    """Sends how far the work is, and results that can be shown ahead of the rest."""

    def __init__(self, sender: Sender, number: int, stopped: Callable[[], bool]) -> None:
        self._sender, self._number = sender, number
        self._told = ("", 0.0)
        self.watch = Watch(self._tell, stopped, self._show)

    def _tell(self, stage: str, fraction: float) -> None:
        now_s = time.monotonic()
        if stage != self._told[0] or now_s >= self._told[1] + SECONDS_BETWEEN_REPORTS:
            self._told = stage, now_s
            self._sender.send((AT, self._number, stage, fraction))

    def _show(self, *results: object) -> None:
        self._sender.send((MADE, self._number, *results))


def main() -> None:
    """Serve by standard input and output, as a process of its own."""
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # whatever a library prints must not come between the answers
    if hasattr(os, "nice"):
        os.nice(NICER_BY)
    Clerk(os.fdopen(os.dup(0), "rb"), answers, gone=lambda: os._exit(0)).work()
