"""The user's own lists: text files in Blender's folder for them, which an upgrade leaves alone."""

from __future__ import annotations

from pathlib import Path

import bpy

from ..core.files.whole import write_whole

PACKAGE = __package__.rpartition(".")[0]
"""The add-on's name in Blender: `bl_ext....riseline` as an extension, else that of its folder."""

OWN_FOLDER = "riseline"

TUBES = "tubes.csv"
MATERIALS = "materials.toml"
POTS = "pots.toml"


def folder() -> Path:
    """Return the folder of the user's lists; it need not be there."""
    if PACKAGE.startswith("bl_ext."):
        return Path(bpy.utils.extension_path_user(PACKAGE))
    return Path(bpy.utils.user_resource("CONFIG", path=OWN_FOLDER))


def path_of(name: str) -> Path:
    """Return where a list is kept."""
    return folder() / name


def write(name: str, text: str) -> None:
    """Keep a list, whole or not at all.

    Raises
    ------
    UnwritableFileError
        If the system refuses.
    """
    write_whole(path_of(name), text.encode("utf-8"))


def forget(name: str) -> None:
    """Keep a list no longer; one that was not kept is no matter."""
    path_of(name).unlink(missing_ok=True)
