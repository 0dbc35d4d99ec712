"""The sheets of the money, worked out anew by LibreOffice, against the model."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from salebook.book.write import book_bytes
from salebook.event.entries import Banked, DayCount, Entries, GroupPayment, Line, TableCount, UnplannedCost
from salebook.event.event import reckon_event
from tests.support.books import few_free_lines
from tests.support.cells import values_of
from tests.support.programs import needs_libreoffice
from tests.support.proof import differing_cells, recalculated_by_libreoffice
from tests.support.sound_plan import Place
from tests.support.sound_sale import reckoning_with, sale

MINE = {"Start here", "Cash-up", "Costs", "Progress", "Share-out"}
FIRST, SECOND = date(2027, 5, 8), date(2027, 5, 9)
WEEKEND: tuple[Place, object] = (("sale", "days"), [FIRST, SECOND])
LINK = {"name": "link", "paid_to": "Towpath rangers"}
PAYMENTS: tuple[Place, object] = (
    ("payments",),
    [
        {"name": "cash", "share": Decimal("0.4"), "cash": True},
        {"name": "card*", "percent": Decimal("1.69"), "fixed": Decimal("0.10"), "share": Decimal("0.6")},
        LINK,
    ],
)
LINES: list[dict[str, Any]] = [
    sale("VASE-001", gift=Decimal("2.50")),
    sale("VASE-002", way="card*", group="Village library"),
    sale("VASE-003", way="link"),
    sale("POT-001", way="card*", waiting=True),
    sale("SPN-001", day=SECOND),
    {"kind": "raffle", "amount": Decimal("141.01"), "way": "cash"},
    {"kind": "refund", "piece": "VASE-001", "way": "cash"},
    {"kind": "donation", "amount": Decimal("33.33"), "way": "card*", "group": "Towpath rangers"},
    sale("VASE-900"),
    {"kind": "postage", "amount": Decimal("3.20"), "way": "cash"},
]
AFTERWARDS: dict[str, Any] = {
    "cash": (
        DayCount(day=FIRST, float_=Decimal(30), counts={Decimal(20): 2, Decimal("0.5"): 3}, counted_by="A"),
        DayCount(day=SECOND, float_=Decimal(30), paid_out=Decimal("4.20"), counts={Decimal("0.25"): 4}),
    ),
    "table_counts": (
        TableCount(day=FIRST, code="VASE", counted=20),
        TableCount(day=SECOND, code="SPN", counted=4),
    ),
    "banked": (
        Banked(day=SECOND, what="card*", expected=Decimal("50.10"), arrived=Decimal("49.99")),
        Banked(day=SECOND, what="link", arrived=Decimal("3.01")),
        Banked(day=SECOND, what="cash"),
    ),
    "bank_reasons": {"card*": "still on its way"},
    "payments": (GroupPayment(day=SECOND, group="Village library", amount=Decimal("20.01"), reference="=1"),),
    "unplanned": (
        UnplannedCost(name="Postage of a bowl", amount=Decimal("4.35"), met_by="sale"),
        UnplannedCost(name="=parking", amount=Decimal(6)),
    ),
    "actual_fees": {"card*": Decimal("1.23")},
}


def lines(typed: list[dict[str, Any]], *, tills: int = 1) -> tuple[Line, ...]:
    return tuple(
        Line(number=number, till=str(number % tills + 1), **line)
        for number, line in enumerate(typed, start=1)
    )


BOOKS: dict[str, tuple[list[tuple[Place, object]], Entries]] = {
    "before the sale": ([], Entries()),
    "costs not met": ([PAYMENTS], Entries(lines=lines(LINES[:1]))),
    "a weekend with everything": ([WEEKEND, PAYMENTS], Entries(lines=lines(LINES), **AFTERWARDS)),
    "three tills": ([WEEKEND, PAYMENTS], Entries(lines=lines(LINES, tills=3), **AFTERWARDS)),
    "parts that leave pennies over": (
        [(("beneficiaries", 0, "parts"), 7), (("beneficiaries", 1, "parts"), 6)],
        Entries(lines=lines([{"kind": "raffle", "amount": Decimal("200.03"), "way": "cash"}])),
    ),
    "no minor units": (
        [
            (("sale", "currency"), "JPY"),
            (("clays", 0, "pack_price"), 1540),
            (("materials", 0, "pack_price"), 1650),
            (("payments", 1, "fixed"), 10),
        ],
        Entries(lines=lines([{"kind": "raffle", "amount": Decimal(2001), "way": "cash"}])),
    ),
    "coins that nobody knows": ([(("sale", "currency"), "MXN")], Entries(lines=lines(LINES[5:6]))),
    "no target": ([(("sale", "target"), 0)], Entries()),
}


@pytest.fixture(scope="module")
def made() -> dict[str, bytes]:
    books = {}
    with few_free_lines():
        for title, (changes, entries) in BOOKS.items():
            reckoning = reckoning_with(*changes)
            books[title] = book_bytes(reckoning, reckon_event(reckoning, entries))
    return books


@pytest.fixture(scope="module")
def recalculated(made: dict[str, bytes]) -> dict[str, bytes]:
    return recalculated_by_libreoffice(made)


@needs_libreoffice
@pytest.mark.parametrize("title", BOOKS)
def test_every_figure_of_the_money_is_the_models(
    title: str, made: dict[str, bytes], recalculated: dict[str, bytes]
) -> None:
    differing = differing_cells(made[title], values_of(recalculated[title]))
    assert [line for (sheet, _cell), line in differing.items() if sheet in MINE] == []


def test_what_is_paid_out_of_the_box_is_said_to_be_no_cost_yet() -> None:
    reckoning = reckoning_with()
    with few_free_lines():
        values = values_of(book_bytes(reckoning, reckon_event(reckoning, Entries())))
    texts = [value for (sheet, _cell), value in values.items() if sheet == "Cash-up"]
    assert any("What is paid out of the box is no cost yet: put it on Costs too" in str(t) for t in texts)
