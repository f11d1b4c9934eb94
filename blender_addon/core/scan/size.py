"""The true size of the piece from the one dimension that was measured on it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from ..errors import BadSettingError
from ..geometry.connect import welded
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
        what = f"{' and '.join(given)} are given; keep the one that was measured best."
        raise BadSettingError(given[-1], what)
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
