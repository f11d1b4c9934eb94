"""The pages of docs/ as HTML for the add-on's zip, which opens them without a network."""

from __future__ import annotations

import html
import re
import shutil
from typing import TYPE_CHECKING

from place import ROOT

if TYPE_CHECKING:
    from pathlib import Path

DOCS = ROOT / "docs"
FRAME = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>{title}</title><style>
body {{ max-width: 44em; margin: 2em auto; padding: 0 1em; font: 17px/1.5 sans-serif; }}
img {{ max-width: 100%; }} code {{ background: #eee; padding: 0 .2em; }}
</style></head><body>
{body}
</body></html>
"""
SPANS = (
    (r"!\[(.*?)\]\((.+?)\)", r'<img src="\2" alt="\1">'),
    (r"\[(.*?)\]\((.+?)\.md\)", r'<a href="\2.html">\1</a>'),
    (r"\*\*(.+?)\*\*", r"<strong>\1</strong>"),
    (r"\*(.+?)\*", r"<em>\1</em>"),
    (r"`(.+?)`", r"<code>\1</code>"),
)
"""What our pages use of Markdown within a line, and no more."""

ITEM = re.compile(r"(?:-|\d+\.) +")


def write_pages(folder: Path) -> None:
    """Write each page as HTML, and its pictures, into a new folder."""
    folder.mkdir()
    for page in sorted(DOCS.glob("*.md")):
        text = page.read_text(encoding="utf-8")
        (folder / f"{page.stem}.html").write_text(as_html(text), encoding="utf-8")
    if (DOCS / "images").is_dir():
        shutil.copytree(DOCS / "images", folder / "images")


def as_html(text: str) -> str:
    """Return a page of headings, paragraphs and lists as HTML."""
    blocks = [one for one in re.split(r"\n\s*\n", text) if one.strip()]
    title = blocks[0].lstrip("# ").strip()
    return FRAME.format(title=html.escape(title), body="\n".join(map(block, blocks)))


def block(text: str) -> str:
    """Return one block, what stands between blank lines, as HTML."""
    heading = re.match(r"(#+) +(.*)", text)
    if heading:
        level = len(heading[1])
        return f"<h{level}>{spans(heading[2])}</h{level}>"
    if ITEM.match(text):
        items = re.split(r"\n(?=(?:-|\d+\.) )", text)
        kind = "ul" if text.startswith("-") else "ol"
        lines = "\n".join(f"<li>{spans(ITEM.sub('', one, count=1))}</li>" for one in items)
        return f"<{kind}>\n{lines}\n</{kind}>"
    return f"<p>{spans(text)}</p>"


def spans(text: str) -> str:
    """Return a text with its emphasis, links and pictures as HTML."""
    done = html.escape(" ".join(text.split()), quote=False)
    for pattern, into in SPANS:
        done = re.sub(pattern, into, done)
    return done
