"""Meshes into files, in millimetres."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from .stl import stl_bytes
from .threemf_write import NamedSolid, threemf_bytes

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ..geometry.mesh import Mesh


def write_stl(path: str | Path, mesh: Mesh) -> None:
    """Write a mesh as binary STL.

    Raises
    ------
    OSError
        As the system says; `whole_folder` turns it into a line for the user.
    """
    Path(path).write_bytes(stl_bytes(mesh))


def write_3mf(path: str | Path, solids: Sequence[NamedSolid]) -> None:
    """Write named solids as one 3MF.

    Raises
    ------
    OSError
        As the system says; `whole_folder` turns it into a line for the user.
    """
    Path(path).write_bytes(threemf_bytes(solids))
