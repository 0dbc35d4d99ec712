"""Photographs of stubs become lines of a fresh workbook, which has all that the one before has."""

import os
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from salebook.base.errors import FileError, WrongUseError
from salebook.book.read import read_book
from salebook.book.write import book_bytes
from salebook.cli import main
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.jobs.piles import Asked
from salebook.jobs.report import report_on
from salebook.jobs.samples import packaged_samples
from salebook.jobs.stubs import StubsRead, read_stubs
from salebook.photos.outlines import is_drawn
from tests.support.entry_strategies import a_day_of_takings
from tests.support.small_event import FIRST, FIRST_DAY, line, sale
from tests.support.stub_photos import SMALL, Light, drawn_stubs, photograph

TODAY = date(2027, 6, 21)
CLOSE: Light = replace(SMALL, megapixels=1)


@cache
def jpeg(*numbers: str) -> bytes:
    photo = photograph(drawn_stubs(numbers), CLOSE, seed=3)
    assert set(photo.whole) == set(numbers)
    return photo.jpeg


def put_photos(folder: Path, photos: Mapping[str, tuple[str, ...]]) -> None:
    """Put photographs into folders: the stubs on each by its path."""
    for name, numbers in photos.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(jpeg(*numbers))


@cache
def empty_book() -> bytes:
    return book_with(Entries())


def book_with(filled_in: Entries) -> bytes:
    return book_bytes(sale(), reckon_event(sale(), filled_in), sale_id="abc", book_id="K4C4C")


def put_book(folder: Path, filled_in: Entries | None = None) -> Path:
    path = folder / "sale.xlsx"
    path.write_bytes(book_with(filled_in) if filled_in else empty_book())
    return path


def read(
    book: Path, *places: str, is_dry: bool = False, out: Path | None = None, **more: object
) -> StubsRead:
    asked = Asked(
        places=tuple(book.parent / place for place in places),
        **{"day": FIRST_DAY, **more},  # type: ignore[arg-type]
    )
    return read_stubs(book, asked, out=out, is_dry=is_dry, today=TODAY)


@pytest.mark.slow
def test_piles_become_lines_and_their_sums_are_right(tmp_path: Path) -> None:
    put_photos(tmp_path, {"cash/1.jpg": ("MAY-001", "MAY-002", "MAY-005"), "card/1.jpg": ("D1-001", "DOT")})
    made = read(put_book(tmp_path), "cash", "card", counts={"cash": 3, "card": 2})
    assert ((), tmp_path / "sale-stubs.xlsx") == (made.questions, made.path)
    report = report_on(made.path)
    # 28 + 28 as firsts, 18 as a second; 14.50 given, 1.50 without a number.
    assert Decimal("74.00") == report.received.by_way["cash"]
    assert Decimal("16.00") == report.received.by_way["card"]


@pytest.mark.slow
def test_what_the_book_had_is_untouched(tmp_path: Path) -> None:
    filled_in = a_day_of_takings(sale().plan)
    book = put_book(tmp_path, filled_in)
    before, content = read_book(book), book.read_bytes()
    put_photos(tmp_path, {"card/1.jpg": ("D1-002",)})
    made = read(book, "card")
    after = read_book(made.path)
    (added,) = (stub.line for stub in made.lines)
    assert content == book.read_bytes()
    assert (*before.entries.lines, added) == after.entries.lines
    assert replace(before.entries, lines=()) == replace(after.entries, lines=())
    assert (before.plan, before.sale_id, before.book_id) == (after.plan, after.sale_id, after.book_id)
    assert set(before.questions) <= set(made.questions)


def test_a_line_to_fill_in_is_asked_about_by_the_book_itself(tmp_path: Path) -> None:
    put_photos(tmp_path, {"other/1.jpg": (FIRST,)})
    made = read(put_book(tmp_path), "other")
    (question,) = made.questions
    assert "fill in its price or gift" in question.says
    again = read_book(made.path)
    assert ["the amount is not a number"] == [asked.says for asked in again.questions]
    assert "stub: another price, or a gift?" == again.entries.lines[0].note


@pytest.mark.slow
def test_beside_the_book_lies_a_picture_of_each_photograph(tmp_path: Path) -> None:
    put_photos(tmp_path, {"cash/1.jpg": (FIRST,), "sat/cash/1.jpg": ("MAY-002",), "card/2.jpg": ("D1-001",)})
    made = read(put_book(tmp_path), "cash", "sat/cash", "card")
    names = ["sale-stubs-cash-1.jpg", "sale-stubs-cash-1-2.jpg", "sale-stubs-card-2.jpg"]
    assert [tmp_path / name for name in names] == list(made.pictures)
    assert all(is_drawn(picture) for picture in made.pictures)
    assert [("cash", 2), ("card", 1)] == [(pile.name, len(pile.stubs)) for pile in made.piles]


