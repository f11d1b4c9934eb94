"""3MF: a zip of objects with a unit, placed on a build plate."""

from __future__ import annotations

import io
import zipfile
import zlib
from typing import TYPE_CHECKING
from xml.parsers import expat

import numpy as np

from ..constants.files import LARGEST_FILE_BYTES, MM_PER_FILE_UNIT, MOST_INSTANCES
from ..errors import RiselineError, UnreadableFileError
from .threemf_model import NOT_THE_PIECE, Model, Thing, parse_model, root_target

if TYPE_CHECKING:
    from ..arrays import Floats, Ints

RELATIONS = "_rels/.rels"
USUAL_PATH = "/3D/3dmodel.model"
DAMAGED = (expat.ExpatError, zipfile.BadZipFile, zlib.error, EOFError, RuntimeError,
           KeyError, ValueError, NotImplementedError)  # fmt: skip


def parse_3mf(data: bytes, name: str) -> tuple[Floats, Ints]:
    """Return all that a 3MF builds as one mesh, in mm.

    Supports are left out. Parts of the package that hold nothing of the build are not opened.

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
        If it is damaged, builds nothing, or would fill the memory.

    References
    ----------
    .. [1] 3MF Core Specification 1.4.0, 2025, sections 3 and 4; Production Extension, for ``path``.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as package:
            if sum(entry.file_size for entry in package.infolist()) > LARGEST_FILE_BYTES:
                what = "it would unpack to more than memory holds"
                raise UnreadableFileError(name, what, "Export the scan with fewer triangles.")
            return _built(_Package(package), name)
    except RiselineError:
        raise
    except DAMAGED as error:
        what = f"the 3MF is damaged ({type(error).__name__}: {error})"
        raise UnreadableFileError(name, what, "Copy or export it again.") from error


class _Package:
    """Opens each model part once, by its name without the leading slash and in any case."""

    def __init__(self, package: zipfile.ZipFile) -> None:
        self._package = package
        self._names = {entry.lower(): entry for entry in package.namelist()}
        self._models: dict[str, Model] = {}

    def model(self, path: str) -> Model:
        key = path.strip("/").lower()
        if key not in self._models:
            with self._package.open(self._names[key]) as stream:
                self._models[key] = parse_model(stream, path)
        return self._models[key]

    def root_path(self) -> str:
        """Return the model part to begin with, as the package's relationships name it."""
        if RELATIONS not in self._names:
            return USUAL_PATH
        with self._package.open(self._names[RELATIONS]) as stream:
            return root_target(stream) or USUAL_PATH


def _built(package: _Package, name: str) -> tuple[Floats, Ints]:
    path = package.root_path()
    root = package.model(path)
    if root.unit not in MM_PER_FILE_UNIT:
        what = f"its unit {root.unit[:40]!r} is unknown"
        raise UnreadableFileError(name, what, f"Known are {', '.join(MM_PER_FILE_UNIT)}.")
    found, waiting, visits, budget = [], list(root.build), 0, LARGEST_FILE_BYTES
    while waiting:
        place = waiting.pop()
        thing = package.model(place.path).things[place.number]
        visits += 1
        budget -= thing.vertices.nbytes + thing.faces.nbytes
        if budget < 0 or visits + len(thing.components) + len(waiting) > MOST_INSTANCES:
            what = "it places too many copies of its objects"
            raise UnreadableFileError(name, what, "Export one piece, as plain triangles.")
        if thing.kind not in NOT_THE_PIECE:
            found.append(_moved(thing, place.matrix))
            waiting += [one.under(place.matrix) for one in thing.components]
    vertices, faces = _together(found)
    if not len(faces):
        raise UnreadableFileError(name, "nothing is on its build plate", "Export the scan again.")
    return vertices * MM_PER_FILE_UNIT[root.unit], faces


def _moved(thing: Thing, matrix: Floats) -> tuple[Floats, Ints]:
    with np.errstate(invalid="ignore", over="ignore"):  # the reader counts what is not finite
        vertices = thing.vertices @ matrix[:3, :3].T + matrix[:3, 3]
        mirrored = np.linalg.det(matrix[:3, :3]) < 0
    return vertices, thing.faces[:, ::-1] if mirrored else thing.faces


def _together(found: list[tuple[Floats, Ints]]) -> tuple[Floats, Ints]:
    vertices, faces, count = [np.zeros((0, 3))], [np.zeros((0, 3), np.int64)], 0
    for points, triangles in found:
        vertices.append(points)
        faces.append(triangles + count)
        count += len(points)
    return np.vstack(vertices), np.vstack(faces)
