"""Folders written whole or not at all."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest

from blender_addon.core.errors import CancelledError, UnwritableFolderError
from blender_addon.core.files.folder import refuse_foreign, whole_folder


def nothing(_folder):
    return frozenset()


def ours(_folder):
    return frozenset({"job.json", "parts/base.stl"})


def fill(folder, text="new"):
    (folder / "parts").mkdir(parents=True)
    (folder / "job.json").write_text(text, encoding="utf-8")
    (folder / "parts" / "base.stl").write_text(text, encoding="utf-8")


def tree(folder):
    return {
        one.relative_to(folder).as_posix(): one.read_text(encoding="utf-8")
        if one.is_file()
        else None
        for one in folder.rglob("*")
    }


NEW = {"job.json": "new", "parts": None, "parts/base.stl": "new"}


@pytest.mark.parametrize("name", ["job", "a/b/c/job", "Über den Ofen/Vogel 2", "job.v2"])
def test_new_folder_holds_all_and_nothing_lies_beside_it(tmp_path, name):
    with whole_folder(tmp_path / name, nothing) as fresh:
        fill(fresh)
        assert not (tmp_path / name).exists()
    assert tree(tmp_path / name) == NEW
    assert len(list((tmp_path / name).parent.iterdir())) == 1


def test_folder_is_made_with_the_rights_of_any_other(tmp_path):
    (tmp_path / "plain").mkdir()
    with whole_folder(tmp_path / "job", nothing) as fresh:
        fill(fresh)
    assert (tmp_path / "job").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_relative_path_is_taken_from_where_one_stands(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    with whole_folder("job", nothing) as fresh:
        fill(fresh)
    assert tree(tmp_path / "job") == NEW


def test_empty_folder_and_own_files_are_replaced(tmp_path):
    (tmp_path / "empty").mkdir()
    fill(tmp_path / "old", "old")
    for name in ("empty", "old"):
        with whole_folder(tmp_path / name, ours) as fresh:
            fill(fresh)
        assert tree(tmp_path / name) == NEW
    assert {one.name for one in tmp_path.iterdir()} == {"empty", "old"}


@pytest.mark.parametrize("strange", ["notes.txt", "parts/mine.stl", "JOB.json.bak"])
def test_one_strange_file_keeps_the_folder(tmp_path, strange):
    fill(tmp_path / "job", "old")
    (tmp_path / "job" / strange).write_text("mine", encoding="utf-8")
    before = tree(tmp_path / "job")
    with (
        pytest.raises(UnwritableFolderError, match=strange) as caught,
        whole_folder(tmp_path / "job", ours),
    ):
        pytest.fail("nothing may be written")
    assert "\n" not in str(caught.value)
    assert tree(tmp_path / "job") == before
    assert len(list(tmp_path.iterdir())) == 1


def test_strange_folder_and_link_keep_the_folder(tmp_path):
    (tmp_path / "job" / "drafts").mkdir(parents=True)
    with pytest.raises(UnwritableFolderError, match="drafts"):
        refuse_foreign(tmp_path / "job", ours)
    (tmp_path / "job" / "drafts").rmdir()
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "job" / "parts").symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    with pytest.raises(UnwritableFolderError, match="parts"):
        refuse_foreign(tmp_path / "job", ours)


def test_file_that_came_meanwhile_keeps_the_folder(tmp_path):
    (tmp_path / "job").mkdir()
    with pytest.raises(UnwritableFolderError, match="late"):
        _write_beside_another(tmp_path / "job")
    assert tree(tmp_path) == {"job": None, "job/late.txt": "mine"}


def _write_beside_another(path):
    with whole_folder(path, ours) as fresh:
        fill(fresh)
        (path / "late.txt").write_text("mine", encoding="utf-8")


def test_file_in_the_way_stays(tmp_path):
    (tmp_path / "job").write_text("mine", encoding="utf-8")
    for name in ("job", "job/below", "job/far/below"):
        with pytest.raises(UnwritableFolderError, match="file"):
            refuse_foreign(tmp_path / name, ours)
        with pytest.raises(UnwritableFolderError), whole_folder(tmp_path / name, ours) as fresh:
            fill(fresh)
    assert tree(tmp_path) == {"job": "mine"}


def test_the_folder_one_stands_in_is_not_pulled_away(tmp_path, monkeypatch):
    (tmp_path / "a" / "b").mkdir(parents=True)
    monkeypatch.chdir(tmp_path / "a" / "b")
    for name in (".", ".."):
        with pytest.raises(UnwritableFolderError, match="stand in"):
            refuse_foreign(name, nothing)


@pytest.mark.parametrize("error", [OSError(errno.ENOSPC, "No space left on device"),
                                   PermissionError(errno.EACCES, "Permission denied")])  # fmt: skip
def test_refusal_of_the_system_leaves_all_as_it_was(tmp_path, error):
    fill(tmp_path / "old", "old")
    for name in ("old", "new/deep/job"):
        with pytest.raises(UnwritableFolderError, match=error.strerror) as caught:
            _write_and_raise(tmp_path / name, error)
        assert str(tmp_path / name) in str(caught.value)
        assert "\n" not in str(caught.value)
    assert {one.name for one in tmp_path.iterdir()} == {"old"}
    assert tree(tmp_path / "old") == {**NEW, "job.json": "old", "parts/base.stl": "old"}


@pytest.mark.parametrize("error", [CancelledError(), KeyboardInterrupt(), ZeroDivisionError()])
def test_cancel_and_faults_go_through_and_leave_nothing(tmp_path, error):
    with pytest.raises(type(error)):
        _write_and_raise(tmp_path / "new" / "job", error)
    assert tree(tmp_path) == {}


def _write_and_raise(path, error):
    with whole_folder(path, ours) as fresh:
        fill(fresh)
        raise error


def test_old_folder_comes_back_when_the_new_one_cannot_take_its_place(tmp_path, monkeypatch):
    fill(tmp_path / "job", "old")
    rename = Path.rename

    def refuse(self, target):
        if self.suffix == ".part":
            raise PermissionError(errno.EACCES, "in use")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", refuse)
    with (
        pytest.raises(UnwritableFolderError, match="in use"),
        whole_folder(tmp_path / "job", ours) as fresh,
    ):
        fill(fresh)
    assert tree(tmp_path) == {
        "job": None, "job/job.json": "old", "job/parts": None, "job/parts/base.stl": "old"
    }  # fmt: skip


def test_folder_that_may_not_be_made_is_told_of(tmp_path, monkeypatch):
    def refuse(self, *_rest, **_more):
        raise PermissionError(errno.EACCES, "Permission denied", str(self))

    monkeypatch.setattr(Path, "mkdir", refuse)
    with (
        pytest.raises(UnwritableFolderError, match="Permission denied"),
        whole_folder(tmp_path / "j", ours),
    ):
        pytest.fail("nothing may be written")


def test_names_that_are_none_are_told_of(tmp_path):
    with pytest.raises(UnwritableFolderError):
        refuse_foreign(tmp_path / ("x" * 5000), ours)
    with pytest.raises(UnwritableFolderError):
        refuse_foreign("a\0b", ours)


def test_link_to_a_folder_is_followed(tmp_path):
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "real", target_is_directory=True)
    with whole_folder(tmp_path / "link", ours) as fresh:
        fill(fresh)
    assert (tmp_path / "link").is_symlink()
    assert tree(tmp_path / "real") == NEW
