"""Trapped air by columns against a general library's way, on one scan and with the same pitch.

The other way is grey-scale reconstruction on a grid of cubes: each cube of air holds its height,
and from the open top the heights spread, never above a cube's own; where a cube ends up lower than
it lies, air stays. Started by `dev.py bench --air`.

References
----------
.. [1] Vincent: Morphological grayscale reconstruction in image analysis, IEEE Transactions on Image
   Processing 2, 1993; as scikit-image carries it out.
"""

from __future__ import annotations

import gc
import sys
import time
import tracemalloc
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from place import ROOT
from scipy.ndimage import generate_binary_structure
from skimage.morphology import reconstruction

from blender_addon.core.bubbles.pockets import trapped_air
from blender_addon.core.constants.bubbles import FEWEST_COLUMNS
from blender_addon.core.files.read import read
from blender_addon.core.geometry.voxels import voxels_at
from blender_addon.core.scan.stage import scan_stage
from blender_addon.core.settings import Settings, load
from blender_addon.core.units import ML_PER_MM3
from blender_addon.core.watch import Watch

if TYPE_CHECKING:
    from collections.abc import Callable

    from blender_addon.core.scan.result import ScanResult

SOLID = -1.0
"""Height of cubes in the piece: below every other."""


def main(words: list[str]) -> int:
    """Compare the two on a scan, the toadstool if none is named; return 0."""
    file = Path(words[0]) if words else ROOT / "sample_scenes" / "toadstool.ply"
    beside = file.with_suffix(".toml")
    settings = load(beside) if beside.exists() else Settings()
    scan = scan_stage(read(file), settings.scan, Watch())
    pitch_mm = settings.bubbles.pitch_mm or max(scan.size_mm) / FEWEST_COLUMNS
    print(f"{file.name}: {len(scan.mesh.faces)} triangles, pitch {pitch_mm:.3f} mm")
    rows = {
        "columns": measured(lambda: by_columns(scan, pitch_mm)),
        "reconstruction": measured(lambda: by_reconstruction(scan, pitch_mm)),
    }
    for name, (seconds, peak_mb, trapped_ml) in rows.items():
        print(f"{name:<15}{seconds:8.2f} s {trapped_ml:10.3f} ml {peak_mb:8.0f} MB at the peak")
    (ours, ours_mb, ours_ml), (theirs, theirs_mb, theirs_ml) = rows.values()
    print(
        f"{'ratio':<15}{theirs / ours:8.1f}   {theirs_ml - ours_ml:+10.3f} ml "
        f"{theirs_mb / ours_mb:8.1f}"
    )
    return 0


def measured(work: Callable[[], float]) -> tuple[float, float, float]:
    """Return seconds, megabytes at the peak (of a second run: counting takes time), the result."""
    gc.collect()
    start = time.perf_counter()
    result = work()
    seconds = time.perf_counter() - start
    gc.collect()
    tracemalloc.start()
    work()
    peak_mb = tracemalloc.get_traced_memory()[1] / 1e6
    tracemalloc.stop()
    return seconds, peak_mb, result


def by_columns(scan: ScanResult, pitch_mm: float) -> float:
    """Return the air that has a way out and stays, in ml, by our columns."""
    air = trapped_air(scan.mesh, scan.base_faces, pitch_mm)
    held = air.trapped_mm[np.isfinite(air.escapes.level_mm)]
    return float(held.sum()) * pitch_mm**2 * ML_PER_MM3


def by_reconstruction(scan: ScanResult, pitch_mm: float) -> float:
    """Return the same by reconstruction on cubes; there is air all round and over the piece."""
    low, high = scan.mesh.bounds
    nx, ny, nz = (int(count) for count in np.ceil((high - low) / pitch_mm) + 2)
    origin = low + pitch_mm * np.array([-0.5, -0.5, 0.5])
    inside = voxels_at(scan.mesh, origin, pitch_mm, (nx, ny, nz)).inside
    heights = np.where(inside, SOLID, np.arange(nz)).astype(np.float32)
    seed = np.full_like(heights, SOLID)
    seed[:, :, -1] = heights[:, :, -1]
    reached = reconstruction(seed, heights, footprint=generate_binary_structure(3, 1))
    stays = (reached > SOLID) & (reached < heights)
    return float(np.count_nonzero(stays)) * pitch_mm**3 * ML_PER_MM3


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
