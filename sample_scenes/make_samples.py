"""Make the sample scans and write down what is known of them; takes some minutes.

The shapes are fields (sculpts.py); a scanner's faults are laid over them (scanner.py). The known
numbers come from the fields themselves and from general libraries, not from the add-on.
"""

from __future__ import annotations

import argparse
import json
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import scanner
import sculpts
import trimesh
from known import known_numbers

MM_PER_INCH = 25.4
Y_UP = np.array([[1.0, 0, 0], [0, 0, 1], [0, -1, 0]])


@dataclass(frozen=True)
class Sample:
    """A sculpt, the box it fits in, and how the scanner saw it."""

    file: str
    field: object
    low: tuple[float, float, float]
    high: tuple[float, float, float]
    pitch_mm: float
    through_holes: int
    missed_at_mm: tuple[float, float, float]
    axes: np.ndarray
    unit_mm: float
    specks: int
    seed: int


SAMPLES = (
    Sample("toadstool.ply", sculpts.toadstool, (-80, -70, 0), (80, 75, 155), 2.3, 0,
           (-30, 20, 130), np.eye(3), 1.0, 4, 7101),
    Sample("watering_can.stl", sculpts.watering_can, (-85, -55, 0), (110, 55, 130), 2.2, 1,
           (5, 40, 38), Y_UP, 1.0, 3, 7102),
    Sample("hedgehog.ply", sculpts.hedgehog, (-88, -70, 0), (108, 70, 115), 2.1, 0,
           (-45, 35, 45), np.eye(3), MM_PER_INCH, 5, 7103),
)  # fmt: skip


def scanned(sample: Sample) -> trimesh.Trimesh:
    """Return the scan of a sculpt: noise, an open base, a missed spot, dust, its own axes."""
    rng = np.random.default_rng(sample.seed)
    vertices, faces = scanner.surface(sample.field, sample.low, sample.high, sample.pitch_mm)
    if trimesh.Trimesh(vertices, faces, process=False).euler_number != 1 - 2 * sample.through_holes:
        raise SystemExit(f"{sample.file}: the scan is too coarse for the shape's holes")
    noisy = scanner.with_noise(vertices, sample.field, rng, 0.05)
    faces = scanner.with_missed_spot(vertices, faces, sample.missed_at_mm, 3.2)
    span = np.array(sample.high, float) - sample.low
    dust, dust_faces = scanner.specks(
        rng, sample.specks, sample.low + [0, 0, 0.1] * span, sample.low + [0.12, 1, 0.9] * span
    )
    faces = np.vstack([faces, dust_faces + len(noisy)])
    vertices, faces = scanner.in_use(np.vstack([noisy, dust]), faces)
    placed = (vertices + [12.4, -31.7, 8.6]) @ sample.axes.T / sample.unit_mm
    return trimesh.Trimesh(placed.astype(np.float32), faces, process=False)


def main() -> None:
    """Write each scan and its known numbers."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n", 1)[0])
    parser.add_argument("folder", nargs="?", type=Path, default=Path(__file__).resolve().parent)
    parser.add_argument(
        "--scans-only", action="store_true", help="keep what is known of the shapes"
    )
    options = parser.parse_args()
    for sample in SAMPLES:
        mesh = scanned(sample)
        mesh.export(options.folder / sample.file)
        path = (options.folder / sample.file).with_suffix(".expected.json")
        known = json.loads(path.read_text("utf-8")) if options.scans_only else known_numbers(sample)
        known["triangles"] = {
            "value": len(mesh.faces), "tolerance": 0, "how": "counted when written",
        }  # fmt: skip
        path.write_text(json.dumps(known, indent=2) + "\n", encoding="utf-8")
        print(sample.file, {name: number["value"] for name, number in known.items()})


if __name__ == "__main__":
    main()
