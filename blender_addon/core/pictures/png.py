"""Pixels as PNG (ISO/IEC 15948): true colour, eight bits, one deflated block of rows."""

from __future__ import annotations

import struct
import zlib
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    import numpy.typing as npt

SIGNATURE = b"\x89PNG\r\n\x1a\n"


def png_bytes(pixels: npt.NDArray[np.uint8]) -> bytes:
    """Return pixels (h, w, 3) as the bytes of a PNG file.

    Examples
    --------
    >>> data = png_bytes(np.zeros((2, 3, 3), dtype=np.uint8))
    >>> data[:8] == SIGNATURE, struct.unpack(">II", data[16:24])
    (True, (3, 2))
    """
    height, width, _ = pixels.shape
    rows = np.zeros((height, 1 + 3 * width), dtype=np.uint8)
    rows[:, 1:] = pixels.reshape(height, -1)
    rows[:, 4:] -= pixels.reshape(height, -1)[:, :-3]  # filter 1: less the pixel on the left
    rows[:, 0] = 1
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    chunks = ((b"IHDR", head), (b"IDAT", zlib.compress(rows.tobytes(), 6)), (b"IEND", b""))
    return SIGNATURE + b"".join(_chunk(name, data) for name, data in chunks)


def _chunk(name: bytes, data: bytes) -> bytes:
    check = zlib.crc32(name + data)
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", check)
