"""The pages of help: HTML in an installed add-on, Markdown in the project's own folder."""

from __future__ import annotations

from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent
FOLDERS = ((PACKAGE / "docs", ".html"), (PACKAGE.parent / "docs", ".md"))


def page_file(page: str) -> Path | None:
    """Return the file of a page such as "case", or None where there is none."""
    files = (folder / f"{page}{ending}" for folder, ending in FOLDERS)
    return next((one for one in files if one.is_file()), None)
