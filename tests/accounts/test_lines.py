"""The list of lines says what the accounts say, and no person's name."""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.accounts.lines import lines_of
from salebook.accounts.row import Row
from salebook.accounts.sums import sums_of
from salebook.event.entries import Entries, Line
from salebook.event.report import Report, report_of
from salebook.plan.money import ZERO
from tests.support.entry_strategies import entries
from tests.support.finished_sale import FILLED, LINES, REED, TIDE, accounts, accounts_with
from tests.support.plan_strategies import plan_of, plan_tables
from tests.support.sale_strategies import Sale
from tests.support.small_event import FIRST, FIRST_DAY, SECOND_DAY, line, messy_lines, sale
from tests.support.strategies import Tables, at_most


def listed(report: Report, part: str) -> list[Row]:
    return [row for row in lines_of(report) if row.part == part]


def test_each_line_of_takings_is_a_row() -> None:
    first, second, *_rest = listed(accounts(), "line")
    assert first == Row(
        part="line",
        till="1",
        line="1",
        day="2027-06-19",
        kind="sale",
        piece=FIRST,
        what="Mug",
        count="1",
        list_price="28.00",
        amount="28.00",
        gift="2.00",
        way="cash",
        group=TIDE,
        to_group="2.00",
        arrived="yes",
    )
    assert (second.piece, second.way, second.gift, second.to_group) == ("D1-001", "card", "", "")


def test_a_line_without_a_piece_says_nothing_of_one() -> None:
    found = next(row for row in listed(accounts(), "line") if row.kind == "raffle")
    assert (found.piece, found.count, found.list_price, found.gift) == ("", "", "", "")


def test_shares_are_numbered_as_the_groups_stand_in_the_plan() -> None:
    assert [(row.line, row.group) for row in listed(accounts(), "share")] == [("1", REED), ("2", TIDE)]


def test_texts_are_written_as_a_reader_tidies_them() -> None:
    report = accounts_with(('title = "Ropewalk table"', 'title = "=Cafe\u0301 table"'))
    guarded = accounts_with(('title = "Ropewalk table"', 'title = "\'=1+1"'))
    assert [lines_of(one)[0].what for one in (report, guarded)] == ["=Caf\u00e9 table", "=1+1"]


def test_money_that_is_promised_or_went_straight_to_a_group_says_so() -> None:
    gifts = [row for row in listed(accounts(), "line") if row.kind == "donation"]
    assert [(row.arrived, row.group, row.to_group) for row in gifts] == [
        ("straight", TIDE, ""),
        ("no", "", ""),
    ]


def test_what_leaves_the_takings_is_negative_but_for_what_was_paid_to_groups() -> None:
    rows = lines_of(accounts())
    moved = [
        (row.part, row.kind, row.piece, row.way or row.group or row.what, row.amount) for row in rows[2:]
    ]
    assert moved[len(LINES) :] == [
        ("fee", "", "", "card", "-0.30"),
        ("cost", "material", "", "bags", "-0.67"),
        ("cost", "overhead", "", "hall", "-4.00"),
        ("giver", "", "D1", "Carved spoon", "-3.63"),
        ("share", "", "", REED, "-73.43"),
        ("share", "", "", TIDE, "-36.72"),
        ("paid", "", "", TIDE, "10.00"),
    ]


@pytest.mark.parametrize(
    ("more", "day", "kind"),
    [
        ({}, "2027-06-20", "not final"),
        ({"up_to": FIRST_DAY}, "2027-06-19", "interim"),
    ],
)
def test_the_sales_row_says_what_is_covered(more: dict[str, Any], day: str, kind: str) -> None:
    rows = lines_of(report_of(sale(), Entries(lines=(line(1, piece="?"), *LINES[1:])), **more))
    assert rows[0] == Row(part="sale", day=day, kind=kind, what="Ropewalk table")
    assert rows[1] == Row(part="currency", kind="GBP", parts="100")


def test_accounts_that_need_no_look_are_final() -> None:
    assert lines_of(accounts(line(1, piece=FIRST)))[0].kind == "final"


def agrees(report: Report) -> None:
    """Hold the list's sums against the report's."""
    digits, share_out = report.plan.sale.digits, report.event.share_out
    sums = sums_of(lines_of(report), digits)
    received = report.received
    off = (share_out.named, share_out.fees, share_out.costs_met_by_sale, share_out.to_givers)
    assert (sums.takings, sums.pool) == (share_out.takings, share_out.pool)
    assert (sums.named, sums.fees, sums.costs, sums.to_givers) == off
    assert _without_0(sums.by_kind) == _without_0(
        {str(kind): sum_ for kind, sum_ in received.by_kind.items()}
    )
    assert _without_0(sums.by_way) == _without_0(received.by_way)
    assert _without_0(sums.by_day) == _without_0(
        {day.isoformat(): sum_ for day, sum_ in received.by_day.items()}
    )
    assert sums.waiting == sum((way.waiting for way in share_out.ways), ZERO) + _waiting_unpaid(report)
    assert [
        (group.group, group.named, group.share, group.stated, group.straight, group.paid)
        for group in sums.groups
    ] == [
        (share.group.name, share.named, share.share, share.share, share.direct, share.paid)
        for share in share_out.groups
    ]


def _without_0(sums: Mapping[str, Decimal]) -> dict[str, Decimal]:
    return {key: amount for key, amount in sums.items() if amount}


def _waiting_unpaid(report: Report) -> Decimal:
    """Return what is promised with no way to pay known: no way's sum holds it."""
    return sum((line.waiting for line in report.event.state.lines if not line.way), ZERO)


@given(messy_lines())
def test_the_list_adds_up_to_the_accounts_of_messy_lines(lines: tuple[Line, ...]) -> None:
    agrees(report_of(sale(), Entries(lines=lines)))


@at_most(30)
@given(plan_tables(), st.data())
def test_the_list_adds_up_to_the_accounts_of_any_sale(tables: Tables, data: st.DataObject) -> None:
    filled = data.draw(entries(plan_of(tables), most_lines=10, unread=True))
    agrees(Sale(tables=tables, entries=filled).report)


def test_the_sum_of_all_rows_is_what_is_missing_or_nothing() -> None:
    """What came in less what came off, went to groups by name and was shared is nothing."""
    rows = lines_of(accounts())
    came = sum(Decimal(row.amount) + Decimal(row.gift or 0) for row in rows if row.arrived == "yes")
    named = sum(Decimal(row.to_group or 0) for row in rows if row.arrived == "yes")
    off = sum(Decimal(row.amount) for row in rows if row.part in {"fee", "cost", "giver", "share"})
    assert came - named + off == 0


def test_no_name_contact_note_or_claim_stands_in_the_list() -> None:
    noted = tuple(replace(line, note="for Ada's mother, 01632 960123") for line in LINES)
    typed_wrong = line(8, piece="ADA QUILL", amount="5", group="Ben Oss", way="Otto Reed", claim="C17")
    report = report_of(sale(), Entries(lines=(*noted, typed_wrong), **FILLED))
    texts = {text for row in lines_of(report) for text in row.texts}
    said = " ".join(texts).casefold()
    for secret in (
        "ada",
        "quill",
        "ben oss",
        "otto",
        "ivy",
        "01632",
        "mill row",
        "mother",
        "c17",
        "neighbour",
    ):
        assert secret not in said
    assert "C1" not in texts
    assert len(listed(report, "line")) == len(LINES) + 1
    assert SECOND_DAY.isoformat() in texts
