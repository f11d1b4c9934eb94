"""The command line: what it takes, what it says where, and how it ends."""

from __future__ import annotations

import io
import json
import runpy
import sys

import numpy as np
import pytest

from blender_addon import cli
from blender_addon.core.errors import CancelledError
from blender_addon.core.files.write import write_stl
from blender_addon.core.geometry.mesh import Mesh
from blender_addon.core.scan import warn
from blender_addon.core.settings import Settings
from tests import shapes
from tests.core.layouts import layout

pytestmark = pytest.mark.usefixtures("coarse_pictures")


class Told:
    """Runs the command line on a scan, with a layout made by hand in place of the work."""

    def __init__(self, folder):
        self.scan, self.out = str(folder / "Gänseblume 1.stl"), str(folder / "job")
        self.settings = self.marks = None
        self.fault = None
        write_stl(self.scan, shapes.box((40, 20, 60)))

    def lay_out(self, _mesh, settings, watch, marks):
        self.settings, self.marks = settings, marks
        for stage in ("Scan", "Bubbles"):
            watch.begin(stage)
            watch.at(0.5)
        if self.fault is not None:
            raise self.fault
        return layout()

    def __call__(self, *words, stderr=None):
        out, err = io.StringIO(), stderr or io.StringIO()
        code = cli.main(words, stdout=out, stderr=err)
        return code, out.getvalue(), err.getvalue()

    def layout(self, *words, **more):
        return self("layout", self.scan, "--out", self.out, *words, **more)


@pytest.fixture
def told(tmp_path, monkeypatch):
    made = Told(tmp_path)
    monkeypatch.setattr(cli, "lay_out", made.lay_out)
    return made


def test_layout_is_written_and_only_its_summary_printed(told, tmp_path):
    code, out, err = told.layout()
    assert code == 0
    assert "Gänseblume 1.stl" in out.splitlines()[0]
    assert out.rstrip().splitlines()[-1].startswith(f"Written: {told.out} ")
    assert err.splitlines() == ["Read ...", "Scan ...", "Bubbles ...", "Write ..."]
    assert (tmp_path / "job" / "job.json").is_file()
    assert told.settings == Settings()


def test_a_scan_too_fine_to_be_quick_is_said_to_be_so_before_the_wait(told, monkeypatch):
    monkeypatch.setattr(warn, "FINE_TRIANGLES", 11)
    _, _, err = told.layout()
    lines = err.splitlines()
    assert lines[0] == "Read ..."
    assert "million triangles: the layout takes minutes" in lines[1]
    assert lines[2:] == ["Scan ...", "Bubbles ...", "Write ..."]


def test_json_is_the_job_as_written(told, tmp_path):
    code, out, _ = told.layout("--json")
    assert code == 0
    assert json.loads(out) == json.loads(
        (tmp_path / "job" / "job.json").read_text(encoding="utf-8")
    )
    assert json.loads(out)["scan"]["file"] == "Gänseblume 1.stl"


def test_patches_where_no_cut_may_go_become_marks(told, tmp_path):
    box = shapes.box((40, 20, 60))
    for number, faces in enumerate((box.faces[:1], box.faces[4:6])):
        write_stl(tmp_path / f"patch {number}.stl", Mesh(box.vertices, faces))
    words = [str(tmp_path / f"patch {number}.stl") for number in (0, 1)]
    assert told.layout("--no-cut-here", words[0], "--no-cut-here", words[1])[0] == 0
    assert np.flatnonzero(told.marks.faces).tolist() == [0, 4, 5]
    assert told.layout()[0] == 0
    assert not told.marks.faces.any()


def test_a_patch_that_lies_elsewhere_is_one_line_and_ends_with_2(told, tmp_path):
    away = shapes.box((5, 5, 5), (200, 0, 0))
    write_stl(tmp_path / "away.stl", away)
    code, out, err = told.layout("--no-cut-here", str(tmp_path / "away.stl"))
    assert (code, out) == (2, "")
    assert "away.stl: this patch lies nowhere on the scan" in err.splitlines()[-1]


def test_quiet_says_nothing_of_progress(told):
    assert told.layout("--quiet")[2] == ""


def test_a_terminal_sees_one_line_that_changes(told):
    class Terminal(io.StringIO):
        def isatty(self):
            return True

    _, _, err = told.layout(stderr=Terminal())
    assert "\n" not in err
    assert "\rBubbles 50 %" in err
    assert err.endswith("\r")
    assert err.split("\r")[-2].strip() == ""  # wiped before the summary


@pytest.mark.parametrize("words", [["--up", "-z"], ["--up=-z"]])
def test_a_negative_axis_may_be_written_either_way(told, words):
    assert told.layout(*words)[0] == 0
    assert told.settings.scan.up == "-z"


