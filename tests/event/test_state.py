"""How pieces stand, and laws that hold for all lines."""

from decimal import Decimal
from itertools import permutations
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from salebook.event.entries import Entries, Line, LineKind, Mishap, PieceEntry
from salebook.event.event import Event, reckon_event
from salebook.event.pieces import PieceTotals
from tests.support.small_event import (
    DONATED,
    FIRST,
    PIECES,
    SECOND,
    UNNUMBERED,
    after,
    amounts_of,
    line,
    line_of,
    messy_lines,
    money,
    piece_of,
    remarks_of,
    sale,
)


def tally_of(event: Event, code: str) -> PieceTotals:
    return next(totals for totals in event.state.piece_totals if totals.code == code)


class TestPieces:
    """A refund in full brings a piece back; marks on Pieces show only where nothing is paid."""

    @pytest.mark.parametrize(
        ("entry", "status"),
        [
            (PieceEntry(), "here"),
            (PieceEntry(reserved_for="7"), "reserved"),
            (PieceEntry(mishap="broken", reserved_for="7"), "broken"),
            (PieceEntry(mishap="given away"), "given away"),
        ],
    )
    def test_stand_as_marked(self, entry: PieceEntry, status: str) -> None:
        assert status == piece_of(after(pieces={FIRST: entry}), FIRST).status

    @pytest.mark.parametrize(("kind", "status"), [("sale", "sold"), ("deposit", "deposit")])
    def test_even_a_little_money_counts(self, kind: LineKind, status: str) -> None:
        assert status == piece_of(after(line(1, kind, FIRST, "0.50")), FIRST).status

    def test_a_deposit_on_a_piece_that_is_marked_as_broken_is_remarked(self) -> None:
        marked = {FIRST: PieceEntry(mishap="broken")}
        assert remarks_of(after(line(1, "deposit", FIRST, "5"), pieces=marked)) == ["marked as broken"]

    def test_all_wanted_and_all_seconds_with_a_price_are_planned_and_all_that_was_given(self) -> None:
        reckoning = sale(wanted=40)
        piece_totals = {
            totals.code: totals for totals in reckon_event(reckoning, Entries()).state.piece_totals
        }
        mugs = next(run for run in reckoning.studio.runs if run.ware.code == "MAY")
        assert mugs.seconds > 1
        assert [piece_totals[code].planned for code in ("MAY", "DOT", "D1")] == [40 + mugs.seconds, 30, 2]

    def test_beyond_those_out_of_the_kiln_are_not_made(self) -> None:
        event = after(made={"MAY": 1})
        assert [piece_of(event, number).status for number in (FIRST, "MAY-002")] == ["here", "not made"]

    def test_of_a_ware_without_numbers_stand_by_how_many_are_left(self) -> None:
        sold = line(1, piece=UNNUMBERED, count=2)
        statuses = [
            piece_of(after(*lines, made={"DOT": made}), UNNUMBERED).status
            for lines, made in (((), 0), ((sold,), 3), ((sold,), 2))
        ]
        assert statuses == ["not made", "here", "sold"]

    @pytest.mark.parametrize(("count", "here"), [(29, 1), (30, 0), (31, 0)])
    def test_of_a_ware_without_numbers_what_is_not_sold_is_here(self, count: int, here: int) -> None:
        event = after(line(1, piece=UNNUMBERED, count=count, claim="7"))
        assert here == tally_of(event, UNNUMBERED).here
        assert piece_of(event, UNNUMBERED).held_for == ""

    def test_of_a_ware_without_numbers_more_may_be_sold_than_were_counted(self) -> None:
        event = after(line(1, piece=UNNUMBERED), made={UNNUMBERED: 0})
        assert piece_of(event, UNNUMBERED).status == "sold"

    def test_a_sale_that_names_a_ware_is_no_order_for_it(self) -> None:
        typed = line(1, piece="MAY", amount="5", claim="7")
        piece = piece_of(after(typed, pieces={FIRST: PieceEntry(reserved_for="7")}), FIRST)
        assert not piece.fills_order

    def test_an_order_for_a_piece_reserves_it(self) -> None:
        event = after(line(1, "order", FIRST, claim="7"))
        piece = piece_of(event, FIRST)
        assert ("reserved", Decimal(28), "7") == (piece.status, piece.to_pay, piece.held_for)

    def test_a_reserved_piece_that_goes_to_another_claim_is_remarked(self) -> None:
        held = {FIRST: PieceEntry(reserved_for="7")}
        for claim, remark in (("8", "reserved for 7"), ("7", "")):
            assert [remark] == remarks_of(after(line(1, piece=FIRST, claim=claim), pieces=held))

    def test_a_sold_piece_that_is_marked_as_broken_is_remarked(self) -> None:
        event = after(line(1, piece=FIRST), pieces={FIRST: PieceEntry(mishap="broken")})
        assert (piece_of(event, FIRST).status, remarks_of(event)) == ("sold", ["marked as broken"])

    def test_a_sold_piece_that_never_left_the_kiln_is_remarked(self) -> None:
        assert remarks_of(after(line(1, piece=FIRST), made={"MAY": 0})) == ["not out of the kiln"]

    def test_not_yet_arrived_money_sells_the_piece_but_is_no_takings(self) -> None:
        event = after(line(1, piece=FIRST, waiting=True, way=""))
        assert piece_of(event, FIRST).status == "sold"
        assert [event.share_out.takings, line_of(event, 1).waiting] == money("0", "28")

    def test_the_giver_gets_a_part_of_the_price_paid(self) -> None:
        event = after(line(1, piece=DONATED, gift="3"), line(2, piece="D1-002", amount="10.10"))
        assert money("3.63", "2.53") == [piece_of(event, f"D1-00{n}").to_giver for n in (1, 2)]

    def test_an_order_for_a_ware_is_to_make_until_a_piece_is_put_to_its_claim(self) -> None:
        order = line(1, "order", "may", claim="7", count=2)
        piece_totals = [
            next(totals for totals in after(order, pieces=pieces).state.piece_totals if totals.code == "MAY")
            for pieces in ({}, {FIRST: PieceEntry(reserved_for="7")})
        ]
        assert [(totals.ordered, totals.to_make) for totals in piece_totals] == [(2, 2), (2, 1)]

    def test_a_piece_of_an_order_that_was_paid_ahead_is_sold_by_a_line_that_brings_nothing(self) -> None:
        order = line(1, "order", "may", "28", claim="7")
        held = {FIRST: PieceEntry(reserved_for="7")}
        handed_over = line(2, piece=FIRST, amount="0", claim="7")
        back_again = line(3, "refund", FIRST, "0", claim="7")
        statuses = [
            piece_of(after(*lines, pieces=held), FIRST).status
            for lines in ((order,), (order, handed_over), (order, handed_over, back_again))
        ]
        assert statuses == ["reserved", "sold", "reserved"]
        assert remarks_of(after(order, handed_over, pieces=held)) == ["", ""]

    @pytest.mark.parametrize(
        ("kind", "paid_ahead", "amount", "remark"),
        [
            ("sale", "5", "", "part paid: how much?"),
            ("balance", "5", "", "part paid: how much?"),
            ("sale", "0.50", "", "part paid: how much?"),
            ("sale", "5", "23", ""),
            ("sale", "", "", ""),
        ],
    )
    def test_what_is_left_of_an_order_that_was_part_paid_has_to_be_typed(
        self, kind: LineKind, paid_ahead: str, amount: str, remark: str
    ) -> None:
        order = line(1, "order", "MAY", paid_ahead, claim="c7")
        last = line(2, kind, FIRST, amount, claim="C7")
        assert ["", remark] == remarks_of(after(order, last, pieces={FIRST: PieceEntry(reserved_for="C7")}))

    @pytest.mark.parametrize(
        ("entry", "remark"),
        [(PieceEntry(), "given away? see Pieces"), (PieceEntry(mishap="given away"), "")],
    )
    def test_a_sale_for_nothing_asks_to_mark_the_piece_as_given_away(
        self, entry: PieceEntry, remark: str
    ) -> None:
        assert [remark] == remarks_of(after(line(1, piece=FIRST, amount="0"), pieces={FIRST: entry}))

    def test_pieces_put_to_a_claim_are_taken_off_what_is_to_make_and_never_more_than_that(self) -> None:
        held = {number: PieceEntry(reserved_for="7") for number in (FIRST, "MAY-002")}
        ordered = [line(1, "order", "MAY", claim="7", count=count) for count in (3, 2, 1)]
        piece_totals = [tally_of(after(order, pieces=held), "MAY") for order in ordered]
        assert [(totals.ordered, totals.to_make) for totals in piece_totals] == [(3, 1), (2, 0), (1, 0)]
        assert [(totals.reserved, totals.to_make) for totals in (tally_of(after(pieces=held), "MAY"),)] == [
            (2, 0)
        ]

    def test_what_is_sold_is_not_ordered(self) -> None:
        event = after(line(1, piece=UNNUMBERED, count=2), line(2, piece=FIRST), line(3, piece=SECOND))
        assert [tally_of(event, code).ordered for code in (UNNUMBERED, "MAY")] == [0, 0]
        assert [event.state.sold(code) for code in (UNNUMBERED, "MAY")] == [2, 2]
        assert [tally_of(event, code).sold for code in (UNNUMBERED, "MAY")] == [2, 2]

    def test_every_piece_that_was_lost_or_kept_back_is_gone(self) -> None:
        marks: tuple[Mishap, ...] = ("broken", "missing", "broken")
        marked = {f"MAY-00{n}": PieceEntry(mishap=mark) for n, mark in enumerate(marks, start=1)}
        assert tally_of(after(pieces=marked), "MAY").gone == 3

    def test_an_order_needs_a_ware_and_a_claim_number(self) -> None:
        event = after(line(1, "order", claim="7"), line(2, "order", "XX", claim="7"), line(3, "order", "MAY"))
        assert remarks_of(event) == ["which ware?", "unknown: write as in MAY", "claim number?"]


