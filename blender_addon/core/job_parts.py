"""The parts of a job as files: what they are called, and one of them alone."""

from __future__ import annotations

import re
from pathlib import PurePath
from typing import TYPE_CHECKING

from .errors import UnknownPartError
from .files.one_file import write_whole
from .files.stl import stl_bytes
from .files.threemf_write import NamedSolid, threemf_bytes

if TYPE_CHECKING:
    from pathlib import Path

    from .parts.result import PartsResult

UNSAFE = re.compile(r"[^\w.+-]+")


def part_stems(parts: PartsResult) -> list[str]:
    """Return each part's file without the ending: what, how many, which way up; never twice."""
    stems: list[str] = []
    for part in parts.parts:
        safe = UNSAFE.sub("-", part.name).strip("-.").lower() or part.role
        how = f"{part.quantity}x_{UNSAFE.sub('-', part.lies)}"
        stem, number = f"parts/{safe}_{how}", 2
        while stem in stems:
            stem, number = f"parts/{safe}-{number}_{how}", number + 1
        stems.append(stem)
    return stems


def write_part(path: str | Path, parts: PartsResult, name: str) -> None:
    """Write one part alone, as it lies on the printer: 3MF or STL by the file's ending.

    Parameters
    ----------
    path : str or Path
    parts : PartsResult
    name : str
        The part's.

    Raises
    ------
    UnknownPartError
        If there is no such part, or the ending is another.
    UnwritableFolderError
        If it cannot be written; nothing is left half-way.
    """
    part = next((one for one in parts.parts if one.name == name), None)
    ending = PurePath(path).suffix.lower()
    if part is None:
        known = ", ".join(one.name for one in parts.parts)
        raise UnknownPartError(f"There is no part {name!r}; there are {known}.")
    if ending not in {".3mf", ".stl"}:
        raise UnknownPartError(f"{path}: a part is written as .3mf or .stl. Change the ending.")
    solid = NamedSolid(part.name, part.mesh)
    write_whole(path, threemf_bytes([solid]) if ending == ".3mf" else stl_bytes(part.mesh))