def test_words_on_the_line_go_before_the_settings_file(told, tmp_path):
    toml = tmp_path / "mine.toml"
    toml.write_text('[scan]\nheight_mm = 90\nup = "+x"\n[case]\ncover_mm = 25\n', encoding="utf-8")
    assert told.layout("--settings", str(toml), "--height-mm", "152.4")[0] == 0
    assert told.settings.scan.height_mm == 152.4
    assert told.layout("--settings", str(toml), "--width-mm", "50", "--preset", "large")[0] == 0
    scan = told.settings.scan
    assert (scan.height_mm, scan.width_mm, scan.riser_mm) == (0.0, 50.0, 8.0)
    assert told.layout("--settings", str(toml), "--unit", "inches")[0] == 0
    scan = told.settings.scan
    assert (scan.height_mm, scan.scale) == (0.0, 25.4)  # NIST SP 811, appendix B
    assert told.settings.case.cover_mm == 25.0
    assert told.settings.scan.up == "+x"
    assert told.settings.case.cover_mm == 25.0


BAD = {
    "no words": ([], "COMMAND"),
    "unknown command": (["cast", "{scan}"], "cast"),
    "no scan": (["layout", "--out", "{out}"], "SCAN"),
    "no out": (["layout", "{scan}"], "--out"),
    "half a word": (["layout", "{scan}", "--ou", "{out}"], "--out"),
    "unknown word": (["layout", "{scan}", "--out", "{out}", "--fast"], "--fast"),
    "no such axis": (["layout", "{scan}", "--out", "{out}", "--up", "up"], "'up'"),
    "axis missing": (["layout", "{scan}", "--out", "{out}", "--up"], "--up"),
    "other axis": (["layout", "{scan}", "--out", "{out}", "--up", "-w"], "--up"),
    "height nil": (["layout", "{scan}", "--out", "{out}", "--height-mm", "0"], "'0' is no length"),
    "height below": (["layout", "{scan}", "--out", "{out}", "--height-mm", "-5"], "'-5' is no"),
    "height huge": (["layout", "{scan}", "--out", "{out}", "--height-mm", "1e9"], "out of range"),
    "height nan": (["layout", "{scan}", "--out", "{out}", "--height-mm", "nan"], "'nan' is no"),
    "height inf": (["layout", "{scan}", "--out", "{out}", "--height-mm", "inf"], "'inf' is no"),
    "two sizes": (
        ["layout", "{scan}", "--out", "{out}", "--height-mm", "9", "--unit", "inches"],
        "not allowed with",
    ),
    "height text": (["layout", "{scan}", "--out", "{out}", "--height-mm", "6in"], "'6in' is no"),
    "no file": (["layout", "{scan}.lost.stl", "--out", "{out}"], "no such file"),
    "no settings": (["layout", "{scan}", "--out", "{out}", "--settings", "{out}.toml"], "settings"),
    "file in the way": (["layout", "{scan}", "--out", "{scan}"], "in the way"),
}


@pytest.mark.parametrize("case", BAD)
def test_bad_input_is_one_line_and_ends_with_2(told, tmp_path, case):
    words, said = BAD[case]
    code, out, err = told(*(word.format(scan=told.scan, out=told.out) for word in words))
    lines = [line for line in err.splitlines() if not line.endswith(" ...")]
    assert code == 2
    assert out == ""
    assert len(lines) == 1
    assert said in lines[0]
    assert "Traceback" not in err
    assert not (tmp_path / "job").exists()


def test_a_foreign_folder_is_refused_before_the_work(told, tmp_path):
    (tmp_path / "job").mkdir()
    (tmp_path / "job" / "mine.txt").write_text("mine", encoding="utf-8")
    code, _, err = told.layout()
    assert code == 2
    assert "mine.txt" in err
    assert told.settings is None


@pytest.mark.parametrize("fault", [KeyboardInterrupt(), CancelledError()])
def test_cancel_is_one_line_ends_with_2_and_leaves_nothing(told, tmp_path, fault):
    told.fault = fault
    code, out, err = told.layout()
    assert (code, out) == (2, "")
    assert err.splitlines()[-1].startswith("Cancelled")
    assert not (tmp_path / "job").exists()


def test_a_fault_of_ours_shows_in_full_and_ends_with_1(told, tmp_path):
    told.fault = ZeroDivisionError("ours")
    code, out, err = told.layout()
    assert (code, out) == (1, "")
    assert "Traceback" in err
    assert "ZeroDivisionError: ours" in err
    assert not (tmp_path / "job").exists()


def test_a_name_of_two_lines_is_still_told_in_one(told, tmp_path):
    code, _, err = told("layout", str(tmp_path / "two\nlines.stl"), "--out", told.out, "--quiet")
    assert code == 2
    assert len(err.splitlines()) == 1


@pytest.mark.parametrize("words", [["--help"], ["layout", "--help"]])
def test_help_goes_to_standard_output_and_ends_with_0(told, words):
    code, out, err = told(*words)
    assert (code, err) == (0, "")
    assert out.startswith("usage: riseline")


def test_version_is_that_of_the_job(told):
    job = json.loads(told.layout("--json")[1])
    assert told("--version")[1].split() == [job["program"]["name"], job["program"]["version"]]


def test_module_runs_as_a_program(told, monkeypatch, capsys):
    monkeypatch.setattr(sys, "argv", ["blender_addon", "layout", told.scan + ".lost", "--out", "x"])
    with pytest.raises(SystemExit) as ended:
        runpy.run_module("blender_addon", run_name="__main__")
    assert ended.value.code == 2
    assert "no such file" in capsys.readouterr().err
