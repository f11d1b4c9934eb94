"""Seconds of each stage on scans, best of three, then of a changed case; started by `dev.py bench`.

Of the changed case only what follows it runs again: what a maker waits for who tries walls.
"""

from __future__ import annotations

import sys
import time
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from place import ROOT

from blender_addon.core.files.read import read
from blender_addon.core.memo import Memo
from blender_addon.core.pipeline import lay_out
from blender_addon.core.settings import Settings, load

if TYPE_CHECKING:
    from blender_addon.core.geometry.mesh import Mesh

RUNS = 3
HEIGHT_MM = 150.0
"""Of a scan that is named and has no settings beside it."""


def main(words: list[str]) -> int:
    """Print a table of the scan that is named, or of all samples; return 0."""
    samples = (ROOT / "sample_scenes").glob("*.toml")
    scans = [Path(words[0])] if words else sorted(one for toml in samples for one in beside(toml))
    for file in scans:
        mesh, settings = read(file), settings_of(file)
        memos = [Memo() for _ in range(RUNS)]
        runs = [lay_out(mesh, settings, memo).timings_s for memo in memos]
        best = {stage: min(run[stage] for run in runs) for stage in runs[0]}
        again_s = min(another_case_s(mesh, settings, memo) for memo in memos)
        print(f"{file.name}: {len(mesh.faces)} triangles, {sum(best.values()):.2f} s")
        print("  " + "  ".join(f"{stage} {seconds:.2f}" for stage, seconds in best.items()))
        print(f"  another case {again_s:.2f}")
    return 0


def beside(toml: Path) -> list[Path]:
    """Return the scans that a file of settings is for."""
    return [one for one in toml.parent.glob(toml.stem + ".*") if one.suffix in (".ply", ".stl")]


def settings_of(file: Path) -> Settings:
    """Return the settings beside a scan, or those that it is measured with."""
    toml = file.with_suffix(".toml")
    if toml.exists():
        return load(toml)
    return replace(Settings(), scan=replace(Settings().scan, height_mm=HEIGHT_MM))


def another_case_s(mesh: Mesh, settings: Settings, memo: Memo) -> float:
    """Return what it takes to lay out the same again with three millimetres more of rubber."""
    thicker = replace(settings.case, least_rubber_mm=settings.case.least_rubber_mm + 3.0)
    start = time.perf_counter()
    lay_out(mesh, replace(settings, case=thicker), memo)
    return time.perf_counter() - start


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
