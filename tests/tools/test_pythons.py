from __future__ import annotations

import os
import stat
import sys

import pytest
import pythons
from place import MissingError

posix_scripts = os.name == "posix"
VERSION = f"{sys.version_info[0]}.{sys.version_info[1]}"


def fake_python(path, body):
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"#!/bin/sh\n{body}\n")
    path.chmod(path.stat().st_mode | stat.S_IXUSR)
    return path


@pytest.fixture
def empty_machine(tmp_path, monkeypatch):
    """A machine whose path holds one empty folder and whose home is empty."""
    (tmp_path / "bin").mkdir()
    monkeypatch.setattr(sys, "executable", "")
    monkeypatch.setenv("PATH", str(tmp_path / "bin"))
    for name in ("PYENV_ROOT", "UV_PYTHON_INSTALL_DIR", "APPDATA"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(pythons.Path, "home", lambda: tmp_path / "home")
    return tmp_path


def test_the_python_that_runs_this_is_real_and_says_its_version():
    assert pythons.real_python([sys.executable], VERSION)
    assert pythons.real_python([sys.executable], "2.0") is None


def test_a_name_that_does_not_exist_is_no_python():
    assert pythons.real_python(["no-such-python-anywhere"], VERSION) is None


def test_an_empty_machine_is_told_what_to_install(empty_machine):
    with pytest.raises(MissingError, match=r"Python 3\.13 was not found\. Install it"):
        pythons.find_python("3.13")
    assert not list((empty_machine / "bin").iterdir())


if posix_scripts:

    def test_a_shim_that_refuses_is_passed_over_for_the_managers_own_folder(empty_machine):
        fake_python(empty_machine / "bin" / "python3.13", "echo 'command not found' >&2; exit 127")
        real = empty_machine / "home" / ".pyenv" / "versions" / "3.13.0" / "bin" / "python3.13"
        fake_python(real, f"echo 3.13; echo {real}")
        assert pythons.find_python("3.13") == str(real)

    def test_a_manager_elsewhere_is_found_by_its_variable(empty_machine, monkeypatch):
        monkeypatch.setenv("PYENV_ROOT", str(empty_machine / "elsewhere"))
        real = empty_machine / "elsewhere" / "versions" / "3.11.9" / "bin" / "python3.11"
        fake_python(real, f"echo 3.11; echo {real}")
        assert pythons.find_python("3.11") == str(real)

    def test_a_name_on_the_path_of_another_version_is_passed_over(empty_machine):
        fake_python(empty_machine / "bin" / "python3", "echo 3.9; echo /usr/bin/python3.9")
        with pytest.raises(MissingError):
            pythons.find_python("3.13")
