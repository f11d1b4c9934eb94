"""A process beside Blender that works on orders, so that the window never waits for it.

A thread is not enough: libraries that compute keep Python to themselves for seconds. Where a
process cannot be had, the work is done in the thread that asks for it.
"""

from __future__ import annotations

import contextlib
import json
import queue
import subprocess
import sys
import threading
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..core.desk import boot
from ..core.desk.desk import Desks
from ..core.desk.sending import LostProcessError, Receiver, Sender
from ..core.desk.serve import AT, DONE, FAULT, MADE, READY, REFUSED, RUN, STOP
from ..core.errors import CancelledError, LostWorkError

if TYPE_CHECKING:
    from ..core.desk.orders import Order
    from ..core.desk.read import Raw
    from ..core.watch import Watch

PACKAGE = __package__.rpartition(".")[0]

SECONDS_TO_START = 30.0
"""A cold disk and a virus scanner take their time; a process silent for longer is none."""

SECONDS_BETWEEN_LOOKS = 0.05
"""Whether the user asked to stop."""

LOST = "lost"
"""What the reading thread says when nothing will come any more."""

NO_CONSOLE = getattr(subprocess, "CREATE_NO_WINDOW", 0)


class Hand:
    """Does one order after the other, by a process that stays for the next.

    Parameters
    ----------
    beside : bool
        Whether to try for a process; without a window there is nothing that must not wait.
    """

    def __init__(self, *, beside: bool) -> None:
        self._process: _Process | None = None
        self._can_start = beside
        self._closed, self._closing = False, threading.Lock()
        self._at_work = threading.Lock()
        self._raw: Raw | None = None
        self._spare = Desks()

    def run(self, piece: object, order: Order, watch: Watch) -> Any:
        """Wait until an order is done; called in a thread.

        Parameters
        ----------
        piece : object
            What is remembered of the last order counts for the same piece only; None remembers
            nothing.
        order : Order
        watch : Watch

        Raises
        ------
        RiselineError
            What the work raises, or `LostWorkError` if the process ended.
        CancelledError
            If all of it was closed meanwhile.
        """
        with self._at_work:
            if self._closed:
                raise CancelledError
            process = self._alive() or self._started()
            if process is None:
                return order.run_at(self._spare.desk(piece), watch)
            try:
                return process.run(piece, self._with_known(order), watch)
            except LostProcessError:
                self._process = None
                raise LostWorkError(process.end()) from None

    @property
    def process_id(self) -> int | None:
        """The process that is there, if one is."""
        return self._process.id if self._process else None

    def end(self) -> None:
        """Let the process go, with all that it remembers; the next order starts another one."""
        process, self._process = self._process, None
        self._spare, self._raw = Desks(), None
        if process is not None:
            process.end()

    def close(self) -> None:
        """End for good: an order that still waits for its turn is not begun, or is lost."""
        with self._closing:
            self._closed = True
        self.end()

    def _alive(self) -> _Process | None:
        """Return the process, unless it ended while there was nothing to do: nobody misses it."""
        if self._process is not None and not self._process.is_alive:
            self.end()
        return self._process

    def _started(self) -> _Process | None:
        if self._can_start:
            try:
                process = _Process()
            except (OSError, LostProcessError):
                self._can_start = False
                return None
            with self._closing:  # else one that was just being started would be left behind
                if self._closed:
                    process.end()
                    raise CancelledError
                self._process = process
        return self._process

    def _with_known(self, order: Order) -> Order:
        """Return an order with the arrays that were sent before, if it has equal ones."""
        raw = getattr(order, "raw", None)
        if raw is None:
            return order
        if raw.equals(self._raw):
            return replace(order, raw=self._raw)
        self._raw = raw
        return order


class _Process:
    """The process and both pipes. What comes is read by a thread, so that one can wait and look."""

    def __init__(self) -> None:
        told = json.dumps([PACKAGE, str(Path(boot.__file__).parents[2]), sys.path])
        self._process = subprocess.Popen(
            [sys.executable, "-I", boot.__file__, told],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
            creationflags=NO_CONSOLE,
        )  # fmt: skip
        self._orders = Sender(self._process.stdin)
        self._answers: queue.SimpleQueue[tuple[Any, ...]] = queue.SimpleQueue()
        self._number = 0
        threading.Thread(target=self._listen, daemon=True, name="riseline answers").start()
        if not self._is_ready():
            self.end()
            raise LostProcessError

    def _is_ready(self) -> bool:
        try:
            word, *told = self._answers.get(timeout=SECONDS_TO_START)
        except queue.Empty:
            return False
        return bool(word == READY and tuple(told[0]) == sys.version_info[:2])

    @property
    def id(self) -> int:
        return self._process.pid

    @property
    def is_alive(self) -> bool:
        return self._process.poll() is None

    def run(self, piece: object, order: Order, watch: Watch) -> Any:
        self._number += 1
        self._orders.send((RUN, self._number, piece, order), last=order.is_whole)
        stage, fraction = "", 0.0
        while True:
            try:
                watch.begin(stage)
                watch.at(fraction)
            except CancelledError:  # what was begun ends by itself, and is not waited for
                self._orders.send((STOP, self._number))
                raise
            word, *told = self._answer()
            if word == AT:
                stage, fraction = told
            elif word == MADE:
                watch.made(*told)
            elif word == DONE:
                return told[0]
            elif word == REFUSED:
                raise told[0]
            elif word == FAULT:
                raise RuntimeError(told[0])

    def _answer(self) -> tuple[Any, ...]:
        """Return the next answer to the order at work, without its number; or none for a while."""
        try:
            word, *told = self._answers.get(timeout=SECONDS_BETWEEN_LOOKS)
        except queue.Empty:
            return ("",)
        if word == LOST:
            raise LostProcessError
        return (word, *told[1:]) if told[0] == self._number else ("",)

    def end(self) -> int:
        """Stop the process; return what it ended with."""
        self._process.kill()
        code = self._process.wait()
        for pipe in (self._process.stdin, self._process.stdout):
            with contextlib.suppress(OSError):  # what was left to be written to it is lost
                pipe.close()
        return code

    def _listen(self) -> None:
        receiver = Receiver(self._process.stdout)
        try:
            with contextlib.suppress(LostProcessError):
                while True:
                    self._answers.put(receiver.receive())
        finally:  # even of an answer that cannot be read: the add-on was updated meanwhile
            self._answers.put((LOST,))
