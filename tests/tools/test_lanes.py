from __future__ import annotations

import sys
from pathlib import Path

import lanes
import pytest
from heard import Heard
from place import MissingError
from tally import Outcome

HERE = Path(sys.executable)


@pytest.fixture
def machine(monkeypatch, tmp_path):
    """A machine with the newest Python only and no Blender; every program ends well.

    Its reports lie in a folder of the test: a lane that runs beside this one would miss its own.
    """
    monkeypatch.setattr(lanes, "BUILD", tmp_path)
    monkeypatch.delenv("CI", raising=False)
    monkeypatch.setattr(lanes, "hear", lambda _command: Heard(0, 0.1, "fine"))

    def ready(version):
        if version == lanes.OLDEST:
            message = f"Python {version} was not found."
            raise MissingError(message)
        return HERE

    def no_window(_python):
        message = "there is no Blender"
        raise MissingError(message)

    monkeypatch.setattr(lanes, "ready", ready)
    monkeypatch.setattr(lanes.window, "lane", no_window)
    return monkeypatch


@pytest.mark.usefixtures("machine")
def test_what_is_missing_is_said_and_passes_at_home(capsys):
    assert lanes.run({"lint", "types", "window"}, []) == 0
    told = capsys.readouterr().out
    assert "Python 3.11" in told
    assert "not run: there is no Blender" in told
    assert told.splitlines()[-1].startswith("===== 2 passed in ")


def test_what_is_missing_fails_on_ci(machine, capsys):
    machine.setenv("CI", "true")
    assert lanes.run({"lint", "window"}, []) == 1
    assert "2 failed, 1 passed" in capsys.readouterr().out.splitlines()[-1]


def test_a_failed_lane_fails_the_run_and_shows_what_it_printed(machine, capsys):
    machine.setattr(lanes, "hear", lambda _command: Heard(1, 0.1, "E501 too long"))
    assert lanes.run({"lint"}, []) == 1
    assert "E501 too long" in capsys.readouterr().err


@pytest.mark.usefixtures("machine")
def test_a_run_of_nothing_is_no_success():
    assert lanes.run(set(), []) == 1


def test_the_window_begins_first_and_each_pytest_lane_runs_on_each_python(machine):
    machine.setattr(lanes, "from_junit", lambda lane, _report, _run: Outcome(lane, passed=1))
    planned = lanes.plan({"3.13": HERE, "3.11": HERE}, set(lanes.EVERY_LANE), [])
    machine.setattr(lanes, "window_lane", lambda _python: [Outcome("window"), Outcome("zip")])
    assert [one.lane for lane in planned for one in lane()] == [
        "window", "zip", "lint", "format", "types",
        "core, Python 3.13", "core, Python 3.11", "blender, Python 3.13", "blender, Python 3.11",
    ]  # fmt: skip


def test_what_one_python_is_enough_for_is_left_out_on_the_older_one_only_beside_the_newest(machine):
    heard = []
    machine.setattr(lanes, "hear", lambda words: heard.append(words) or Heard(0, 0.1, ""))
    both, alone = {"3.13": HERE, "3.11": Path("older")}, {"3.11": Path("older")}
    for environments in (both, alone):
        for lane in lanes.plan(environments, {"core"}, []):
            lane()
    of = [(str(words[0]), words[-2:] == ["-m", "not once"]) for words in heard]
    assert of == [(str(HERE), False), ("older", True), ("older", False)]
