"""Files that are written whole or not at all."""

import os
from pathlib import Path

import pytest

from salebook.base.errors import FileError
from salebook.base.files import write_atomically


def test_the_new_content_takes_the_old_one_s_place(tmp_path: Path) -> None:
    path = tmp_path / "sale.xlsx"
    path.write_bytes(b"old")

    write_atomically(path, b"new")

    assert b"new" == path.read_bytes()
    assert [path] == list(tmp_path.iterdir())


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"missing/sale\.xlsx: cannot be written"):
        write_atomically(tmp_path / "missing" / "sale.xlsx", b"new")


def test_when_it_fails_the_old_file_stays_and_nothing_is_left_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "sale.xlsx"
    path.write_bytes(b"old")

    def full(_file: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(FileError, match="No space left on device"):
        write_atomically(path, b"new")

    assert b"old" == path.read_bytes()
    assert [path] == list(tmp_path.iterdir())


def test_the_file_can_be_read_by_the_group_as_other_new_files_can(tmp_path: Path) -> None:
    path, ordinary = tmp_path / "sale.xlsx", tmp_path / "ordinary"
    ordinary.write_bytes(b"")

    write_atomically(path, b"new")

    assert ordinary.stat().st_mode == path.stat().st_mode


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    path, link = tmp_path / "sale.xlsx", tmp_path / "link.xlsx"
    path.write_bytes(b"old")
    link.symlink_to(path)

    write_atomically(link, b"new")

    assert link.is_symlink()
    assert b"new" == path.read_bytes()


def test_what_is_no_ordinary_file_is_left_alone(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)

    with pytest.raises(FileError, match="no ordinary file"):
        write_atomically(pipe, b"new")

    assert pipe.is_fifo()