@pytest.mark.slow
def test_a_picture_that_was_drawn_is_no_photograph(tmp_path: Path) -> None:
    put_photos(tmp_path, {"1.jpg": (FIRST,)})
    book = put_book(tmp_path)
    (picture,) = read(book, "1.jpg", paid="cash").pictures
    again = read(book, "1.jpg", picture.name, paid="cash")
    assert ((picture,), (picture,)) == (again.left_out, again.pictures)


def test_nothing_is_written_in_a_dry_run(tmp_path: Path) -> None:
    put_photos(tmp_path, {"cash/1.jpg": (FIRST,)})
    book = put_book(tmp_path)
    before = set(tmp_path.rglob("*"))
    made = read(book, "cash", is_dry=True, counts={"cash": 2})
    assert (False, 1, before) == (made.is_written, len(made.lines), set(tmp_path.rglob("*")))
    assert ["1 of 2 stubs were read: a missing one has no outline on the pictures"] == [
        question.says for question in made.questions
    ]


def test_where_no_line_is_made_no_book_is_written(tmp_path: Path) -> None:
    put_photos(tmp_path, {"cash/1.jpg": ("ZZZ-001",)})
    made = read(put_book(tmp_path), "cash")
    assert (False, False) == (made.is_written, made.path.exists())
    assert len(made.questions) == 2


@pytest.mark.slow
def test_a_book_is_written_in_its_own_place_only_with_a_dated_copy(tmp_path: Path) -> None:
    put_photos(tmp_path, {"cash/1.jpg": (FIRST,)})
    book = put_book(tmp_path, Entries(lines=(line(1, piece="MAY-002"),)))
    content = book.read_bytes()
    made = read(book, "cash", out=book)
    assert tmp_path / "sale-2027-06-21.xlsx" == made.kept_copy
    assert content == (tmp_path / "sale-2027-06-21.xlsx").read_bytes()
    assert ["MAY-002", FIRST] == [one.piece for one in read_book(book).entries.lines]


@pytest.mark.slow
def test_the_second_evening_goes_on_where_the_first_ended(tmp_path: Path) -> None:
    put_photos(tmp_path, {"cash/1.jpg": (FIRST,), "sunday/cash/1.jpg": ("MAY-002", FIRST)})
    first = read(put_book(tmp_path), "cash")
    second = read(first.path, "sunday/cash", day=date(2027, 6, 20), out=tmp_path / "sunday.xlsx")
    lines = read_book(second.path).entries.lines
    assert [(1, FIRST), (2, FIRST), (3, "MAY-002")] == [(one.number, one.piece) for one in lines]
    assert ["line 2, MAY-001 in cash: sold twice"] == [question.says for question in second.questions]


def test_all_that_cannot_be_read_is_named_at_once(tmp_path: Path) -> None:
    put_photos(tmp_path, {"cash/1.jpg": (FIRST,)})
    (tmp_path / "cash" / "2.jpg").write_bytes(b"two mugs")
    (tmp_path / "cash" / "3.png").write_bytes(b"")
    with pytest.raises(FileError, match=r"2\.jpg: cannot be read(?s:.*)3\.png: cannot be read") as told:
        read(put_book(tmp_path), "cash")
    assert 2 == len(str(told.value).splitlines())
    assert not (tmp_path / "sale-stubs.xlsx").exists()


@pytest.mark.slow
def test_what_else_lies_in_a_folder_is_left_out_and_named(tmp_path: Path) -> None:
    put_photos(tmp_path, {"cash/1.jpg": (FIRST,)})
    for name in ("notes.txt", "1.mov", ".hidden"):
        (tmp_path / "cash" / name).touch()
    (tmp_path / "cash" / "folder.jpg").mkdir()
    (tmp_path / "cash" / "nowhere.jpg").symlink_to(tmp_path / "gone.jpg")
    os.mkfifo(tmp_path / "cash" / "pipe.jpg")
    made = read(put_book(tmp_path), "cash")
    others = {
        tmp_path / "cash" / name for name in ("notes.txt", "1.mov", "folder.jpg", "nowhere.jpg", "pipe.jpg")
    }
    assert others == set(made.left_out)


WRONG = {
    "no way to pay": (
        {},
        "say how it was paid, with --paid, or put it in a folder of that name: cash, card",
    ),
    "no such way": ({"paid": "shells"}, "“shells” is no way to pay of this sale"),
    "no such pile": (
        {"paid": "cash", "counts": {"card": 3}},
        "no pile “card” to count; expected one",
    ),
    "no day": ({"paid": "cash", "day": None}, "with --day: 2027-06-19, 2027-06-20"),
    "another day": ({"paid": "cash", "day": date(2026, 6, 19)}, "2026-06-19 is no day of the sale"),
}


