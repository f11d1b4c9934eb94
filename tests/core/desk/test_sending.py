"""Objects by a pipe: each large array once, the same array again while both ends remember it."""

from __future__ import annotations

import io

import numpy as np
import pytest

from blender_addon.core.desk.sending import LARGE_BYTES, LostProcessError, Receiver, Sender
from blender_addon.core.errors import BadSettingError, UnreadableFileError

LARGE = LARGE_BYTES // 8


class Pipe(io.BytesIO):
    """Reads from the start what was written to the end."""

    def __init__(self):
        super().__init__()
        self._read = 0

    def readinto(self, buffer):
        end = self.tell()
        self.seek(self._read)
        count = super().readinto(buffer)
        self._read = self.tell()
        self.seek(end)
        return count


@pytest.fixture
def ends():
    pipe = Pipe()
    return Sender(pipe), Receiver(pipe), pipe


def _through(ends, thing, **more):
    sender, receiver, pipe = ends
    before = len(pipe.getvalue())
    sender.send(thing, **more)
    return receiver.receive(), len(pipe.getvalue()) - before


@pytest.mark.parametrize(
    "array",
    [
        np.arange(LARGE, dtype=np.float64).reshape(-1, 2),
        np.arange(2 * LARGE, dtype=np.float64).reshape(2, -1).T,
        np.arange(4 * LARGE)[::2],
        np.zeros((8 * LARGE, 0)),
        np.ones(LARGE_BYTES, dtype=bool),
        np.arange(2 * LARGE, dtype=">i4"),
        np.zeros(LARGE, dtype=[("a", "f4"), ("b", "i4")]),
        np.array(3.5),
    ],
    ids=["rows", "columns", "every second", "nothing", "bools", "big end", "records", "number"],
)
def test_an_array_of_any_kind_comes_through(ends, array):
    found, _ = _through(ends, [array])
    np.testing.assert_array_equal(found[0], array)
    assert found[0].dtype == array.dtype


def test_a_large_array_is_sent_once_and_comes_as_the_same(ends):
    array = np.arange(10 * LARGE, dtype=np.float64)
    first, long = _through(ends, [array], last=True)
    again, short = _through(ends, {"it": array}, last=True)
    assert again["it"] is first[0]
    assert long > array.nbytes
    assert short < 200
    assert not first[0].flags.writeable


def test_what_the_last_message_of_a_run_did_not_name_is_forgotten_at_both_ends(ends):
    array, other = np.ones(10 * LARGE), np.zeros(10 * LARGE)
    first, _ = _through(ends, array, last=True)
    early, _ = _through(ends, other)
    assert _through(ends, array)[0] is first  # an early message forgets nothing
    assert _through(ends, other, last=True)[0] is early
    again, length = _through(ends, array)
    assert again is not first
    assert length > array.nbytes
    np.testing.assert_array_equal(again, array)


def test_a_new_array_where_an_old_one_lay_is_not_taken_for_it(ends):
    for number in range(20):  # a freed array's place in memory is soon used again
        found, _ = _through(ends, np.full(LARGE, float(number)), last=True)
        assert found[0] == number


@pytest.mark.parametrize("length", [0, 7, 100])
def test_a_pipe_that_ends_in_a_message_says_so(length):
    pipe = Pipe()
    Sender(pipe).send(np.ones(LARGE))
    cut = Pipe()
    cut.write(pipe.getvalue()[:length])
    with pytest.raises(LostProcessError):
        Receiver(cut).receive()


def test_writing_to_who_is_gone_says_so():
    pipe = io.BytesIO()
    pipe.close()
    with pytest.raises(LostProcessError):
        Sender(pipe).send("anything")


@pytest.mark.parametrize(
    "error",
    [BadSettingError("case.kind", "unknown."), UnreadableFileError("a.ply", "it is empty", "Go.")],
)
def test_errors_come_through_as_they_were_raised(ends, error):
    found, _ = _through(ends, error)
    assert (type(found), str(found), found.__dict__) == (type(error), str(error), error.__dict__)
