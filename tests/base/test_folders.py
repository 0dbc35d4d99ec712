"""Folders that files are put into."""

from pathlib import Path

import pytest

from salebook.base.errors import FileError
from salebook.base.folders import free_name, make_folder


def test_a_folder_is_made_with_those_above_it(tmp_path: Path) -> None:
    for _time in range(2):
        make_folder(tmp_path / "a" / "b")
    assert (tmp_path / "a" / "b").is_dir()


def test_a_folder_that_is_a_file_is_said(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("mine", encoding="utf-8")
    with pytest.raises(FileError, match="a: this is a file, not a folder"):
        make_folder(tmp_path / "a")
    with pytest.raises(FileError, match="cannot be made"):
        make_folder(tmp_path / "a" / "b")


def test_a_name_that_is_taken_gets_a_number(tmp_path: Path) -> None:
    names = []
    for _time in range(3):
        name = free_name(tmp_path / "sale.xlsx", "2027-03-04")
        name.touch()
        names.append(name.name)
    assert names == ["sale-2027-03-04.xlsx", "sale-2027-03-04-2.xlsx", "sale-2027-03-04-3.xlsx"]
