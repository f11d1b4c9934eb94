"""Objects from one process to another by a pipe: large arrays as they lie in memory, and once only.

Both ends remember the arrays of the last message that was the end of a run: what comes again is
named by its number. So a changed setting of a large scan does not bring the scan over again.
"""

from __future__ import annotations

import io
import pickle
import struct
from typing import IO, TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping

    import numpy.typing as npt

LARGE_BYTES = 1 << 14
"""Smaller arrays go with the rest: to name one costs about as much as to send it."""

CHUNK_BYTES = 1 << 20
"""Read at a time: the window's thread gets its turn in between."""

HEAD = struct.Struct("<QQ")
"""How long the objects are, and how many arrays follow, each after its length."""

LENGTH = struct.Struct("<Q")


class LostProcessError(Exception):
    """The other end of the pipe is gone."""


class Sender:
    """The end of a pipe that objects go into.

    Examples
    --------
    >>> pipe = io.BytesIO()
    >>> large = np.arange(10_000)
    >>> Sender(pipe).send({"rubber": large, "again": large}, last=True)
    >>> _ = pipe.seek(0)
    >>> found = Receiver(pipe).receive()
    >>> found["rubber"] is found["again"], bool((found["rubber"] == large).all())
    (True, True)
    """

    def __init__(self, stream: IO[bytes]) -> None:
        self._stream = stream
        self._known: dict[int, tuple[int, npt.NDArray[Any]]] = {}
        self._count = 0

    def send(self, thing: object, *, last: bool = False) -> None:
        """Send an object.

        Parameters
        ----------
        thing : object
            What pickle can take.
        last : bool, optional
            Whether arrays that are not in it are forgotten at both ends.

        Raises
        ------
        LostProcessError
            If nobody reads any more.
        """
        packer = _Packer(self._known, self._count)
        text = packer.packed((last, thing))
        self._count += len(packer.fresh)
        self._known = packer.used if last else self._known | packer.used
        try:
            self._stream.write(HEAD.pack(len(text), len(packer.fresh)) + text)
            for array in packer.fresh:
                data = memoryview(array.reshape(-1).view(np.uint8))
                self._stream.write(LENGTH.pack(len(data)))
                self._stream.write(data)
            self._stream.flush()
        except (OSError, ValueError) as error:
            raise LostProcessError from error


class _Packer(pickle.Pickler):
    """Puts a number in place of each large array."""

    def __init__(self, known: Mapping[int, tuple[int, npt.NDArray[Any]]], count: int) -> None:
        self._text = io.BytesIO()
        super().__init__(self._text, protocol=5)
        self._known, self._count = known, count
        self.used: dict[int, tuple[int, npt.NDArray[Any]]] = {}
        self.fresh: list[npt.NDArray[Any]] = []

    def packed(self, thing: object) -> bytes:
        self.dump(thing)
        return self._text.getvalue()

    def persistent_id(self, obj: object) -> object:
        """Return what names a large array, or None for anything else."""
        if type(obj) is not np.ndarray or obj.nbytes < LARGE_BYTES or obj.dtype.hasobject:
            return None
        if obj.dtype.names is not None or not obj.flags.c_contiguous:
            return None
        if id(obj) not in self.used:
            found = self._known.get(id(obj))
            if found is None:
                found = self._count + len(self.fresh), obj
                self.fresh.append(obj)
            self.used[id(obj)] = found
        return self.used[id(obj)][0], obj.dtype.str, obj.shape


class Receiver:
    """The end of a pipe that objects come out of."""

    def __init__(self, stream: IO[bytes]) -> None:
        self._stream = stream
        self._known: dict[int, npt.NDArray[Any]] = {}

    def receive(self) -> Any:
        """Wait for an object and return it; its large arrays are locked.

        Raises
        ------
        LostProcessError
            If the other end is gone.
        """
        length, count = HEAD.unpack(self._exactly(HEAD.size))
        text = self._exactly(length)
        arrays = [self._exactly(LENGTH.unpack(self._exactly(LENGTH.size))[0]) for _ in range(count)]
        unpacker = _Unpacker(bytes(text), self._known, arrays)
        last, thing = unpacker.load()
        self._known = unpacker.used if last else self._known | unpacker.used
        return thing

    def _exactly(self, length: int) -> bytearray:
        data = bytearray(length)
        left = memoryview(data)
        while left:
            try:
                # every binary stream has it, but the class that types them names it nowhere
                count = self._stream.readinto(left[:CHUNK_BYTES])  # type: ignore[attr-defined]
            except (OSError, ValueError) as error:
                raise LostProcessError from error
            if not count:
                raise LostProcessError
            left = left[count:]
        return data


class _Unpacker(pickle.Unpickler):
    """Puts large arrays back in place of their numbers."""

    def __init__(
        self, text: bytes, known: Mapping[int, npt.NDArray[Any]], fresh: list[bytearray]
    ) -> None:
        super().__init__(io.BytesIO(text))
        self._known, self._fresh = known, iter(fresh)
        self.used: dict[int, npt.NDArray[Any]] = {}

    def persistent_load(self, pid: Any) -> npt.NDArray[Any]:
        """Return the array of a number; the new ones come in the order in which they are named."""
        number, kind, shape = pid
        if number not in self.used:
            array = self._known.get(number)
            if array is None:
                data = memoryview(next(self._fresh)).toreadonly()
                array = np.frombuffer(data, dtype=np.dtype(kind)).reshape(shape)
            self.used[number] = array
        return self.used[number]
