"""OBJ: a text of vertices and polygons without a unit; all but their positions is left aside."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np

from ..errors import UnreadableFileError
from .polygons import fans, strays

if TYPE_CHECKING:
    from ..arrays import Floats, Ints

ADVICE = "Export the scan again as a triangle mesh."
TEXTURE = re.compile(rb"/\S*")


def parse_obj(data: bytes, name: str) -> tuple[Floats, Ints]:
    """Return the vertices and the triangles of an OBJ, all objects of it together.

    Parameters
    ----------
    data : bytes
        The whole file.
    name : str
        The file's name, for the error.

    Returns
    -------
    vertices : ndarray, shape (n, 3)
    faces : ndarray, shape (m, 3)

    Raises
    ------
    UnreadableFileError
        If there are no faces, or a line is not what it should be.
    """
    text = data.replace(b"\r\n", b"\n").replace(b"\r", b"\n").replace(b"\\\n", b" ")
    lines = [line.lstrip() for line in text.split(b"\n")]
    at = [line[:2] in (b"v ", b"v\t") for line in lines]
    polygons = [k for k, line in enumerate(lines) if line[:2] in (b"f ", b"f\t")]
    if not polygons or not any(at):
        what = f"there are no faces in it, only {sum(at)} points" if any(at) else "no mesh is in it"
        raise UnreadableFileError(name, what, ADVICE)
    vertices = _vertices([line for line, here in zip(lines, at, strict=True) if here], name)
    bare = TEXTURE.sub(b"", b"\n".join(lines[k] for k in polygons))
    rows = [line.split(b"#", 1)[0].split()[1:] for line in bare.split(b"\n")]
    counts = np.array([len(row) for row in rows], dtype=np.int64)
    try:
        flat = np.fromiter((int(word) for row in rows for word in row), np.int64)
    except (ValueError, OverflowError) as error:
        what = f"a face names a corner that is no number ({error})"
        raise UnreadableFileError(name, what, ADVICE) from error
    before = np.repeat(np.cumsum(at)[polygons], counts)  # a negative number counts back from here
    corners = np.where(flat < 0, before + flat, flat - 1)
    if bad := strays(corners, len(vertices)):
        what = f"{bad} corners of faces name a vertex that is not there ({len(vertices)} are)"
        raise UnreadableFileError(name, what, "The file is damaged: copy or export it again.")
    return vertices, fans(corners, counts)


def _vertices(lines: list[bytes], name: str) -> Floats:
    rows = [line.split(b"#", 1)[0].split()[1:4] for line in lines]  # colours may follow
    try:
        numbers = np.fromiter((float(word) for row in rows for word in row), np.float64)
    except ValueError as error:
        what = f"a vertex is no number ({error})"
        raise UnreadableFileError(name, what, ADVICE) from error
    if any(len(row) != 3 for row in rows):
        raise UnreadableFileError(name, "its vertices are not three numbers each", ADVICE)
    return numbers.reshape(-1, 3)
