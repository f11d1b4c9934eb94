"""Sentences read in either unit: right to the last digit, wherever they go."""

from __future__ import annotations

import ast
import copy
import json
import pickle
import re
from pathlib import Path

import pytest

from blender_addon.core.errors import BadSettingError, RiselineError, UnusableMeshError
from blender_addon.core.job_plain import plain
from blender_addon.core.notices import Notice
from blender_addon.core.sentences import Sentence, a_length, an_area, in_unit, marked
from tests.core.readings import differs, readings

CORE = Path(__file__).resolve().parents[2] / "blender_addon" / "core"
STAGES = ("scan", "bubbles", "case", "funnel", "cut", "rubber", "resin", "parts")
METRIC = re.compile(r"(?<![_\w])(mm|cm|cm²|millimet\w+)(?![_\w])")


@pytest.mark.parametrize("length_mm", [12.34, 0.05, 31.75, 299.999, 1e-3, 1234.56])
def test_inches_come_from_the_exact_length_and_not_from_its_reading(length_mm):
    sentence = Sentence(f"A gap of {a_length(length_mm, '.0f')}.")
    inches = float(re.search(r"([\d.]+) in", sentence.in_inches)[1])
    digits = len(re.search(r"\.(\d+) in", sentence.in_inches)[1])
    assert inches == round(length_mm / 25.4, digits)  # 25.4: NIST SP 811, appendix B
    assert sentence == f"A gap of {length_mm:.0f} mm."


def test_a_reading_that_is_turned_into_inches_twice_is_told_from_a_right_one():
    # 12.34 mm are 0.4858 in; its reading of 12.3 mm would be 0.48 in
    assert Sentence(a_length(12.34)).in_inches == "0.49 in"
    assert not differs("12.3 mm", "0.49 in")
    assert differs("12.3 mm", "0.52 in")
    assert differs("12.3 mm and 4.0 mm", "0.49 in")
    assert readings("4 of 12.5 mm, 3.0 cm²") == [(12.5, 0.1, "mm"), (3.0, 0.1, "cm²")]


def sent_over(thing):
    """Return a thing as it comes out in another process."""
    return pickle.loads(pickle.dumps(thing))  # noqa: S301  what was dumped in this very line


def test_a_sentence_stays_one_in_a_copy_in_another_process_and_as_plain_data():
    sentence = Sentence(f"{a_length(25.4)} and {an_area(6.4516)}")
    for same in (
        copy.deepcopy(sentence), sent_over(sentence), Sentence(sentence),
        plain({"text": [sentence]})["text"][0], Sentence(f"{marked(sentence)}"),
    ):  # fmt: skip
        assert same == "25.4 mm and 6.5 cm²"
        assert same.in_inches == "1.00 in and 1.0 in²"
    assert json.loads(json.dumps(plain([sentence]))) == ["25.4 mm and 6.5 cm²"]


def test_notices_and_errors_hand_over_sentences():
    notice = Notice("gap", f"{a_length(50.8)} open")
    assert (notice.text, notice.text.in_inches) == ("50.8 mm open", "2.00 in open")
    error = BadSettingError("case.kind", f"{a_length(50.8)} are needed.")
    back = sent_over(error)
    assert str(back) == "Setting case.kind: 50.8 mm are needed."
    assert in_unit(str(back), inches=True) == "Setting case.kind: 2.00 in are needed."
    assert str(UnusableMeshError("The scan has no faces.")) == "The scan has no faces."
    assert str(RiselineError()) == ""


def test_no_stage_writes_a_unit_of_length_into_a_sentence_itself():
    found = []
    for stage in STAGES:
        for path in sorted((CORE / stage).glob("*.py")):
            if path.name == "settings.py":  # units and reasons of settings, in core's own unit
                continue
            source = path.read_text("utf-8")
            texts = [*_texts(source), *re.findall(r"\b(?:length|area)_text\b", source)]
            found += [f"{stage}/{path.name}: {text}" for text in texts]
    assert not found


def test_a_unit_in_a_sentence_would_be_seen():
    source = '"""In mm."""\ndef f(x):\n    """In mm."""\n    return f"{x} mm of riser_mm"\n'
    assert _texts(source) == [" mm of riser_mm"]


def _texts(source):
    """Return the texts of a source that name a metric length, but for docstrings."""
    tree = ast.parse(source)
    told = {id(one.value) for one in ast.walk(tree) if isinstance(one, ast.Expr)}
    return [
        one.value
        for one in ast.walk(tree)
        if isinstance(one, ast.Constant) and isinstance(one.value, str)
        if id(one) not in told and METRIC.search(one.value)
    ]
