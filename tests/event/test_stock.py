"""What became of the pieces, and the money for them."""

from decimal import Decimal

import pytest
from hypothesis import given, settings

from salebook.event.breakdown import breakdown_of
from salebook.event.entries import Line, PieceEntry
from salebook.event.stock import FOR_PIECES, SoldAt, Stock, piece_money, stock_of
from tests.support.small_event import DONATED, FIRST, UNNUMBERED, after, line, messy_lines, sale


def stock(code: str, *lines: Line, **entries: object) -> Stock:
    return next(one for one in stock_of(after(*lines, **entries).state, 2) if one.code == code)


def at(count: int, price: str, amount: str = "") -> SoldAt:
    each = Decimal(price)
    return SoldAt(count=count, price=each, amount=Decimal(amount) if amount else each * count)


def test_pieces_are_counted_by_the_price_that_was_paid() -> None:
    mugs = stock(
        "MAY",
        line(1, piece=FIRST),
        line(2, piece="MAY-002", amount="25", gift="3"),
        line(3, "deposit", "MAY-003", "5"),
        line(4, "balance", "MAY-003"),
    )
    assert mugs.sold_at == (at(2, "28"), at(1, "25"))
    assert (mugs.made, mugs.sold, mugs.left, mugs.amount) == (5, 3, 2, Decimal(81))


def test_what_is_marked_is_neither_sold_nor_left() -> None:
    marks = {
        FIRST: PieceEntry(mishap="broken"),
        "MAY-002": PieceEntry(mishap="missing"),
        "MAY-003": PieceEntry(mishap="given away"),
        "MAY-004": PieceEntry(mishap="left over"),
    }
    mugs = stock("MAY", pieces=marks)
    assert (mugs.made, mugs.lost, mugs.given_away, mugs.left) == (5, 2, 1, 2)


def test_a_piece_given_back_is_left_again() -> None:
    spoons = stock("D1", line(1, piece=DONATED), line(2, "refund", DONATED))
    assert (spoons.sold, spoons.left, spoons.is_counted) == (0, 2, True)


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        ((line(1, piece=UNNUMBERED, count=3),), (at(3, "1.50"),)),
        (
            (line(1, piece=UNNUMBERED, count=3), line(2, piece=UNNUMBERED, amount="2", count=2)),
            (at(3, "1.50"), at(2, "1")),
        ),
        (
            (line(1, piece=UNNUMBERED, count=3, amount="4"),),
            (SoldAt(count=3, price=None, amount=Decimal(4)),),
        ),
        ((line(1, piece=UNNUMBERED, count=3), line(2, "refund", UNNUMBERED, count=1)), (at(2, "1.50"),)),
        (
            (line(1, piece=UNNUMBERED, count=3), line(2, "refund", UNNUMBERED, "1", count=1)),
            (SoldAt(count=2, price=None, amount=Decimal("3.50")),),
        ),
    ],
)
def test_a_ware_without_numbers_is_told_by_price_where_that_adds_up(
    lines: tuple[Line, ...], expected: tuple[SoldAt, ...]
) -> None:
    assert stock("DOT", *lines).sold_at == expected


@given(messy_lines())
@settings(deadline=None)
def test_prices_times_pieces_lead_to_what_the_takings_say_of_pieces(lines: tuple[Line, ...]) -> None:
    state = after(*lines).state
    by_purpose = breakdown_of(sale().plan, state).by_purpose
    stocks = stock_of(state, 2)
    money = piece_money(state)
    assert sum(one.amount for one in stocks) == money.sold
    assert money.in_takings == sum(by_purpose.get(kind, 0) for kind in FOR_PIECES)
    assert all(
        some.price is None or some.price * some.count == some.amount for one in stocks for some in one.sold_at
    )
