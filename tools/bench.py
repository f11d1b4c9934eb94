"""Seconds of each stage on each sample scan, best of three; started by `dev.py bench`."""

from __future__ import annotations

import sys

from place import ROOT

from blender_addon.core.files.read import read
from blender_addon.core.pipeline import lay_out
from blender_addon.core.settings import load

RUNS = 3


def main() -> int:
    """Print a table; return 0."""
    for scan in sorted((ROOT / "sample_scenes").glob("*.toml")):
        file = next(
            one for one in scan.parent.glob(scan.stem + ".*") if one.suffix in (".ply", ".stl")
        )
        mesh, settings = read(file), load(scan)
        runs = [lay_out(mesh, settings).timings_s for _ in range(RUNS)]
        best = {stage: min(run[stage] for run in runs) for stage in runs[0]}
        print(f"{file.name}: {len(mesh.faces)} triangles, {sum(best.values()):.2f} s")
        print("  " + "  ".join(f"{stage} {seconds:.2f}" for stage, seconds in best.items()))
    return 0


if __name__ == "__main__":
    sys.exit(main())
