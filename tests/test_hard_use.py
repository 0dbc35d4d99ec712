"""Hard use: full disks, closed folders, files that vanish, two makes at once; said plainly, nothing lost."""

import errno
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import pytest

from salebook.cli import main
from salebook.plan.load import load_plan
from tests.support.books import ROOT, sample_book

pytestmark = pytest.mark.slow

FIRST = ROOT / "sample_data" / "first-sale.toml"
Capture = pytest.CaptureFixture[str]
SALEBOOK = (sys.executable, "-m", "salebook")


def run(*arguments: str, before: tuple[str, ...] = ()) -> subprocess.CompletedProcess[str]:
    """Run salebook, by way of another program where one is given."""
    return subprocess.run(
        [*before, *SALEBOOK, *arguments], capture_output=True, text=True, check=False, cwd=ROOT
    )


def said_plainly(done: subprocess.CompletedProcess[str], path: Path) -> bool:
    """Whether a command failed with one line on standard error that names the place."""
    lines = done.stderr.splitlines()
    return done.returncode == 1 and len(lines) == 1 and str(path) in lines[0] and "Traceback" not in lines[0]


def test_a_disk_that_fills_up_leaves_the_old_files_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    assert main(["make", str(FIRST), "-o", str(tmp_path)]) == 0
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    capsys.readouterr()

    def full(_file: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    assert main(["make", str(FIRST), "-o", str(tmp_path)]) == 1
    said = f"{tmp_path / 'sale.xlsx'}: cannot be written: No space left on device\n"
    assert said == capsys.readouterr().err
    assert before == {path.name: path.read_bytes() for path in tmp_path.iterdir()}


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full here")
@pytest.mark.parametrize("arguments", [("price", str(FIRST)), ("price", str(FIRST), "--json"), ("--help",)])
def test_a_full_disk_behind_standard_output_is_said(arguments: tuple[str, ...]) -> None:
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        done = subprocess.run(
            [*SALEBOOK, *arguments], stdout=full, stderr=subprocess.PIPE, text=True, check=False, cwd=ROOT
        )
    assert (done.returncode, done.stderr.count("\n")) == (1, 1)
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("command", [0, 1, 2])
def test_a_folder_without_rights_is_said(command: int, tmp_path: Path) -> None:
    closed = tmp_path / "closed"
    closed.mkdir(mode=0o555)
    arguments = (
        ("make", str(FIRST), "-o", str(closed)),
        ("demo", str(closed)),
        ("start", str(closed / "plan.toml"), "--blank"),
    )[command]
    done = _as_anybody(*arguments)
    assert said_plainly(done, closed)
    assert list(closed.iterdir()) == []


def test_a_folder_that_cannot_be_made_without_rights_is_said(tmp_path: Path) -> None:
    closed = tmp_path / "closed"
    closed.mkdir(mode=0o555)
    assert said_plainly(_as_anybody("make", str(FIRST), "-o", str(closed / "pack")), closed)


def test_a_plan_that_may_not_be_read_is_said(tmp_path: Path) -> None:
    plan = tmp_path / "plan.toml"
    plan.write_bytes(FIRST.read_bytes())
    plan.chmod(0)
    assert said_plainly(_as_anybody("price", str(plan)), plan)


def _as_anybody(*arguments: str) -> subprocess.CompletedProcess[str]:
    """Run salebook without the rights of root, who may write everywhere."""
    if os.geteuid() != 0:
        return run(*arguments)
    setpriv = shutil.which("setpriv")
    if setpriv is None:
        pytest.skip("root without setpriv cannot lay down its rights")
    # Its rights, not its name: what belongs to root can still be read where it could be before.
    return run(*arguments, before=(setpriv, "--bounding-set=-all", "--inh-caps=-all"))


def test_a_plan_that_vanishes_half_way_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    plan = tmp_path / "plan.toml"
    plan.write_bytes(FIRST.read_bytes())
    is_file = Path.is_file

    def looked_at_and_gone(path: Path) -> bool:
        found = is_file(path)
        plan.unlink(missing_ok=True)
        return found

    monkeypatch.setattr(Path, "is_file", looked_at_and_gone)
    assert main(["price", str(plan)]) == 1
    assert capsys.readouterr().err == f"{plan}: there is no such file\n"


@pytest.mark.parametrize("command", ["check", "renew", "labels"])
def test_a_workbook_that_vanishes_half_way_is_said(
    command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    book = tmp_path / "sale.xlsx"
    book.write_bytes(sample_book("first-sale"))
    opened = Path.open

    def gone(path: Path, *arguments: Any, **more: Any) -> Any:
        if path == book:
            book.unlink(missing_ok=True)
        return opened(path, *arguments, **more)

    monkeypatch.setattr(Path, "open", gone)
    assert main([command, str(book)]) == 1
    assert f"{book}: there is no such file" in capsys.readouterr().err


def test_two_makes_at_once_leave_one_whole_pack(tmp_path: Path) -> None:
    folder = tmp_path / "pack"
    makes = [
        subprocess.Popen(
            [*SALEBOOK, "make", str(FIRST), "-o", str(folder)],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
            cwd=ROOT,
        )
        for _time in range(2)
    ]
    said = [make.communicate()[1] for make in makes]
    assert [make.returncode for make in makes] == [0, 0], said
    assert ZipFile(folder / "sale.xlsx").testzip() is None
    assert [path.name for path in folder.iterdir() if path.name.startswith(".")] == []
    assert main(["check", str(folder / "sale.xlsx")]) == 0


class TestPlaces:
    """Places that make no sense are refused with a word of what would."""

    @pytest.mark.parametrize("arguments", [["make", str(FIRST), "-o", "-"], ["demo", "-"]])
    def test_several_files_do_not_go_to_standard_output(
        self, arguments: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
    ) -> None:
        monkeypatch.chdir(tmp_path)
        assert main(arguments) == 2
        assert "name a folder" in capsys.readouterr().err
        assert list(tmp_path.iterdir()) == []

    @pytest.mark.parametrize("today", ["9999-12-31", "0001-01-01", "2078-01-01"])
    def test_a_today_out_of_all_reach_of_the_sale_is_refused(self, today: str, capsys: Capture) -> None:
        assert main(["price", str(FIRST), "--today", today]) == 2
        assert capsys.readouterr().err.startswith(
            f"{today} lies more than 50 years from the sale on 2027-04-24"
        )

    @pytest.mark.parametrize("today", ["1977-01-01", "2077-12-31"])
    def test_any_other_today_is_taken(self, today: str, capsys: Capture) -> None:
        assert main(["price", str(FIRST), "--today", today]) == 0
        assert capsys.readouterr().err == ""


def test_a_plan_with_the_line_ends_of_old_computers_is_the_same_plan(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    file.write_bytes(FIRST.read_bytes().replace(b"\n", b"\r"))
    assert load_plan(file) == load_plan(FIRST)
