"""The parts of a job as files: what they are called, and one of them alone."""

from __future__ import annotations

import re
from pathlib import PurePath
from typing import TYPE_CHECKING

import numpy as np

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


def bed_files(parts: PartsResult) -> list[str]:
    """Return the file of each print bed, counted from 1."""
    beds = 1 + max((bed for bed, *_ in parts.bed_places_mm), default=-1)
    return [f"parts/print-bed-{bed}.3mf" for bed in range(1, beds + 1)]


def on_bed(parts: PartsResult, number: int) -> list[NamedSolid]:
    """Return the parts of one bed, counted from 0, as they lie on it; its middle is x = y = 0."""
    solids = []
    for part, (bed, x, y) in zip(parts.parts, parts.bed_places_mm, strict=True):
        if bed == number:
            matrix = np.eye(4)
            matrix[:2, 3] = x, y
            solids.append(NamedSolid(part.name, part.mesh, matrix))
    return solids


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
