"""From the scene to paper."""

from __future__ import annotations

import bpy
import pypdf
import pytest

from blender_addon.bridge.outdated import outdated_stages


@pytest.mark.usefixtures("scan")
def test_job_sheet_and_templates_are_written_on_the_paper_chosen_now(scene, tmp_path):
    bpy.ops.riseline.lay_out()
    scene.riseline.sheet.paper = "Letter"
    assert outdated_stages(scene) == ()
    folder = tmp_path / "mushroom_sheets"
    assert bpy.ops.riseline.write_sheets(filepath=str(folder)) == {"FINISHED"}
    names = sorted(one.name for one in folder.iterdir())
    assert {"job_sheet_letter.pdf", "templates_letter.pdf", "job_sheet.html"} <= set(names)
    svg = [name for name in names if name.endswith(".svg")]
    assert "knife_views.svg" in svg  # to look at, and no template
    assert len(svg) - 1 == len(scene.riseline.results.templates) > 3
    page = pypdf.PdfReader(folder / "job_sheet_letter.pdf").pages[0]
    assert [float(one) for one in page.mediabox[2:]] == pytest.approx([612.0, 792.0], abs=1e-4)
    assert "mushroom" in page.extract_text()
    assert scene.riseline.results.sheets_at == str(folder)


@pytest.mark.usefixtures("scan")
def test_sheets_are_in_inches_where_the_scene_is(scene, tmp_path):
    bpy.ops.riseline.lay_out()
    scene.unit_settings.system = "IMPERIAL"
    bpy.ops.riseline.write_sheets(filepath=str(tmp_path / "sheets"))
    words = pypdf.PdfReader(tmp_path / "sheets" / "job_sheet_a4.pdf").pages[0].extract_text()
    assert "2.36 in" in words  # the mushroom is 60 mm high: 60 / 25.4
    assert " mm" not in words


@pytest.mark.usefixtures("scan")
def test_sheets_replace_those_of_before_and_nothing_else(scene, tmp_path):
    bpy.ops.riseline.lay_out()
    folder = tmp_path / "sheets"
    bpy.ops.riseline.write_sheets(filepath=str(folder))
    scene.riseline.sheet.paper = "Letter"
    bpy.ops.riseline.write_sheets(filepath=str(folder))
    assert not (folder / "templates_a4.pdf").exists()
    (folder / "notes.txt").write_text("glaze: celadon", encoding="utf-8")
    before = {one: one.read_bytes() for one in folder.iterdir()}
    with pytest.raises(RuntimeError, match=r"notes\.txt"):
        bpy.ops.riseline.write_sheets(filepath=str(folder))
    assert {one: one.read_bytes() for one in folder.iterdir()} == before


@pytest.mark.usefixtures("scene")
def test_without_a_layout_the_button_is_gray():
    assert not bpy.ops.riseline.write_sheets.poll()
