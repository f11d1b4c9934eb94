"""PLY, text and binary: tables of vertices and polygons without a unit."""

from __future__ import annotations

import struct
from typing import TYPE_CHECKING

import numpy as np

from ..errors import UnreadableFileError
from .ply_head import ADVICE, parse_head
from .ply_rows import columns_of
from .polygons import fans, strays

if TYPE_CHECKING:
    from ..arrays import Floats, Ints
    from ..geometry.mesh import Mesh

BROKEN = "Copy or export it again."
CORNER_NAMES = ("vertex_indices", "vertex_index")


def parse_ply(data: bytes, name: str) -> tuple[Floats, Ints]:
    """Return the vertices and the triangles of a PLY.

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
        If it has no faces, breaks off, or is not what its head says.
    """
    head = parse_head(data, name)
    rows = {table.name: table.rows for table in head.tables}
    if not rows.get("vertex"):
        raise UnreadableFileError(name, "there is no mesh in it", ADVICE)
    if not rows.get("face"):
        what = f"there are no faces in it, only {rows['vertex']} points"
        raise UnreadableFileError(name, what, ADVICE)
    try:
        columns = columns_of(head, data)
    except (ValueError, IndexError, OverflowError, struct.error) as error:
        what = "it breaks off, or its rows are not what its head says"
        if head.passed_over:
            what += f"; there is an unknown line in the head: {head.passed_over!r}"
        raise UnreadableFileError(name, what, BROKEN) from error
    corner_name = next((one for one in CORNER_NAMES if one in columns["face"]), None)
    if corner_name is None or not set("xyz") <= set(columns["vertex"]):
        raise UnreadableFileError(name, "its vertices or its faces are not named", ADVICE)
    vertices = np.column_stack([columns["vertex"][axis][0] for axis in "xyz"]).astype(np.float64)
    corners, counts = columns["face"][corner_name]
    if bad := strays(corners, len(vertices)):
        what = f"{bad} corners of faces name a vertex that is not there ({len(vertices)} are)"
        raise UnreadableFileError(name, what, BROKEN)
    return vertices, fans(corners.astype(np.int64), counts)


def ply_bytes(mesh: Mesh) -> bytes:
    """Return a mesh as binary PLY, every digit of it; write millimetres, it holds no unit.

    Examples
    --------
    >>> from ..geometry.mesh import Mesh
    >>> corner = Mesh([[0, 0, 0], [0.1, 0, 0], [0, 0.1, 0]], [[0, 1, 2]])
    >>> vertices, faces = parse_ply(ply_bytes(corner), "corner.ply")
    >>> vertices[1].tolist(), faces.tolist()
    ([0.1, 0.0, 0.0], [[0, 1, 2]])
    """
    head = (
        "ply\nformat binary_little_endian 1.0\ncomment millimetres\n"
        f"element vertex {len(mesh.vertices)}\n"
        "property double x\nproperty double y\nproperty double z\n"
        f"element face {len(mesh.faces)}\nproperty list uchar int vertex_indices\nend_header\n"
    )
    rows = np.zeros(len(mesh.faces), dtype=[("count", "u1"), ("corners", "<i4", 3)])
    rows["count"], rows["corners"] = 3, mesh.faces
    return head.encode("ascii") + mesh.vertices.astype("<f8").tobytes() + rows.tobytes()
