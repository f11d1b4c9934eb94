"""The pages of help: every panel's is there, every link and picture leads somewhere."""

from __future__ import annotations

import dataclasses
import re
from html.parser import HTMLParser
from pathlib import Path

import pages
import pytest

from blender_addon.core.settings import Settings

STAGES = [field.name for field in dataclasses.fields(Settings)]


class _Outline(HTMLParser):
    """Hears what a page holds, and that every tag is closed."""

    def __init__(self):
        super().__init__()
        self.open, self.links, self.tags = [], [], []

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        found = dict(attrs)
        self.links += [found[key] for key in ("href", "src") if key in found]
        if tag not in {"meta", "img"}:
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    target = tmp_path_factory.mktemp("zip") / "docs"
    pages.write_pages(target)
    return target


@pytest.mark.parametrize("stage", ["index", *STAGES])
def test_every_stage_has_a_page_with_a_picture_whose_links_lead_somewhere(folder, stage):
    outline = _Outline()
    outline.feed((folder / f"{stage}.html").read_text(encoding="utf-8"))
    assert outline.open == []
    assert "h1" in outline.tags
    assert "img" in outline.tags
    assert [one for one in outline.links if not (folder / one).is_file()] == []


def test_pages_need_no_network_and_bear_no_mark_of_their_source(folder):
    for page in folder.glob("*.html"):
        text = page.read_text(encoding="utf-8")
        assert "://" not in text
        body = text.split("<body>")[1]
        assert not re.search(r"\*\*|\]\(|^#", body, re.MULTILINE), page.name


def test_what_pages_use_of_markdown_becomes_html():
    text = "# A < B\n\nOne **two** *three* `4`\nfive.\n\n- [six](x.md)\n- ![7](y.jpg)\n\n1. a\n2. b"
    body = pages.as_html(text).split("<body>\n")[1].split("\n</body>")[0]
    assert body == (
        "<h1>A &lt; B</h1>\n<p>One <strong>two</strong> <em>three</em> <code>4</code> five.</p>\n"
        '<ul>\n<li><a href="x.html">six</a></li>\n<li><img src="y.jpg" alt="7"></li>\n</ul>\n'
        "<ol>\n<li>a</li>\n<li>b</li>\n</ol>"
    )


def test_every_picture_is_named_by_a_page():
    named = {one for page in pages.DOCS.glob("*.md") for one in _pictures(page)}
    taken = {one.name for one in Path(pages.DOCS / "images").glob("*")}
    assert named == taken


def _pictures(page):
    return re.findall(r"images/([\w.]+)", page.read_text(encoding="utf-8"))
