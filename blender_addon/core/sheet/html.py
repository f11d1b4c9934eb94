"""Blocks of a job sheet as one page of HTML that needs no other file."""

from __future__ import annotations

import re
from html import escape, unescape
from typing import TYPE_CHECKING

from .blocks import Figure, Heading, Heed, Numbers, Side, Table, Tick, Title, Words
from .cautions import ALWAYS
from .svg import drawing_svg

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .blocks import Block

FILES = "riseline-files"

STYLE = """
body { font: 16px Helvetica, Arial, sans-serif; max-width: 60em; margin: 1em auto; padding: 0 1em }
h2 { background: #e6e6e6; padding: .3em .5em; margin-top: 1.5em }
.numbers { display: flex; flex-wrap: wrap; gap: .5em }
.numbers div { border: 1px solid #000; padding: .4em .6em; min-width: 28% }
.numbers b { display: block; font-size: 1.8em }
.warning { background: #ffde8c; padding: .4em .6em; font-weight: bold }
.usual { border-left: 4px solid #000; padding-left: .6em; font-size: .9em }
table { border-collapse: collapse; margin: .8em 0 }
th { background: #e6e6e6; text-align: left }
td, th { padding: .25em .8em; border-bottom: 1px solid #999 }
figure { display: inline-block; margin: .5em }
label { display: block; margin: .5em 0 }
input { width: 1.2em; height: 1.2em }
"""


def blocks_html(blocks: Sequence[Block], title: str, files: Sequence[str] = ()) -> str:
    """Return blocks as the text of an HTML file, with boxes that can be ticked on a screen.

    Parameters
    ----------
    blocks : sequence of Block
    title : str
        Of the window.
    files : sequence of str
        What is written beside it; `files_named` reads them again.
    """
    body = "\n".join(_html(one) for one in blocks)
    named = f'<meta name="{FILES}" content="{escape("|".join(files))}">'
    head = f'<meta charset="utf-8">{named}<title>{escape(title)}</title><style>{STYLE}</style>'
    foot = f"<p><small>{escape(ALWAYS)}</small></p>"
    whole = f"<head>{head}</head><body>\n{body}\n{foot}</body>"
    return f'<!DOCTYPE html>\n<html lang="en">{whole}</html>\n'


def files_named(page: str) -> list[str]:
    """Return the files that a page names.

    Examples
    --------
    >>> files_named(blocks_html([], "Sheet", ["a.pdf", "b.svg"]))
    ['a.pdf', 'b.svg']
    """
    found = re.search(f'<meta name="{FILES}" content="([^"]*)">', page)
    return unescape(found[1]).split("|") if found and found[1] else []


def _html(block: Block) -> str:
    match block:
        case Table():
            return _table(block)
        case Figure():
            return _figure(block)
        case Side():
            return "".join(_figure(one) for one in block.figures)
        case Numbers():
            facts = (f"<div>{escape(a)}<b>{escape(b)}</b></div>" for a, b in block.facts)
            return f'<div class="numbers">{"".join(facts)}</div>'
        case Title():
            return f"<h1>{escape(block.words)}</h1><p>{escape(block.under)}</p>"
    return _line(block)


def _line(block: Heading | Tick | Heed | Words) -> str:
    words = escape(block.words)
    if isinstance(block, Heading):
        return f"<h2>{words}</h2>"
    if isinstance(block, Tick):
        return f'<label><input type="checkbox"> {words}</label>'
    if isinstance(block, Heed):
        return f'<p class="{"usual" if block.usual else "warning"}">{words}</p>'
    return f"<p>{words}</p>"


def _table(table: Table) -> str:
    box = '<td><input type="checkbox"></td>' if table.ticks else ""
    head = ("<th></th>" if table.ticks else "") + "".join(
        f"<th>{escape(c)}</th>" for c in table.head
    )
    rows = (
        f"<tr>{box}" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>"
        for row in table.rows
    )
    return f"<table><tr>{head}</tr>{''.join(rows)}</table>"


def _figure(figure: Figure) -> str:
    _, _, svg = drawing_svg(figure.drawing).partition("?>")
    return f"<figure>{svg}<figcaption>{escape(figure.caption)}</figcaption></figure>"
