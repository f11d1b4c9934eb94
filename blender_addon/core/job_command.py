"""What was set in a window, as files for the command line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .files.folder import whole_folder
from .files.ply import ply_bytes
from .geometry.connect import chosen_faces
from .settings import as_toml

if TYPE_CHECKING:
    from pathlib import Path

    from .cut.marks import Marks
    from .geometry.mesh import Mesh
    from .settings import Settings

SCAN_FILE, MARKS_FILE, SETTINGS_FILE = "scan.ply", "no_cut_here.ply", "settings.toml"
COMMAND_FILE = "command.txt"


def write_command_files(mesh: Mesh, marks: Marks, settings: Settings, folder: str | Path) -> None:
    """Write scan, marks and settings, with the line that lays out the same mold from them.

    Parameters
    ----------
    mesh : Mesh
        The scan as it was read, in mm.
    marks : Marks
        On its faces.
    settings : Settings
    folder : str or Path
        New, empty, or from an earlier time; written whole or not at all.

    Raises
    ------
    UnwritableFolderError
        If it holds anything that is not ours, or cannot be written.
    """
    words = ["layout", SCAN_FILE, "--settings", SETTINGS_FILE]
    with whole_folder(folder, _own_files) as fresh:
        (fresh / SCAN_FILE).write_bytes(ply_bytes(mesh))
        if marks.faces.any():
            (fresh / MARKS_FILE).write_bytes(ply_bytes(chosen_faces(mesh, marks.faces)))
            words += ["--no-cut-here", MARKS_FILE]
        (fresh / SETTINGS_FILE).write_text(as_toml(settings), encoding="utf-8")
        line = " ".join([*words, "--out", "job"])
        (fresh / COMMAND_FILE).write_text(f"blender -c riseline {line}\n", encoding="utf-8")


def _own_files(folder: Path) -> frozenset[str]:
    """Return what an earlier time wrote; a folder without its command is none of ours."""
    if not (folder / COMMAND_FILE).is_file():
        return frozenset()
    return frozenset((SCAN_FILE, MARKS_FILE, SETTINGS_FILE, COMMAND_FILE))
