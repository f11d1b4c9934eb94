from __future__ import annotations

import re

import pytest
import venvs
from place import TOOLS, MissingError


def test_other_requirements_make_another_stamp(tmp_path):
    wanted = tmp_path / "requirements.txt"
    wanted.write_text("numpy==1\n")
    first = venvs.stamp_of(wanted)
    wanted.write_text("numpy==2\n")
    assert venvs.stamp_of(wanted) != first


@pytest.mark.parametrize("version", [venvs.NEWEST, venvs.OLDEST])
def test_every_package_is_pinned(version):
    lines = (TOOLS / f"requirements-{version}.txt").read_text().splitlines()
    packages = [line for line in lines if line and not line.startswith("#")]
    assert packages
    assert all(re.fullmatch(r"[\w.-]+==[\w.]+", line) for line in packages)


def test_without_any_python_the_newest_is_asked_for_and_then_the_older(monkeypatch, capsys):
    def none(version):
        message = f"Python {version} was not found."
        raise MissingError(message)

    monkeypatch.setattr(venvs, "ready", none)
    with pytest.raises(MissingError, match=r"3\.11"):
        venvs.newest_ready()
    assert "3.13 was not found" in capsys.readouterr().err
