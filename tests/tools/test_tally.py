from __future__ import annotations

import sys

from heard import Heard, hear
from tally import Outcome, closing_line, from_junit, single, table

REPORT = """<testsuites><testsuite name="pytest" errors="1" failures="2" skipped="1" tests="10">
</testsuite></testsuites>"""


def test_a_report_is_added_up(tmp_path):
    (tmp_path / "r.xml").write_text(REPORT)
    found = from_junit("core", tmp_path / "r.xml", Heard(1, 2.0, "log"))
    assert (found.passed, found.failed, found.skipped) == (6, 3, 1)


def test_a_run_that_ends_badly_without_a_failed_test_is_one_failure(tmp_path):
    crashed = from_junit("core", tmp_path / "none.xml", Heard(-11, 2.0, ""))
    assert (crashed.passed, crashed.failed) == (0, 1)
    (tmp_path / "r.xml").write_text('<testsuite tests="4" failures="0" errors="0" skipped="0"/>')
    at_exit = from_junit("core", tmp_path / "r.xml", Heard(-11, 2.0, ""))
    assert (at_exit.passed, at_exit.failed) == (4, 1)


def test_the_closing_line_reads_as_that_of_pytest():
    outcomes = [Outcome("core", passed=3), single("lint", Heard(1, 0.1, ""))]
    assert closing_line(outcomes, 2.5) == "===== 1 failed, 3 passed in 2.50s ====="
    assert closing_line([], 0.0) == "===== no tests ran in 0.00s ====="


def test_what_did_not_run_is_said_plainly():
    assert "not run: no Blender" in table([Outcome("window", absent="no Blender")])


def test_a_program_is_heard_with_its_exit_code():
    heard = hear([sys.executable, "-c", "import sys; print('out'); sys.exit('err')"])
    assert (heard.code, "out" in heard.text, "err" in heard.text) == (1, True, True)


def test_a_program_that_goes_on_too_long_is_stopped():
    heard = hear([sys.executable, "-c", "import time; time.sleep(60)"], longest_s=0.5)
    assert heard.code == 1
    assert "stopped after" in heard.text


def test_a_program_that_is_not_there_is_a_failure_and_not_a_crash():
    assert hear(["no-such-program"]).code == 1
