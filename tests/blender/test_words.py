"""What a person reads on a panel: labels in Title Case, tool-tips in the words of the trade."""

from __future__ import annotations

import re

import bpy

from blender_addon.bridge.properties import STAGES, setting_fields, shown_name
from blender_addon.ui.registration import CLASSES
from tests.blender.drawn import drawn, operator_rna

LONGEST = 125
"""Letters of a tool-tip: what is longer is not read to its end. Ours."""

SMALL = frozenset(re.findall(
    r"\w+",
    "a an the and or of to in on at by for from with off as per than into below after about"
    " over under toward up until",
))  # fmt: skip
"""Words of a label that stay small in its middle; first and last are capitalized. From memory of
Blender's guidelines: Title Case, articles and prepositions small."""

JARGON = frozenset(re.findall(
    r"\w+",
    "array arrays index indices mesh meshes vertex vertices operator property process boolean"
    " string integer float parameter attribute iterate iteration algorithm null enum datablock"
    " matrix quaternion tuple kwargs callback cache parse token",
))  # fmt: skip
ABBREVIATED = re.compile(
    r"\b(e\.g|i\.e|etc|approx|max|min|num|diam|dia|temp|vol|qty|incl|resp)\b\.?", re.IGNORECASE
)
OTHER_ENGLISH = re.compile(r"metre|colour|grey|vapour|\bmould", re.IGNORECASE)
"""Blender's interface is in American English; from memory of its guidelines."""
UNITS = re.compile(r"\([^)]*\)|\d[\d. x]*(?:mm|in)\b")
OF_BLENDER = {"filepath", "check_existing", "filter_glob", "rna_type"}


def titled(label):
    """Tell whether a label is in Title Case; what stands in brackets is a unit."""
    words = [one for one in UNITS.sub("", label).replace(",", " ").split() if one[0].isalpha()]
    inner = set(range(1, len(words) - 1))
    return all(
        (word[0].islower() == (word.lower() in SMALL)) if k in inner else word[0].isupper()
        for k, word in enumerate(words)
    )


def faults(label, tip):
    """Return what is wrong with a label and its tool-tip."""
    found = [] if titled(label) else [f"no Title Case: {label!r}"]
    words = set(re.findall(r"[a-z]+", tip.lower()))
    if not tip:
        found.append("no tool-tip")
    elif tip.endswith(".") or not (tip[0].isupper() or tip[0].isdigit()):
        found.append(f"no sentence without its full stop: {tip!r}")
    if tip.lower() == label.lower():
        found.append("says the label once more")
    if len(tip) > LONGEST:
        found.append(f"{len(tip)} letters: {tip!r}")
    if words & JARGON:
        found.append(f"words of programming: {words & JARGON}")
    if other := OTHER_ENGLISH.search(f"{label} {tip}"):
        found.append(f"not American English: {other[0]}")
    if ABBREVIATED.search(tip):
        found.append(f"abbreviated: {ABBREVIATED.search(tip)[0]}")
    return found


def told():
    """Return name, label and tool-tip of all that a person can point at."""
    rows = []
    for kind in CLASSES:
        if issubclass(kind, bpy.types.Operator):
            known = operator_rna(kind.bl_idname)
            rows.append((kind.bl_idname, known.name, known.description))
            rows += [
                (f"{kind.bl_idname} {one.identifier}", one.name, one.description)
                for one in known.properties
                if one.identifier not in OF_BLENDER and not one.is_hidden
            ]
        elif issubclass(kind, bpy.types.Panel | bpy.types.Menu):
            rows.append((kind.__name__, kind.bl_label, kind.__doc__ or ""))
    whole = bpy.context.scene.riseline
    for stage in STAGES:
        group = getattr(whole, stage)
        for field in setting_fields(stage):
            for inches in (False, True):
                one = group.bl_rna.properties[shown_name(field, inches=inches)]
                rows.append((f"{stage}.{field.name}", one.name, one.description))
    return rows


def test_every_tool_tip_is_a_sentence_in_the_words_of_the_trade(scene):
    assert scene is not None
    rows = told()
    assert len(rows) > 200
    assert {name: wrong for name, label, tip in rows if (wrong := faults(label, tip))} == {}


def test_every_field_on_a_panel_has_a_label_and_a_tool_tip(scan):
    assert scan.select_get()
    bpy.ops.riseline.lay_out()
    seen = {}
    for panel, pad in drawn().items():
        for data, name in pad.fields:
            known = data.bl_rna.properties[name]
            if not data.bl_rna.identifier.startswith("RISELINE"):
                continue  # Blender's own: the colour of a material
            if wrong := faults(known.name, known.description):
                seen[f"{panel}: {name}"] = wrong
    assert seen == {}


def test_every_button_on_a_panel_is_in_title_case_and_no_word_is_spelled_in_two_ways(scan):
    assert scan.select_get()
    bpy.ops.riseline.lay_out()
    pads = drawn()
    spelled = {one for pad in pads.values() for one in pad.words if OTHER_ENGLISH.search(one)}
    assert spelled == set()
    names = {"acrylic", "pvc"}  # tubes are called as they are sold
    texts = {
        (panel, one.text)
        for panel, pad in pads.items()
        for one in pad.buttons
        if not names & {word.lower().rstrip("-u") for word in one.text.split()}
    }
    assert len(texts) > 20
    assert [one for one in texts if not titled(one[1])] == []


def test_a_planted_fault_is_seen():
    assert faults("Rubber up to", "Rubber up to")
    assert faults("Case", "")
    assert faults("Case", "The tube.")
    assert faults("Case", "Index of the vertex")
    assert faults("Case", "Wall, approx. as asked")
    assert faults("Case", "x" * (LONGEST + 1))
    assert not faults("Demold After (h)", "Time until the block may be opened; see its data sheet")
