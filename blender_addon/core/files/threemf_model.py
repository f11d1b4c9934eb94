"""One model part of a 3MF: its objects, and what it places where."""

from __future__ import annotations

from dataclasses import dataclass
from typing import IO, TYPE_CHECKING
from xml.parsers import expat

import numpy as np

from .polygons import strays

if TYPE_CHECKING:
    from collections.abc import Callable

    from ..arrays import Floats, Ints

NOT_THE_PIECE = ("support", "solidsupport", "other")
ROOT_RELATION = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
PATH = "http://schemas.microsoft.com/3dmanufacturing/production/2015/06}path"


@dataclass(frozen=True, eq=False)
class Placed:
    """An object named by model part and number; ``matrix`` (4, 4) acts on columns."""

    path: str
    number: str
    matrix: Floats

    def under(self, matrix: Floats) -> Placed:
        """Return it placed by what places its parent."""
        return Placed(self.path, self.number, matrix @ self.matrix)


@dataclass(frozen=True, eq=False)
class Thing:
    """An object: either triangles of its own or other objects placed."""

    kind: str
    vertices: Floats
    faces: Ints
    components: tuple[Placed, ...]


@dataclass(frozen=True, eq=False)
class Model:
    """A model part."""

    unit: str
    things: dict[str, Thing]
    build: tuple[Placed, ...]


def parse_model(stream: IO[bytes], path: str) -> Model:
    """Return what a model part holds.

    Parameters
    ----------
    stream : file object
        Its XML.
    path : str
        Its name in the package, which components without a path refer to.

    Raises
    ------
    xml.parsers.expat.ExpatError, KeyError, ValueError
        If it is damaged, or brings a document type, which 3MF forbids and floods are made of.
    """
    reader = _Reader(path)
    _parse(stream, reader.start, reader.end)
    return Model(reader.unit, reader.things, tuple(reader.build))


def root_target(stream: IO[bytes]) -> str:
    """Return the name of the model part that a package's relationships begin with, or nothing."""
    found: list[str] = []

    def start(_tag: str, given: dict[str, str]) -> None:
        if given.get("Type") == ROOT_RELATION:
            found.append(given["Target"])

    _parse(stream, start, lambda _tag: None)
    return found[0] if found else ""


def _parse(
    stream: IO[bytes], start: Callable[[str, dict[str, str]], None], end: Callable[[str], None]
) -> None:
    parser = expat.ParserCreate(namespace_separator="}")
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.StartDoctypeDeclHandler = _refuse_document_type
    parser.ParseFile(stream)


def _refuse_document_type(*_declared: object) -> None:
    raise ValueError("document type")


class _Reader:
    """Collects what the parser meets."""

    def __init__(self, path: str) -> None:
        self.path, self.unit = path, "millimeter"
        self.things: dict[str, Thing] = {}
        self.build: list[Placed] = []
        self._number, self._kind = "", ""
        self._clear()

    def _clear(self) -> None:
        self._vertices: list[tuple[str, str, str]] = []
        self._faces: list[tuple[str, str, str]] = []
        self._components: list[Placed] = []

    def start(self, tag: str, given: dict[str, str]) -> None:
        """Take an element's attributes."""
        match tag.rpartition("}")[2]:
            case "vertex":
                self._vertices.append((given["x"], given["y"], given["z"]))
            case "triangle":
                self._faces.append((given["v1"], given["v2"], given["v3"]))
            case "component":
                self._components.append(_placed(given, self.path))
            case "item":
                self.build.append(_placed(given, self.path))
            case "object":
                self._number, self._kind = given["id"], given.get("type", "model")
            case "model":
                self.unit = given.get("unit", self.unit)

    def end(self, tag: str) -> None:
        """Close an object."""
        if tag.rpartition("}")[2] == "object":
            vertices = np.array(self._vertices, dtype=np.float64).reshape(-1, 3)
            faces = np.array(self._faces, dtype=np.int64).reshape(-1, 3)
            if strays(faces, len(vertices)):
                raise ValueError("a triangle names a vertex that is not there")
            thing = Thing(self._kind, vertices, faces, tuple(self._components))
            self.things[self._number] = thing
            self._clear()


def _placed(given: dict[str, str], path: str) -> Placed:
    matrix = np.eye(4)
    if words := given.get("transform"):
        # twelve numbers, row by row, of a matrix that acts on rows: 3MF Core 1.4.0, section 3.3
        matrix[:3] = np.array(words.split(), dtype=np.float64).reshape(4, 3).T
    return Placed(given.get(PATH, path), given["objectid"], matrix)
