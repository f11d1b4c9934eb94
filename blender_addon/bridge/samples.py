"""The sample pieces: in the folder of an installed add-on, or in the project's own."""

from __future__ import annotations

from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent
FOLDERS = (PACKAGE / "samples", PACKAGE.parent / "sample_scenes")

SAMPLES = {
    "toadstool.ply": ("Toadstool House", "Garden ornament with a wide brim that traps air"),
    "watering_can.stl": ("Watering Can", "Garden ornament with a handle to reach through"),
    "hedgehog.ply": ("Hedgehog", "Garden ornament scanned in inches, sized by its height"),
}
"""Each with its label and its tool-tip."""


def sample_file(name: str) -> Path:
    """Return the file of a sample; its settings lie beside it.

    Where there is none, the path is of the file that is missing, for the reader to name.
    """
    files = [folder / name for folder in FOLDERS]
    return next((one for one in files if one.is_file()), files[0])
