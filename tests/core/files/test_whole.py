"""A file is there whole, or what was there before is."""

from __future__ import annotations

from pathlib import Path

import pytest

from blender_addon.core.errors import UnwritableFileError
from blender_addon.core.files.whole import write_whole


def test_a_file_is_written_and_written_over(tmp_path):
    path = tmp_path / "new" / "folder" / "list.csv"
    write_whole(path, b"one")
    write_whole(path, b"two")
    assert path.read_bytes() == b"two"
    assert [one.name for one in path.parent.iterdir()] == ["list.csv"]


def test_what_was_there_stays_when_the_disk_is_full(tmp_path, monkeypatch):
    path = tmp_path / "list.csv"
    write_whole(path, b"one")

    def half(self, data):
        with self.open("wb") as file:
            file.write(data[: len(data) // 2])
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", half)
    with pytest.raises(UnwritableFileError, match="No space left on device"):
        write_whole(path, b"second")
    assert path.read_bytes() == b"one"
    assert [one.name for one in tmp_path.iterdir()] == ["list.csv"]


def test_a_file_in_the_way_of_the_folder_is_told(tmp_path):
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(UnwritableFileError, match="cannot be written"):
        write_whole(tmp_path / "file" / "list.csv", b"one")