@given(messy_lines(), st.randoms(use_true_random=False))
@settings(deadline=None)
def test_the_order_in_which_lines_stand_changes_nothing(lines: tuple[Line, ...], chance: Random) -> None:
    shuffled = list(lines)
    chance.shuffle(shuffled)
    assert after(*lines).state == after(*shuffled).state


@given(messy_lines())
@settings(deadline=None)
def test_every_line_with_money_counts_it_or_is_remarked(lines: tuple[Line, ...]) -> None:
    for counted in after(*lines).state.lines:
        typed = (counted.line.amount or Decimal(0)) + (counted.line.gift or Decimal(0))
        if counted.line.amount is not None and counted.line.kind != "refund":
            assert typed == counted.money
        if counted.line.amount is None and counted.line.kind == "sale":
            assert counted.amount == counted.list_price or counted.remark or not counted.line.way


@given(messy_lines())
@settings(deadline=None)
def test_every_piece_stands_one_way_and_all_are_counted(lines: tuple[Line, ...]) -> None:
    event = after(*lines)
    for totals in event.state.piece_totals:
        pieces = [piece for piece in event.state.pieces if piece.piece.code == totals.code]
        if pieces[0].piece.index:
            not_made = sum(piece.status == "not made" for piece in pieces)
            counted = totals.sold + totals.here + totals.reserved + totals.deposit + totals.gone + not_made
            assert len(pieces) == counted


@pytest.mark.parametrize("piece", PIECES)
def test_a_renumbering_of_payments_and_refunds_changes_no_sum(piece: str) -> None:
    kinds = (("deposit", "10"), ("balance", ""), ("refund", "4"), ("refund", ""), ("deposit", "2.50"))
    sums = set()
    for order in permutations(kinds):
        lines = [Line(number=n, kind=kind, piece=piece, amount=Decimal(amount) if amount else None)  # type: ignore[arg-type]
                 for n, (kind, amount) in enumerate(order, start=1)]  # fmt: skip
        sums.add(sum(amounts_of(reckon_event(sale(), Entries(lines=tuple(lines))))))
    assert len(sums) == 1
