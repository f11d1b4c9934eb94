"""The files of sheets: job sheet as PDF and HTML, templates as PDF and each as SVG."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from .job_sheet import sheet_blocks, sheet_pages
from .sheet.html import blocks_html, files_named
from .sheet.names import HTML_FILE, drawing_file, job_sheet_file, templates_file
from .sheet.pdf import pdf_bytes
from .sheet.svg import drawing_svg

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from .layout import Layout
    from .pictures.drawing import Legend
    from .pictures.views_of import Seen


def sheet_files(layout: Layout) -> list[str]:
    """Return what `write_sheets` writes, relative to its folder."""
    paper = layout.settings.sheet.paper
    drawings = [drawing_file(one.name) for one in layout.sheet.drawings]
    return [job_sheet_file(paper), HTML_FILE, templates_file(paper), *drawings]


def write_sheets(
    layout: Layout, job: dict[str, Any], seen: Sequence[Seen], legend: Legend, folder: Path
) -> None:
    """Write all sheets into a folder that is made whole by whoever calls.

    Parameters
    ----------
    layout : Layout
    job : dict
        As ``job_of`` returns it.
    seen : sequence of Seen
        The brush map from all sides.
    legend : Legend
        What its colours are.
    folder : Path
        Exists.
    """
    paper, file = layout.settings.sheet.paper, job["scan"]["file"]
    blocks = sheet_blocks(job, seen, legend.areas_cm2, layout.sheet.cut_figures)
    pages = sheet_pages(blocks, job)
    (folder / job_sheet_file(paper)).write_bytes(pdf_bytes(pages, f"Job sheet: {file}"))
    page = blocks_html(blocks, f"Job sheet: {file}", sheet_files(layout))
    (folder / HTML_FILE).write_text(page, encoding="utf-8")
    templates = pdf_bytes(layout.sheet.pages, f"Templates 1:1: {file}")
    (folder / templates_file(paper)).write_bytes(templates)
    for one in layout.sheet.drawings:
        (folder / drawing_file(one.name)).write_text(drawing_svg(one), encoding="utf-8")


def own_sheets(folder: Path) -> frozenset[str]:
    """Return what of a folder of sheets was written before, and so may be replaced."""
    try:
        return frozenset(files_named((folder / HTML_FILE).read_text(encoding="utf-8")))
    except (OSError, ValueError):
        return frozenset()
