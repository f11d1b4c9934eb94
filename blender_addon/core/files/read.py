"""A scan from a file: what kind it is, its mesh, and what is wrong with it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from ..constants.files import FARTHEST_COORDINATE, LARGEST_FILE_BYTES
from ..errors import UnreadableFileError, UnusableMeshError
from ..geometry.mesh import Mesh
from .obj import parse_obj
from .ply import parse_ply
from .polygons import welded
from .stl import parse_stl
from .threemf import parse_3mf

if TYPE_CHECKING:
    from ..arrays import Floats

PARSERS = {".stl": parse_stl, ".ply": parse_ply, ".obj": parse_obj, ".3mf": parse_3mf}
KNOWN = "Riseline reads STL, PLY, OBJ and 3MF."


def read(path: str | Path) -> Mesh:
    """Return the mesh of a scan.

    Corners in exactly the same place become one vertex; triangles that then have no area by naming
    a vertex twice are dropped; polygons become triangles. A 3MF is brought to mm; the other formats
    hold no unit, and their numbers are taken as they are.

    Parameters
    ----------
    path : str or Path
        STL (text or binary), PLY, OBJ or 3MF; the ending decides, in any case.

    Returns
    -------
    Mesh

    Raises
    ------
    UnreadableFileError
        If there is no such file, or no mesh can be read from it.
    UnusableMeshError
        If coordinates are not finite numbers, or no triangle has three different corners.
    """
    path = Path(path)
    name = str(path)
    kind = path.suffix.lower()
    try:
        data = _bytes(path, name)
    except OSError as error:
        what = f"it cannot be opened ({error.strerror or error})"
        raise UnreadableFileError(name, what, "Look at the name and at who may read it.") from error
    if kind not in PARSERS:
        what = f"files ending in {kind!r} are unknown" if kind else "the file's name has no ending"
        raise UnreadableFileError(name, what, KNOWN)
    if (told := _told_kind(data)) not in ("", kind) and not _fits_binary_stl(kind, data):
        what = f"the content is {told[1:].upper()}, not {kind[1:].upper()}"
        raise UnreadableFileError(name, what, f"Rename it to end in {told}.")
    vertices, faces = PARSERS[kind](data, name)
    _refuse_wild(vertices, name)
    vertices, faces = welded(vertices, faces)
    if not len(faces):
        raise UnusableMeshError(f"{name}: no triangle in it has three corners. Export it again.")
    return Mesh(vertices, faces)


def _bytes(path: Path, name: str) -> bytes:
    if path.is_dir():
        raise UnreadableFileError(name, "this is a folder, not a file", "Name the scan's file.")
    if not path.exists():
        raise UnreadableFileError(name, "there is no such file", "Look at the name again.")
    if not path.is_file():
        raise UnreadableFileError(name, "this is no plain file", KNOWN)
    size = path.stat().st_size
    if size > LARGEST_FILE_BYTES:
        what = f"the file is too large ({size / 1e9:.1f} GB)"
        raise UnreadableFileError(name, what, "Export the scan with fewer triangles.")
    if size == 0:
        raise UnreadableFileError(name, "the file is empty", "Copy or export it again.")
    return path.read_bytes().removeprefix(b"\xef\xbb\xbf")


def _told_kind(data: bytes) -> str:
    """Return the ending that goes with the first bytes, if they are sure signs."""
    if data[:4] == b"PK\x03\x04":
        return ".3mf"
    return ".ply" if data[:4] in (b"ply\n", b"ply\r") else ""


def _fits_binary_stl(kind: str, data: bytes) -> bool:
    """Return whether the file is binary STL to the byte, whatever its free head begins with."""
    return kind == ".stl" and len(data) == 84 + 50 * int.from_bytes(data[80:84], "little")


def _refuse_wild(vertices: Floats, name: str) -> None:
    bad = int(np.count_nonzero(~(np.abs(vertices) < FARTHEST_COORDINATE).all(axis=1)))
    if bad:
        what = f"{bad} of {len(vertices)} vertices have no finite position"
        raise UnusableMeshError(f"{name}: {what}. Export the scan again.")