@pytest.mark.parametrize(("more", "says"), WRONG.values(), ids=WRONG)
def test_what_the_sale_does_not_have_is_refused(more: dict[str, object], says: str, tmp_path: Path) -> None:
    put_photos(tmp_path, {"1.jpg": (FIRST,)})
    book = put_book(tmp_path)
    with pytest.raises(WrongUseError, match=says):
        read(book, "1.jpg", **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("place", "paid", "says"),
    [
        ("gone.jpg", "cash", "there is no such photograph"),
        ("csah", None, "there is no such photograph or folder"),
        ("cash", None, "no photograph in this folder"),
    ],
)
def test_a_place_without_photographs_is_named(
    place: str, paid: str | None, says: str, tmp_path: Path
) -> None:
    (tmp_path / "cash").mkdir()
    book = put_book(tmp_path)
    with pytest.raises(FileError, match=says):
        read(book, place, paid=paid)


def test_a_folder_that_is_not_there_is_named_before_any_photograph_is_read(tmp_path: Path) -> None:
    put_photos(tmp_path, {"cash/1.jpg": ("MAY-001",)})
    (tmp_path / "cash/2.jpg").write_bytes(b"")
    book, out = put_book(tmp_path), tmp_path / "gone" / "saturday.xlsx"
    with pytest.raises(FileError) as raised:
        read(book, "cash", out=out)
    assert str(raised.value) == (
        f"{out}: cannot be written: No such file or directory; choose another folder"
    )


@pytest.mark.parametrize("mark", [".~lock.sale.xlsx#", ".~lock.sale-stubs.xlsx#"])
def test_a_book_open_in_a_spreadsheet_program_is_left_alone(mark: str, tmp_path: Path) -> None:
    put_photos(tmp_path, {"cash/1.jpg": (FIRST,)})
    book = put_book(tmp_path)
    (tmp_path / mark).touch()
    with pytest.raises(FileError, match="open in a spreadsheet program"):
        read(book, "cash")


def run(*arguments: object) -> int:
    return main(["stubs", *map(str, arguments)])


def test_the_command_says_what_was_read_and_which_book_to_use(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    put_photos(tmp_path, {"cash/1.jpg": (FIRST, "MAY-002"), "card/1.jpg": ("D1-001",)})
    piles = (tmp_path / "cash", tmp_path / "card")
    assert 0 == run(put_book(tmp_path), *piles, "--day", "2027-06-19", "--count", "cash=2")
    told = capsys.readouterr()
    assert "" == told.err
    for says in ("cash: stubs read: 2 of 2.", "card: 1 stub was read; count yours.", "3 lines are added"):
        assert says in told.out


def test_the_command_says_what_to_do_where_stubs_are_missing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    put_photos(tmp_path, {"cash/1.jpg": (FIRST,)})
    book = put_book(tmp_path)
    assert 3 == run(book, tmp_path / "cash", "--day", "2027-06-19", "--count", "cash=9", "--dry-run")
    told = capsys.readouterr()
    assert "No workbook was written; lines it would add: 1." in told.out
    assert "cash: 1 of 9 stubs were read" in told.err
    assert "closer, flatter, in better light" in told.err


@pytest.mark.parametrize("count", ["cash", "=3", "cash=few", "cash=-1"])
def test_a_count_is_a_pile_and_a_number(
    count: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert 2 == run(tmp_path / "sale.xlsx", tmp_path, "--count", count)
    assert "such as cash=38" in capsys.readouterr().err


def test_without_the_extra_the_command_says_what_to_install(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("salebook.photos.extra.PACKAGES", ("a_package_that_nobody_has",))
    assert 1 == run(put_book(tmp_path), tmp_path, "--paid", "cash")
    told = capsys.readouterr().err
    assert "pip install '.[photos]'" in told
    assert 1 == len(told.splitlines())


@pytest.mark.slow
def test_without_the_extra_make_says_how_to_get_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    make = ["make", str(packaged_samples() / "first-sale.toml"), "-o", str(tmp_path)]
    assert main(make) == 0
    assert "photos" not in capsys.readouterr().out
    monkeypatch.setattr("salebook.photos.extra.PACKAGES", ("a_package_that_nobody_has",))
    assert main(make) == 0
    assert "To read photographs of stubs: .venv/bin/pip install '.[photos]'" in capsys.readouterr().out


@pytest.mark.slow
def test_the_sample_has_a_photograph_to_try(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["demo", str(tmp_path)]) == 0
    line = next(line for line in capsys.readouterr().out.splitlines() if "salebook stubs" in line)
    assert 0 == run(*line.partition("salebook stubs ")[2].split(), "--count", "cash=12")
    assert "stubs read: 12 of 12" in capsys.readouterr().out
    report = report_on(tmp_path / "sale-stubs.xlsx")
    # Six mugs at 20, two bowls at 26, two jugs at 36, two lamp feet at 45.
    assert Decimal(6 * 20 + 2 * 26 + 2 * 36 + 2 * 45) == report.received.by_way["cash"]
