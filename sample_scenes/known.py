"""What is known of a sample without the add-on: by counting, or from general libraries."""

from __future__ import annotations

import numpy as np
import scanner
import trimesh
from scipy.ndimage import generate_binary_structure
from skimage.measure import marching_cubes
from skimage.morphology import reconstruction

FINE_MM = 0.8
AIR_CELL_MM = np.array([1.0, 1.0, 0.5])


def known_numbers(sample) -> dict[str, dict]:
    """Return each number with its tolerance (in its own unit) and how it was found."""
    clean = clean_solid(sample)
    counted_ml, footprint_cm2 = counted(sample)
    volume_ml = clean.volume * 1e-3
    if not clean.is_watertight or abs(volume_ml / counted_ml - 1) > 0.004:
        raise SystemExit(f"{sample.file}: the two ways to find the volume differ")
    if (holes := (2 - clean.euler_number) // 2) != sample.through_holes:
        raise SystemExit(f"{sample.file}: {holes} through-holes, modelled {sample.through_holes}")
    fine = f"of the noiseless shape, contoured at {FINE_MM} mm (scikit-image) and closed at z = 0"
    sizes = np.round(clean.extents, 1).tolist()
    trapped_ml = trapped(sample)
    return {
        "size_mm": {
            "value": sizes, "tolerance": round(0.6 * sample.pitch_mm, 1),
            "how": f"box (trimesh) {fine}; the coarser scan rounds tips off",
        },
        "volume_ml": {
            "value": round(volume_ml, 1), "tolerance": round(volume_ml * 0.01, 1),
            "how": f"trimesh volume {fine}; cells counted in the field: {counted_ml:.1f}",
        },
        "area_cm2": {
            "value": round(clean.area * 1e-2, 1), "tolerance": round(clean.area * 3e-4, 1),
            "how": f"trimesh area {fine}, the base with it",
        },
        "footprint_cm2": {
            "value": round(footprint_cm2, 1), "tolerance": round(footprint_cm2 * 0.02, 1),
            "how": f"cells of {FINE_MM} mm inside the field at z = 0, counted",
        },
        "through_holes": {
            "value": sample.through_holes, "tolerance": 0,
            "how": "modelled so; the Euler number by trimesh agrees",
        },
        "specks": {"value": sample.specks, "tolerance": 0, "how": "put there"},
        "missed_spots": {"value": 1, "tolerance": 0, "how": "cut there"},
        "trapped_ml": {
            "value": round(trapped_ml, 1), "tolerance": round(0.06 * trapped_ml + 1.5, 1),
            "how": "cells of 1 x 1 x 0.5 mm outside the field whose best way out, by grey "
            "reconstruction (scikit-image), leads below themselves",
        },
    }  # fmt: skip


def clean_solid(sample) -> trimesh.Trimesh:
    """Return the noiseless shape, finely contoured and closed at z = 0."""
    values = scanner.grid_values(sample.field, sample.low, sample.high, FINE_MM)
    values = np.concatenate([np.full_like(values[:, :, :1], 1e3), values], axis=2)
    vertices, faces, _, _ = marching_cubes(
        values, 0.0, spacing=(FINE_MM,) * 3, gradient_direction="descent"
    )
    vertices[:, 2] = np.maximum(vertices[:, 2] - FINE_MM, 0.0)
    return trimesh.Trimesh(vertices + np.asarray(sample.low, float), faces, process=False)


def counted(sample) -> tuple[float, float]:
    """Return the volume in ml and the base's area in cm2 by counting cells inside the field."""
    low = np.asarray(sample.low, float)
    inside = scanner.grid_values(sample.field, low + FINE_MM / 2, sample.high, FINE_MM) < 0
    base = scanner.grid_values(sample.field, low, [*sample.high[:2], low[2]], FINE_MM)[:, :, 0] < 0
    return inside.sum() * FINE_MM**3 * 1e-3, base.sum() * FINE_MM**2 * 1e-2


def trapped(sample) -> float:
    """Return the air in ml that rising rubber cannot drive out.

    A cell's way out leads through its neighbours to the top; the lowest cell on the best way is its
    escape level. Air above its own escape level is shut in once the rubber stands there.
    """
    low, high = np.asarray(sample.low, float) - [4, 4, 0], np.asarray(sample.high, float) + 4
    counts = np.ceil((high - low) / AIR_CELL_MM).astype(int)
    axes = [a + (np.arange(n) + 0.5) * c for a, n, c in zip(low, counts, AIR_CELL_MM, strict=True)]
    air = np.zeros(counts, dtype=bool)
    for number, x in enumerate(axes[0]):
        y, z = np.meshgrid(axes[1], axes[2], indexing="ij")
        at = np.column_stack([np.full(y.size, x), y.ravel(), z.ravel()])
        air[number] = sample.field(at).reshape(y.shape) > 0
    level = np.where(air, np.arange(counts[2]) + 1, 0).astype(np.int16)
    seed = np.zeros_like(level)
    seed[:, :, -1] = level[:, :, -1]
    escape = reconstruction(seed, level, footprint=generate_binary_structure(3, 1))
    return float((air & (level > escape)).sum() * AIR_CELL_MM.prod() * 1e-3)
