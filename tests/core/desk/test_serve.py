"""The clerk at the other end of the pipes: what it answers when work goes wrong."""

from __future__ import annotations

import os
import sys
import threading
from dataclasses import dataclass

import pytest

from blender_addon.core.desk.sending import Receiver, Sender
from blender_addon.core.desk.serve import AT, DONE, FAULT, READY, REFUSED, RUN, STOP, Clerk
from blender_addon.core.errors import CancelledError, UnusableMeshError

LONGEST_S = 60.0
"""Far more than it takes: the machine may be busy."""


@dataclass(frozen=True)
class Errand:
    """Does what its word says."""

    word: str
    is_whole = False

    def run_at(self, desk, watch):
        watch.begin(self.word)
        if self.word == "refuse":
            raise UnusableMeshError("It has no faces.")
        if self.word == "break":
            return 1 // 0
        if self.word == "bring what cannot be sent":
            return lambda: None
        while self.word == "go on for ever":
            watch.at(0.5)
        return desk


@pytest.fixture
def office():
    """Return where orders go in and answers come out of a clerk in a thread."""
    (order_out, order_in), (answer_out, answer_in) = os.pipe(), os.pipe()
    gone = threading.Event()
    with (
        os.fdopen(order_out, "rb") as taken,
        os.fdopen(answer_in, "wb") as given,
        os.fdopen(answer_out, "rb") as heard,
    ):
        thread = threading.Thread(target=Clerk(taken, given, gone.set).work, daemon=True)
        thread.start()
        answers = Receiver(heard)
        assert answers.receive() == (READY, sys.version_info[:2])
        with os.fdopen(order_in, "wb") as orders:
            yield Sender(orders), answers
        thread.join(LONGEST_S)
        assert not thread.is_alive()
        assert gone.wait(LONGEST_S)


def _end_of(answers):
    """Return the answer that ends an order, past those of how far it is."""
    while (answer := answers.receive())[0] == AT:
        pass
    return answer


def test_a_refusal_bears_the_number_of_its_order(office):
    orders, answers = office
    orders.send((RUN, 7, None, Errand("refuse")))
    word, number, error = _end_of(answers)
    assert (word, number, str(error)) == (REFUSED, 7, "It has no faces.")


@pytest.mark.parametrize(
    ("word", "says"), [("break", "ZeroDivisionError"), ("bring what cannot be sent", "lambda")]
)
def test_a_fault_of_ours_is_told_and_the_next_order_is_done(office, word, says):
    orders, answers = office
    orders.send((RUN, 1, None, Errand(word)))
    ended, number, text = _end_of(answers)
    assert (ended, number) == (FAULT, 1)
    assert says in text
    orders.send((RUN, 2, None, Errand("fine")))
    assert _end_of(answers)[:2] == (DONE, 2)


def test_a_stop_counts_for_its_order_and_earlier_ones_only(office):
    orders, answers = office
    orders.send((RUN, 1, None, Errand("go on for ever")))
    orders.send((RUN, 2, None, Errand("go on for ever")))
    orders.send((RUN, 3, None, Errand("fine")))
    orders.send((STOP, 2))
    ends = [_end_of(answers) for _ in range(3)]
    assert [one[:2] for one in ends] == [(REFUSED, 1), (REFUSED, 2), (DONE, 3)]
    assert isinstance(ends[0][2], CancelledError)
