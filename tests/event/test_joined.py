"""What several tables filled in, put together."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from salebook.event.entries import (
    Banked,
    Claim,
    DayCount,
    Entries,
    GroupPayment,
    Kept,
    Line,
    PieceEntry,
    TableCount,
)
from salebook.event.joined import Book, Together, joined
from salebook.making.tally import StudioCount
from tests.event.table import FIRST, FIRST_DAY, SECOND_DAY, line


def book(file: str = "one", till: str = "", rows: Any = None, **filled_in: Any) -> Book:
    return Book(file=file, till=till, entries=Entries(**filled_in), rows=rows or {})


def together(*filled_in: dict[str, Any]) -> Together:
    names = ("one", "two", "three")
    return joined([book(file, **entries) for file, entries in zip(names, filled_in, strict=False)])


def asked(found: Together) -> list[tuple[str, int, str]]:
    return [(question.sheet, question.row, question.says) for question in found.questions]


def differ(sheet: str, what: str) -> tuple[str, int, str]:
    return sheet, 0, f"{what}: the books say different things"


def test_lines_stand_by_table_and_number_and_each_once() -> None:
    lines = [
        line(n, "donation", amount="1", till=till) for till, n in (("10", 1), ("2", 2), ("2", 1), ("1", 3))
    ]
    found = together({"lines": tuple(lines[:3])}, {"lines": tuple(lines[1:])})
    assert [("1", 3), ("2", 1), ("2", 2), ("10", 1)] == [
        (one.till, one.number) for one in found.entries.lines
    ]
    assert found.questions == ()


@pytest.mark.parametrize(
    ("more_in_first", "more_in_second", "taken"),
    [((), (), "one"), ((5,), (), "one"), ((), (5,), "two"), ((5,), (5,), "one"), ((5,), (5, 6), "two")],
)
def test_of_a_line_told_in_two_ways_that_of_the_longer_book_counts(
    more_in_first: tuple[int, ...], more_in_second: tuple[int, ...], taken: str
) -> None:
    def lines(amount: str, more: tuple[int, ...]) -> tuple[Line, ...]:
        others = (line(number, "raffle", amount="2", till="3") for number in more)
        return (line(4, "donation", amount=amount, till="3"), *others)

    found = joined(
        [
            book("one", rows={("3", 4): 21}, lines=lines("7", more_in_first)),
            book("two", rows={("3", 4): 22}, lines=lines("8", more_in_second)),
        ]
    )
    row = {"one": 21, "two": 22}[taken]
    assert asked(found) == [
        ("Takings", row, f"line 4 of table 3 differs: one row 21, two row 22; that of {taken} is taken")
    ]
    assert found.entries.lines[0].amount == {"one": 7, "two": 8}[taken]


def test_a_row_that_is_not_known_is_row_0() -> None:
    lines = [(line(4, "donation", amount=amount),) for amount in ("7", "8")]
    found = together(*({"lines": each} for each in lines))
    assert asked(found) == [
        ("Takings", 0, "line 4 of table 1 differs: one row 0, two row 0; that of one is taken")
    ]


def test_what_is_filled_in_about_a_piece_is_put_together_cell_by_cell() -> None:
    found = together(
        {"pieces": {FIRST: PieceEntry(grade="second")}},
        {"pieces": {FIRST: PieceEntry(reserved_for="7"), "MAY-002": PieceEntry(mishap="broken")}},
    )
    assert found.questions == ()
    assert found.entries.pieces == {
        FIRST: PieceEntry(grade="second", reserved_for="7"),
        "MAY-002": PieceEntry(mishap="broken"),
    }


@pytest.mark.parametrize(
    ("first", "second", "kept"),
    [
        (
            {"grade": "second"},
            {"grade": "first", "reserved_for": "7"},
            {"grade": "second", "reserved_for": "7"},
        ),
        ({"mishap": "broken"}, {"mishap": "missing"}, {"mishap": "broken"}),
        ({"reserved_for": "7"}, {"reserved_for": "8"}, {"reserved_for": "7"}),
    ],
)
def test_a_piece_told_in_two_ways_is_asked_about_and_the_first_counts(
    first: dict[str, Any], second: dict[str, Any], kept: dict[str, Any]
) -> None:
    found = together({"pieces": {FIRST: PieceEntry(**first)}}, {"pieces": {FIRST: PieceEntry(**second)}})
    assert ({FIRST: PieceEntry(**kept)}, [differ("Pieces", FIRST)]) == (found.entries.pieces, asked(found))


@pytest.mark.parametrize(
    ("key", "sheet", "values"),
    [
        ("made", "Pieces", (28, 27)),
        ("studio", "Making", (StudioCount(thrown=30), StudioCount(thrown=31))),
        ("actual_costs", "Costs", (Decimal(4), Decimal(5))),
        ("actual_fees", "Share-out", (Decimal(1), Decimal(2))),
    ],
)
def test_of_single_values_that_differ_the_first_counts_and_it_is_asked(
    key: str, sheet: str, values: tuple[object, object]
) -> None:
    first, second = values
    found = together({key: {"DOT": first}}, {key: {"DOT": first, "MAY": second}}, {key: {"DOT": second}})
    assert ({"DOT": first, "MAY": second}, [differ(sheet, "DOT")]) == (
        getattr(found.entries, key),
        asked(found),
    )


def test_a_cash_box_and_a_count_of_the_table_stand_once() -> None:
    boxes = [
        DayCount(day=FIRST_DAY, till=till, float_=Decimal(n)) for till, n in (("1", 20), ("2", 30), ("1", 25))
    ]
    counts = [TableCount(day=day, code="MAY", counted=3) for day in (FIRST_DAY, SECOND_DAY)]
    found = together(
        {"cash": tuple(boxes[:2]), "table": (counts[0],)}, {"cash": (boxes[2],), "table": tuple(counts)}
    )
    assert (tuple(boxes[:2]), tuple(counts)) == (found.entries.cash, found.entries.table)
    assert asked(found) == [differ("Cash-up", "two")]


def test_money_moved_twice_alike_is_kept_as_often_as_one_book_has_it() -> None:
    paid_in = Banked(day=FIRST_DAY, what="cash", arrived=Decimal(50))
    other = Banked(day=SECOND_DAY, what="card", arrived=Decimal(9))
    paid = GroupPayment(day=SECOND_DAY, group="Tide ~ mill", amount=Decimal(5))
    found = together(
        {"banked": (paid_in, paid_in), "payments": (paid,)}, {"banked": (paid_in, other), "payments": (paid,)}
    )
    assert ((paid_in, paid_in, other), (paid,)) == (found.entries.banked, found.entries.payments)


def test_a_claim_number_that_stands_for_two_people_is_asked_about_and_both_are_kept() -> None:
    ada, same, bea = Claim(claim="c7", name="A"), Claim(claim="c7", name="A"), Claim(claim="C7", name="B")
    found = together({"claims": (ada,)}, {"claims": (same, bea)})
    assert ((ada, bea), [differ("Hand over", "a claim number")]) == (found.entries.claims, asked(found))


def test_people_without_a_claim_number_are_kept_and_nothing_is_asked() -> None:
    cleo, dan = Claim(claim="", name="C"), Claim(claim="", name="D")
    found = together({"claims": (cleo,)}, {"claims": (dan,)})
    assert ((cleo, dan), []) == (found.entries.claims, asked(found))


def test_another_claim_number_is_another_person() -> None:
    found = together({"claims": (Claim(claim="7"), Claim(claim="8"))}, {"claims": (Claim(claim="9"),)})
    assert (3, ()) == (len(found.entries.claims), found.questions)


def test_the_first_day_of_the_studios_count_and_all_that_was_kept_go_on() -> None:
    kept = Kept(sheet="Pieces", says="DOT: 28 out of the kiln")
    day = date(2027, 6, 1)
    found = together({"kept": (kept,)}, {"kept": (kept,), "studio_day": day})
    assert (day, (kept,)) == (found.entries.studio_day, found.entries.kept)


def test_a_table_given_twice_is_good_to_know() -> None:
    books = [book(file, till) for file, till in (("a", "1"), ("b", "2"), ("c", "1"), ("d", ""), ("e", ""))]
    assert joined(books).notes == ("table 1 is given 2 times (a, c): each line counts once",)
