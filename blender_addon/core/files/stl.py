"""STL, text and binary: loose triangles without a unit."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np

from ..errors import UnreadableFileError

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from ..geometry.mesh import Mesh

HEAD_BYTES = 84
RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
TITLE = re.compile(rb"solid\b.*")  # may name the piece anything, "vertex" too
VERTEX = re.compile(rb"vertex[ \t]+(\S+)[ \t]+(\S+)[ \t]+(\S+)")


def parse_stl(data: bytes, name: str) -> tuple[Floats, Ints]:
    """Return the corners, three a triangle, and the triangles of an STL.

    The size decides between binary and text, for some programs begin a binary header with "solid".

    Parameters
    ----------
    data : bytes
        The whole file.
    name : str
        The file's name, for the error.

    Returns
    -------
    vertices : ndarray, shape (3 m, 3)
    faces : ndarray, shape (m, 3)

    Raises
    ------
    UnreadableFileError
        If the data is neither, or breaks off.
    """
    count = int.from_bytes(data[80:84], "little") if len(data) >= HEAD_BYTES else -1
    size = HEAD_BYTES + count * RECORD.itemsize
    if count >= 0 and len(data) == size:
        return _loose(_binary_corners(data, count))
    if data[:512].lstrip()[:5].lower() == b"solid" and b"\0" not in data[:HEAD_BYTES]:
        return _loose(_text_corners(data, name))
    if count > 0 and HEAD_BYTES < len(data) < size and _is_binary(data):
        have = (len(data) - HEAD_BYTES) // RECORD.itemsize
        what = f"the file breaks off: its head promises {count} triangles, {have} are there"
        raise UnreadableFileError(name, what, "Copy or export it again.")
    if count > 0 and len(data) > size and not any(data[size:]):
        return _loose(_binary_corners(data, count))  # filled up with zeros, as some storage does
    what = "the content is no STL, neither text nor binary"
    raise UnreadableFileError(name, what, "Export the scan again as STL, PLY, OBJ or 3MF.")


def stl_bytes(mesh: Mesh) -> bytes:
    """Return a mesh as binary STL; write millimetres, for the format holds no unit.

    Examples
    --------
    >>> from ..geometry.mesh import Mesh
    >>> len(stl_bytes(Mesh([[0, 0, 0], [1, 0, 0], [0, 1, 0]], [[0, 1, 2]])))
    134
    """
    records = np.zeros(len(mesh.faces), dtype=RECORD)
    corners = mesh.corners
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    records["normal"] = np.divide(normals, lengths, out=np.zeros_like(normals), where=lengths > 0)
    records["corners"] = corners
    head = b"binary STL in millimetres".ljust(80, b" ")
    return head + len(records).to_bytes(4, "little") + records.tobytes()


def _is_binary(data: bytes) -> bool:
    return any(byte < 9 or byte > 126 for byte in data[:4096])


def _binary_corners(data: bytes, count: int) -> Floats:
    records = np.frombuffer(data, dtype=RECORD, count=count, offset=HEAD_BYTES)
    corners: Floats = records["corners"].reshape(-1, 3).astype(np.float64)
    return corners


def _text_corners(data: bytes, name: str) -> Floats:
    ended = b"endsolid" in data[-4096:].lower()
    text = TITLE.sub(b"", data.replace(b"\r", b"\n").lower())
    facets, told = text.count(b"endfacet"), text.count(b"vertex")
    found = VERTEX.findall(text)
    if not ended or not told == len(found) == 3 * facets:
        what = f"the text STL breaks off or is damaged: {facets} facets, {len(found)} good vertices"
        what += "" if ended else ", no endsolid"
        raise UnreadableFileError(name, what, "Copy or export it again.")
    if not facets:
        raise UnreadableFileError(name, "the text STL holds no triangles", "Export the scan again.")
    try:
        numbers = np.fromiter((float(word) for row in found for word in row), np.float64)
    except ValueError as error:
        what = f"the text STL has a vertex that is no number ({error})"
        raise UnreadableFileError(name, what, "Export it again.") from error
    return numbers.reshape(-1, 3)


def _loose(corners: Floats) -> tuple[Floats, Ints]:
    return corners, np.arange(len(corners), dtype=np.int64).reshape(-1, 3)
