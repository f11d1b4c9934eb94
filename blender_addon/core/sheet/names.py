"""Names of the files of sheets, each written once."""

from __future__ import annotations

FOLDER = "sheet"
"""Where they lie in a job's folder."""

HTML_FILE = "job_sheet.html"


def job_sheet_file(paper: str) -> str:
    """Return the job sheet's file.

    Examples
    --------
    >>> job_sheet_file("A4")
    'job_sheet_a4.pdf'
    """
    return f"job_sheet_{paper.lower()}.pdf"


def templates_file(paper: str) -> str:
    """Return the file of all templates."""
    return f"templates_{paper.lower()}.pdf"


def drawing_file(name: str) -> str:
    """Return the file of one template, for cutters and for other programs."""
    return f"{name}.svg"


def in_job(name: str) -> str:
    """Return a file's name as seen from the job's folder."""
    return f"{FOLDER}/{name}"
