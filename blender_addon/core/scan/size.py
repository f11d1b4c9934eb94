"""The true size of the piece from the one dimension that was measured on it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..constants.common import UNITS_MM
from ..constants.scan import DOUBTED_MASTER_MM, SMALLEST_MASTER_MM, TALLEST_MASTER_MM
from ..errors import BadSettingError, UnusableMeshError
from ..geometry.connect import welded
from ..sentences import a_length
from .specks import without_specks
from .upright import find_up, turn_to

if TYPE_CHECKING:
    from ..arrays import Floats
    from ..geometry.mesh import Mesh
    from .settings import ScanSettings

MEASURED = ("width_mm", "depth_mm", "height_mm")
"""The settings that tell the size along x, y and z of the upright piece."""


def true_scale(size_mm: Floats, settings: ScanSettings) -> float:
    """Return by what to multiply an upright scan, so that it has its true size.

    Parameters
    ----------
    size_mm : ndarray, shape (3,)
        Of the upright scan, in its own unit.
    settings : ScanSettings
        One of height, width and depth, or none: then the scale counts, 1 for a scan in mm.

    Raises
    ------
    BadSettingError
        If more than one is given: they seldom agree, and one must go first.

    Examples
    --------
    >>> from blender_addon.core.scan.settings import ScanSettings
    >>> true_scale(np.array([40.0, 50.0, 60.0]), ScanSettings(width_mm=20.0))
    0.5
    >>> true_scale(np.array([4.0, 5.0, 6.0]), ScanSettings(scale=25.4))
    25.4
    """
    given = [name for name in MEASURED if getattr(settings, name) > 0.0]
    if len(given) > 1:
        keys = [f"scan.{name}" for name in given]
        what = f"{' and '.join(keys)} are given; keep the one that was measured best."
        raise BadSettingError(keys[-1], what)
    if not given:
        return settings.scale
    along_mm = float(size_mm[MEASURED.index(given[0])])
    return float(getattr(settings, given[0])) / along_mm if along_mm > 0.0 else 1.0


def upright_size_mm(mesh: Mesh, settings: ScanSettings) -> tuple[Floats, str]:
    """Return the size (3,) of a scan once it stands upright, in its own unit, and its axis up.

    Parameters
    ----------
    mesh : Mesh
        As scanned; its dust does not count.
    settings : ScanSettings
        Which way is up, and what is dust.

    Raises
    ------
    UnusableMeshError
        If it is flat.

    Examples
    --------
    >>> from blender_addon.core.geometry.mesh import Mesh
    >>> from blender_addon.core.scan.settings import ScanSettings
    >>> roof = Mesh([[0, 0, 0], [4, 0, 0], [0, 2, 0], [0, 0, 1]], [[0, 2, 1], [0, 1, 3], [0, 3, 2]])
    >>> upright_size_mm(roof, ScanSettings(up="+x"))[0].tolist()
    [1.0, 2.0, 4.0]
    """
    clean, _ = welded(mesh)
    whole, _ = without_specks(clean, settings.speck_percent)
    piece = whole.mesh
    found = find_up(piece, settings.up)
    size_mm: Floats = np.ptp(piece.vertices @ turn_to(found).T, axis=0)
    return size_mm, found.axis


def refuse_size(size_mm: Floats, scale: float, settings: ScanSettings) -> None:
    """Raise where no piece that is poured has such a size, and say what would make sense of it.

    Parameters
    ----------
    size_mm : ndarray, shape (3,)
        Of the upright scan, in its own unit.
    scale : float
        Of `true_scale`.
    settings : ScanSettings
        A dimension that is given may be wrong, or across the wrong axis; if none is, the unit is.

    Raises
    ------
    UnusableMeshError
    """
    largest, tall = float(np.max(size_mm)), float(size_mm[2])
    if SMALLEST_MASTER_MM <= largest * scale <= TALLEST_MASTER_MM:
        return
    digits = ".0f" if largest * scale > TALLEST_MASTER_MM else ".3g"
    message = (
        f"The piece would be {a_length(tall * scale, digits)} tall and"
        f" {a_length(largest * scale, digits)} at its largest, which is not between"
        f" {a_length(SMALLEST_MASTER_MM, 'g')} and {a_length(TALLEST_MASTER_MM, 'g')}."
    )
    if any(getattr(settings, name) for name in MEASURED):
        raise UnusableMeshError(f"{message} Look at the dimension that was given, and what is up.")
    likely = [
        f"in {unit} it would be {a_length(tall * mm)} tall"
        for unit, mm in UNITS_MM.items()
        if DOUBTED_MASTER_MM <= largest * mm <= TALLEST_MASTER_MM
    ]
    help_text = "Give its true height, width or depth, or the unit of its numbers"
    raise UnusableMeshError(f"{message} {help_text}{': ' if likely else ''}{', '.join(likely)}.")
