"""The job as plain data and as a folder of files: the public format ``riseline-job``, version 1."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from .files.folder import refuse_foreign, whole_folder
from .files.threemf_write import NamedSolid
from .files.write import write_3mf, write_stl
from .geometry.mesh import joined
from .job_parts import bed_files, on_bed, part_stems
from .job_plain import plain
from .job_program import program
from .job_sheet_files import sheet_files, write_sheets
from .job_tables import (
    bubbles_table,
    case_table,
    closing_table,
    cut_table,
    funnel_table,
    part_table,
    resin_table,
    rubber_table,
    scan_table,
    sheet_table,
    warnings_of,
)
from .pictures.views_of import legend_of, picture_names, pictures_of, seen_from_all_sides
from .settings import as_tables
from .sheet.names import FOLDER, in_job
from .watch import Watch

if TYPE_CHECKING:
    from pathlib import Path

    from .layout import Layout

FORMAT, VERSION = "riseline-job", 1
JOB_FILE, ORIENTED_FILE, ASSEMBLY_FILE = "job.json", "master.stl", "parts/assembly.3mf"
AIR_FILE = "trapped_air.stl"
PICTURE_FILE = "pictures/{}.svg"


def job_of(layout: Layout, file_name: str) -> dict[str, Any]:
    """Return a layout as plain data.

    Parameters
    ----------
    layout : Layout
    file_name : str
        The scan's, as it is to be named in the job.

    Returns
    -------
    dict
        Texts, plain numbers, lists and dicts: mm in the job frame, every unit in its key's name. A
        number that is not known is None.
    """
    stems = part_stems(layout.parts)
    name, version = program()
    job = {
        "format": FORMAT,
        "version": VERSION,
        "program": {"name": name, "version": version},
        "settings": as_tables(layout.settings),
        "scan": scan_table(layout.scan, layout.case, file_name, ORIENTED_FILE),
        "bubbles": bubbles_table(layout.bubbles, layout.case.placement),
        "case": case_table(layout.case, layout.rubber),
        "funnel": funnel_table(layout.funnel, layout.rubber),
        "cut": cut_table(layout.cut),
        "rubber": rubber_table(layout.rubber),
        "resin": resin_table(layout.resin),
        "parts": [
            part_table(part, stem) for part, stem in zip(layout.parts.parts, stems, strict=True)
        ],
        "closing": closing_table(layout.parts.hold),
        "guides": [asdict(one) for one in layout.parts.guides],
        "sheet": sheet_table(layout.sheet, layout.settings.sheet),
        "warnings": warnings_of(layout),
        "timings_s": {stage.lower(): s for stage, s in layout.timings_s.items()},
        "files": _files(layout, stems),
    }
    plainly: dict[str, Any] = plain(job)
    return plainly


def _files(layout: Layout, stems: list[str]) -> list[str]:
    parts = [f"{stem}{ending}" for stem in stems for ending in (".stl", ".3mf")]
    air = [AIR_FILE] if layout.bubbles.bodies else []
    pictures = [PICTURE_FILE.format(name) for name in picture_names(layout.bubbles)]
    sheets = [in_job(one) for one in sheet_files(layout)]
    beds = bed_files(layout.parts)
    return [JOB_FILE, ORIENTED_FILE, *air, *pictures, *sheets, *parts, *beds, ASSEMBLY_FILE]


def job_text(job: dict[str, Any]) -> str:
    """Return a job as it stands in its file."""
    return json.dumps(job, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def own_files(folder: Path) -> frozenset[str]:
    """Return what of a folder an earlier job wrote, and so may be replaced."""
    try:
        job = json.loads((folder / JOB_FILE).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return frozenset()
    if not isinstance(job, dict) or job.get("format") != FORMAT:
        return frozenset()
    files = job.get("files")
    if not isinstance(files, list):
        return frozenset()
    return frozenset(one for one in files if isinstance(one, str))


def refuse_folder(folder: str | Path) -> None:
    """Raise `UnwritableFolderError` if `write_job` would: ask before long work."""
    refuse_foreign(folder, own_files)


def write_job(
    layout: Layout, file_name: str, folder: str | Path, watch: Watch | None = None
) -> dict[str, Any]:
    """Write a layout: ``job.json``, master, trapped air and parts as meshes, pictures as SVG.

    Parameters
    ----------
    layout : Layout
    file_name : str
        The scan's.
    folder : str or Path
        New, empty, or from an earlier job; written whole or not at all.
    watch : Watch, optional
        Told how much is written; when it stops the work, nothing was.

    Returns
    -------
    dict
        The job, as `job_of`.

    Raises
    ------
    UnwritableFolderError
        If it holds anything that is not ours, or cannot be written.
    """
    watch = watch or Watch()
    job = job_of(layout, file_name)
    parts = layout.parts.parts
    with whole_folder(folder, own_files) as fresh:
        for folder_name in ("parts", "pictures", FOLDER):
            (fresh / folder_name).mkdir()
        write_stl(fresh / ORIENTED_FILE, layout.case.master)
        if layout.bubbles.bodies:
            air = joined(layout.bubbles.bodies).moved(layout.case.placement)
            write_stl(fresh / AIR_FILE, air)
        watch.at(0.1)
        seen = seen_from_all_sides(layout.bubbles, layout.case)
        legend = legend_of(layout.bubbles, layout.case)
        watch.at(0.4)
        write_sheets(layout, job, seen, legend, fresh / FOLDER)
        watch.at(0.8)
        for name, svg in pictures_of(seen, legend, layout.bubbles, layout.case).items():
            (fresh / PICTURE_FILE.format(name)).write_text(svg, encoding="utf-8")
        for part, stem in zip(parts, part_stems(layout.parts), strict=True):
            write_stl(fresh / f"{stem}.stl", part.mesh)
            write_3mf(fresh / f"{stem}.3mf", [NamedSolid(part.name, part.mesh)])
            watch.at(0.9)
        solids = [NamedSolid(part.name, part.mesh, part.to_assembly) for part in parts]
        write_3mf(fresh / ASSEMBLY_FILE, solids)
        for number, file in enumerate(bed_files(layout.parts)):
            write_3mf(fresh / file, on_bed(layout.parts, number))
        (fresh / JOB_FILE).write_text(job_text(job), encoding="utf-8")
    return job
