"""What the pages of help call by name stands so in the window."""

from __future__ import annotations

import ast
import dataclasses
import re
from pathlib import Path

import pytest

from blender_addon.core.fields import spec_of
from blender_addon.core.settings import Settings

ROOT = Path(__file__).resolve().parents[2]
PAGES = sorted((ROOT / "docs").glob("*.md"))
KEYS = {"N", "Tab", "Esc", "Riseline"}
"""Of the keyboard, and the tab."""


def _said():
    """Return all texts that a maker may meet in the window."""
    texts = set()
    for folder in ("ui", "bridge"):
        for file in (ROOT / "blender_addon" / folder).rglob("*.py"):
            tree = ast.parse(file.read_text(encoding="utf-8"))
            texts |= {
                one.value
                for one in ast.walk(tree)
                if isinstance(one, ast.Constant) and isinstance(one.value, str)
            }
    for stage in dataclasses.fields(Settings):
        texts |= {spec_of(field).label for field in dataclasses.fields(stage.default_factory())}
    texts |= {text.title() for text in texts if text.islower()}
    return texts


@pytest.fixture(scope="module")
def said():
    return _said()


def _missing(text, said):
    named = re.findall(r"\*\*(.+?)\*\*", re.sub(r"\s+", " ", text))
    found = []
    for words in named:
        parts = [one for one in words.split("…") if one.strip()]
        if words not in KEYS and not all(
            any(part.strip() in one for one in said) for part in parts
        ):
            found.append(words)
    return found


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_what_a_page_calls_by_name_stands_so_in_the_window(page, said):
    assert _missing(page.read_text(encoding="utf-8"), said) == []


def test_a_label_that_is_gone_is_found(said):
    assert _missing("press **Lay Out Mold**, then **Melt the Wax**", said) == ["Melt the Wax"]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_a_page_begins_with_what_the_maker_does(page):
    title, begin, *_ = page.read_text(encoding="utf-8").split("\n\n")
    assert title.startswith("# ")
    assert not begin.startswith(("!", "-", "#"))
    assert 1 <= len(begin.splitlines()) <= 3
