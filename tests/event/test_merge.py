"""What several tills filled in, put together."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given

from salebook.event.entries import (
    Banked,
    Claim,
    DayCount,
    Entries,
    FromHere,
    GroupPayment,
    Line,
    PieceEntry,
    TableCount,
    Unplaced,
    UnplannedCost,
)
from salebook.event.frozen_amounts import freeze_amounts
from salebook.event.lines import days_of, order_of
from salebook.event.merge import MergedEntries, merge
from salebook.event.question import Question
from salebook.event.told import TillBook
from salebook.making.firing_done import FiringDone
from salebook.making.studio_tally import StudioCount
from salebook.plan.load import read_plan
from salebook.reckoning import reckon
from tests.support.small_event import FIRST, FIRST_DAY, PLAN, SECOND_DAY, UNNUMBERED, after, line, messy_lines


def book(file: str = "one", till: str = "", rows: Any = None, **filled_in: Any) -> TillBook:
    return TillBook(file=file, till=till, entries=Entries(**filled_in), rows=rows or {})


def together(*filled_in: dict[str, Any]) -> MergedEntries:
    names = ("one", "two", "three")
    return merge([book(file, **entries) for file, entries in zip(names, filled_in, strict=False)])


def asked(found: MergedEntries) -> list[tuple[str, int, str]]:
    return [(question.sheet, question.row, question.says) for question in found.questions]


def differ(sheet: str, what: str, other: str = "two") -> tuple[str, int, str]:
    return sheet, 0, f"{what}: one and {other} say different things; what one says counts"


def test_lines_stand_by_till_and_number_and_each_once() -> None:
    lines = [
        line(n, "donation", amount="1", till=till) for till, n in (("10", 1), ("2", 2), ("2", 1), ("1", 3))
    ]
    found = together({"lines": tuple(lines[:3])}, {"lines": tuple(lines[1:])})
    assert [("1", 3), ("2", 1), ("2", 2), ("10", 1)] == [
        (one.till, one.number) for one in found.entries.lines
    ]
    assert found.questions == ()


def test_a_line_told_in_two_ways_counts_twice_and_is_asked_about() -> None:
    seven = line(4, "donation", amount="7", till="3", book="K4")
    found = merge(
        [
            book(file, rows={told.identity: row}, lines=(told,))
            for file, row, told in (("one", 21, seven), ("two", 22, replace(seven, amount=Decimal(8))))
        ]
    )
    says = "line 4 of table 3 says something else in one, row 21: both count"
    assert [Question(sheet="Takings", row=22, says=says, book="two")] == list(found.questions)
    assert [7, 8] == [one.amount for one in found.entries.lines]
    assert {"one", "two"} == set(found.files.values())


def test_a_line_told_in_a_third_way_is_asked_about_beside_the_first() -> None:
    lines = [line(4, "donation", amount=amount, till="3", book="K4") for amount in ("7", "8", "9")]
    found = together(*({"lines": (told,)} for told in lines))
    assert [("two", True), ("three", True)] == [
        (one.book, " in one, " in one.says) for one in found.questions
    ]
    assert [7, 8, 9] == [one.amount for one in found.entries.lines]


def test_what_stood_twice_in_one_book_is_asked_about_where_that_is_read() -> None:
    seven, eight = (line(4, "donation", amount=amount, till="3", book="K4") for amount in ("7", "8"))
    nine = replace(seven, amount=Decimal(9))
    found = merge([book("one", lines=(seven,)), book("two", lines=(eight, nine))])
    assert ["two"] == [question.book for question in found.questions]
    assert [7, 8, 9] == [one.amount for one in found.entries.lines]


def test_what_stood_twice_when_books_were_joined_stands_twice_ever_after() -> None:
    tills = [
        book(file, lines=(line(1, "donation", amount=amount, book="K4"),))
        for file, amount in (("one", "7"), ("two", "8"))
    ]
    once = merge(tills)
    again = merge([book("all", lines=once.entries.lines), *tills])
    assert (once.entries.lines, ()) == (again.entries.lines, again.questions)


def test_tables_of_two_days_are_two_books_whose_numbers_never_clash() -> None:
    saturday = line(1, piece=FIRST, book="SAT")
    sunday = [line(1, "donation", amount="1", book="SUN", day=SECOND_DAY)]
    sunday.append(line(2, "raffle", amount="1", book="SUN"))
    books = [book("sat", lines=(saturday,)), book("sun", lines=tuple(sunday))]
    found = merge([replace(one, first_day=FIRST_DAY) for one in books], first_day=FIRST_DAY)
    assert ((("SAT", 1), ("SUN", 1), ("SUN", 2)), ()) == (
        tuple((one.book, one.number) for one in found.entries.lines),
        found.questions,
    )
    assert len({order_of(one) for one in found.entries.lines}) == 3


def test_a_line_keeps_the_day_that_it_has_in_its_own_book() -> None:
    lines = (
        line(1, "raffle", amount="1", book="K4", day=SECOND_DAY),
        line(2, "raffle", amount="2", book="K4"),
    )
    other = (replace(lines[1], amount=Decimal(3)),)
    tills = [book("one", lines=lines), book("two", lines=other)]
    found = merge([replace(one, first_day=FIRST_DAY) for one in tills], first_day=FIRST_DAY)
    days = days_of(found.entries.lines, FIRST_DAY)
    by_amount = {one.amount: days[order_of(one)][1] for one in found.entries.lines}
    assert {1: SECOND_DAY, 2: SECOND_DAY, 3: FIRST_DAY} == by_amount


@pytest.mark.parametrize("turned", [False, True])
def test_an_amount_that_renewing_filled_in_makes_no_other_line(turned: bool) -> None:
    typed = line(1, piece=FIRST, book="K4")
    renewed = replace(typed, amount=Decimal(28), day=FIRST_DAY, settled=("day", "amount"))
    books = [book("old", lines=(typed,)), book("renewed", lines=(renewed,))]
    found = merge(books[::-1] if turned else books)
    assert ((renewed,), ()) == (found.entries.lines, found.questions)


@pytest.mark.parametrize("turned", [False, True])
def test_a_price_that_renewing_wrote_beside_an_order_makes_no_other_line(turned: bool) -> None:
    typed = line(1, "order", "MAY", "10", claim="7", book="K4")
    renewed = replace(typed, agreed_price=Decimal(28))
    copies = [book("all", lines=(renewed,)), book("one", lines=(typed, line(2, book="K4", amount="5")))]
    found = merge(copies[::-1] if turned else copies)
    assert (Decimal(28), 2, ()) == (
        found.entries.lines[0].agreed_price,
        len(found.entries.lines),
        found.questions,
    )


def test_two_prices_agreed_with_one_order_are_asked_about() -> None:
    typed = line(1, "order", "MAY", "10", claim="7", book="K4")
    prices = (Decimal(28), Decimal(31))
    found = together(*({"lines": (replace(typed, agreed_price=price),)} for price in prices))
    assert (2, 1) == (len(found.entries.lines), len(found.questions))


@given(lines=messy_lines())
def test_a_book_joined_with_its_renewed_copy_is_the_renewed_one_and_asks_nothing(
    lines: tuple[Line, ...],
) -> None:
    before = after(
        *lines, line(98, "order", "MAY", "10", claim="7"), line(99, "order", UNNUMBERED, claim="8")
    )
    plan = PLAN.replace("WANTED", "4").replace("price = 28", "price = 31").replace("1.50", "2.50")
    dearer = reckon(read_plan(plan, file="table.toml"))
    renewed = freeze_amounts(before, dearer).entries
    found = merge([book("all", lines=before.entries.lines), book("again", lines=renewed.lines)])
    assert ((), set(renewed.lines)) == (found.questions, set(found.entries.lines))


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
    assert ({"DOT": first, "MAY": second}, [differ(sheet, "DOT", "three")]) == (
        getattr(found.entries, key),
        asked(found),
    )


def test_a_cash_box_and_a_count_of_the_table_stand_once() -> None:
    boxes = [
        DayCount(day=FIRST_DAY, till=till, float_=Decimal(n)) for till, n in (("1", 20), ("2", 30), ("1", 25))
    ]
    counts = [TableCount(day=day, code="MAY", counted=3) for day in (FIRST_DAY, SECOND_DAY)]
    found = together(
        {"cash": tuple(boxes[:2]), "table_counts": (counts[0],)},
        {"cash": (boxes[2],), "table_counts": tuple(counts)},
    )
    assert (tuple(boxes[:2]), tuple(counts)) == (found.entries.cash, found.entries.table_counts)
    assert asked(found) == [differ("Cash-up", "the cash box of 2027-06-19, till 1")]


def test_money_moved_twice_alike_is_kept_as_often_as_one_book_has_it() -> None:
    paid_in = Banked(day=FIRST_DAY, what="cash", arrived=Decimal(50))
    other = Banked(day=SECOND_DAY, what="card", arrived=Decimal(9))
    paid = GroupPayment(day=SECOND_DAY, group="Tide ~ mill", amount=Decimal(5))
    spent = UnplannedCost(name="parking", amount=Decimal(8), met_by="sale")
    found = together(
        {"banked": (paid_in, paid_in), "payments": (paid,), "unplanned": (spent,)},
        {"banked": (paid_in, other), "payments": (paid,), "unplanned": (spent, spent)},
    )
    entries = found.entries
    assert ((paid_in, paid_in, other), (paid,)) == (entries.banked, entries.payments)
    assert entries.unplanned == (spent, spent)


def test_a_firing_done_stands_once_though_each_copy_of_the_book_has_it() -> None:
    first, second = FiringDone(firing="biscuit", load=1), FiringDone(firing="biscuit", load=2)
    found = together({"firings_done": (first,)}, {"firings_done": (first, second)}, {})
    assert found.entries.firings_done == (first, second)


def test_a_claim_number_that_stands_for_two_people_is_asked_about_and_both_are_kept() -> None:
    ada, same, bea = Claim(claim="c7", name="A"), Claim(claim="c7", name="A"), Claim(claim="C7", name="B")
    found = together({"claims": (ada,)}, {"claims": (same, bea)})
    says = "a claim number is somebody else in one and in two: both stay"
    assert ((ada, bea), [("Hand over", 0, says)]) == (found.entries.claims, asked(found))


def test_people_without_a_claim_number_are_kept_and_nothing_is_asked() -> None:
    cleo, dan = Claim(claim="", name="C"), Claim(claim="", name="D")
    found = together({"claims": (cleo,)}, {"claims": (dan,)})
    assert ((cleo, dan), []) == (found.entries.claims, asked(found))


def test_another_claim_number_is_another_person() -> None:
    found = together({"claims": (Claim(claim="7"), Claim(claim="8"))}, {"claims": (Claim(claim="9"),)})
    assert (3, ()) == (len(found.entries.claims), found.questions)


def test_the_first_day_of_the_studios_count_and_all_that_was_kept_go_on() -> None:
    kept = Unplaced(sheet="Pieces", says="DOT: 28 out of the kiln")
    day = date(2027, 6, 1)
    found = together({"unplaced": (kept,)}, {"unplaced": (kept,), "studio_day": day})
    assert (day, (kept,)) == (found.entries.studio_day, found.entries.unplaced)


def test_the_first_look_ahead_that_anybody_typed_goes_on() -> None:
    half, dearer = FromHere(over=Decimal("0.5")), FromHere(other=Decimal("1.1"))
    found = together({}, {"from_here": half}, {"from_here": dearer})
    assert [half, FromHere()] == [found.entries.from_here, together({}, {}).entries.from_here]


def test_a_table_given_twice_is_good_to_know() -> None:
    books = [book(file, till) for file, till in (("a", "1"), ("b", "2"), ("c", "1"), ("d", ""), ("e", ""))]
    assert merge(books).notes == ("table 1 is given 2 times (a, c): each line counts once",)
