"""Job sheet and templates without the rest of the job, for who only wants paper."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from .files.folder import whole_folder
from .job import job_of
from .job_sheet_files import own_sheets, write_sheets
from .pictures.views_of import legend_of, seen_from_all_sides
from .sheet.stage import sheet_stage
from .watch import Watch

if TYPE_CHECKING:
    from pathlib import Path

    from .layout import Layout
    from .sheet.settings import SheetSettings


def write_sheet_folder(
    layout: Layout,
    file_name: str,
    folder: str | Path,
    settings: SheetSettings,
    watch: Watch | None = None,
) -> None:
    """Write job sheet and templates of a layout on the paper that is asked for now.

    Parameters
    ----------
    layout : Layout
    file_name : str
        The scan's.
    folder : str or Path
        New, empty, or from an earlier time; written whole or not at all.
    settings : SheetSettings
        May differ from those of the layout: only the sheets are made again.
    watch : Watch, optional
        Told how much is written; when it stops the work, nothing was.

    Raises
    ------
    UnwritableFolderError
        If it holds anything that is not ours, or cannot be written.
    """
    watch = watch or Watch()
    sheet = sheet_stage(layout.case, layout.funnel, layout.cut, settings, watch)
    wanted = replace(layout, sheet=sheet, settings=replace(layout.settings, sheet=settings))
    with whole_folder(folder, own_sheets) as fresh:
        seen = seen_from_all_sides(wanted.bubbles, wanted.case)
        legend = legend_of(wanted.bubbles, wanted.case)
        watch.at(0.4)
        write_sheets(wanted, job_of(wanted, file_name), seen, legend, fresh)
