"""What a line counts for, and what needs a look on it."""

from decimal import Decimal
from itertools import permutations

import pytest

from salebook.event.entries import Line, PieceEntry
from salebook.event.remarks import in_words
from tests.support.small_event import (
    FIRST,
    FIRST_DAY,
    SECOND,
    SECOND_DAY,
    UNNUMBERED,
    after,
    amounts_of,
    line,
    line_of,
    money,
    numbered_anew,
    piece_of,
    remarks_of,
)

OVER, UNDER = "Tide ~ mill", "Reed bank * friends?"


class TestSale:
    """A sale counts the amount if given, else the list price; it settles the piece at that amount."""

    def test_without_an_amount_counts_the_list_price(self) -> None:
        event = after(line(1, piece=FIRST), line(2, piece=SECOND))
        assert money("28", "18") == amounts_of(event)
        assert [piece_of(event, number).status for number in (FIRST, SECOND)] == ["sold", "sold"]

    def test_with_an_amount_is_settled_at_that_amount(self) -> None:
        piece = piece_of(after(line(1, piece=FIRST, amount="20")), FIRST)
        assert ("sold", Decimal(20), Decimal(0)) == (piece.status, piece.paid, piece.to_pay)

    def test_the_price_follows_the_grade_on_pieces(self) -> None:
        graded = {FIRST: PieceEntry(grade="second"), SECOND: PieceEntry(grade="first")}
        event = after(line(1, piece=FIRST), line(2, piece=SECOND), pieces=graded)
        assert money("18", "28") == amounts_of(event)

    @pytest.mark.parametrize("typed", ["may-001", " MAY-001", "May-001  "])
    def test_small_letters_and_spaces_are_forgiven(self, typed: str) -> None:
        assert piece_of(after(line(1, piece=typed)), FIRST).status == "sold"

    @pytest.mark.parametrize("typed", ["MAY-900", "MAY-00?", "MAY*", "MAY", "MAY-0~01"])
    def test_an_unknown_piece_is_remarked_and_counts_only_what_was_typed(self, typed: str) -> None:
        event = after(line(1, piece=typed), line(2, piece=typed, amount="5"))
        assert (money("0", "5"), ["unknown: write as in MAY-001"] * 2) == (
            amounts_of(event),
            remarks_of(event),
        )

    def test_without_a_piece_is_remarked(self) -> None:
        event = after(line(1, amount="5"))
        assert (money("5"), ["which piece, or kind?"]) == (amounts_of(event), remarks_of(event))

    def test_of_a_ware_without_numbers_counts_price_times_count(self) -> None:
        event = after(line(1, piece=UNNUMBERED, count=3), line(2, piece=UNNUMBERED))
        assert money("4.50", "1.50") == amounts_of(event)
        assert event.state.sold(UNNUMBERED) == 4

    def test_a_count_on_a_numbered_piece_is_remarked(self) -> None:
        event = after(line(1, piece=FIRST, count=2))
        assert (money("28"), ["one number, one piece"]) == (amounts_of(event), remarks_of(event))

    def test_a_line_with_nothing_but_its_number_is_no_line(self) -> None:
        assert after(Line(number=1), Line(number=2)).state.lines == ()

    def test_a_line_with_a_day_or_a_note_only_needs_no_look(self) -> None:
        assert remarks_of(after(Line(number=1, day=FIRST_DAY), Line(number=2, note="rain"))) == ["", ""]


class TestSoldTwice:
    """A second sale of a sold piece is remarked on the later line; money that was typed counts."""

    @pytest.mark.parametrize(
        ("first", "second", "counted", "remarks"),
        [
            ("", "", ["28", "0"], ["", "sold twice"]),
            ("", "20", ["0", "20"], ["sold twice", "sold twice"]),
            ("20", "", ["20", "0"], ["", "sold twice"]),
            ("20", "25", ["20", "25"], ["", "sold twice"]),
        ],
    )
    def test_is_remarked(self, first: str, second: str, counted: list[str], remarks: list[str]) -> None:
        event = after(line(1, piece=FIRST, amount=first), line(2, piece=FIRST, amount=second))
        assert (money(*counted), remarks) == (amounts_of(event), remarks_of(event))

    def test_is_no_fault_once_as_much_was_typed_as_given_back(self) -> None:
        event = after(
            line(1, piece=FIRST), line(2, "refund", FIRST, "28"), line(3, piece=FIRST), line(4, piece=SECOND)
        )
        assert (money("28", "-28", "28", "18"), [""] * 4) == (amounts_of(event), remarks_of(event))
        assert piece_of(event, FIRST).status == "sold"

    def test_asks_what_was_given_back_where_that_was_not_typed(self) -> None:
        event = after(line(1, piece=FIRST), line(2, "refund", FIRST), line(3, piece=FIRST))
        assert remarks_of(event) == ["", "", "type the refund's sum"]
        assert money("28", "-28", "0") == amounts_of(event)


class TestFarAbove:
    """An amount of five times the list price and more is looked at, and counts as typed."""

    @pytest.mark.parametrize(("amount", "remark"), [("139.99", ""), ("140", "far above price: gift?")])
    def test_is_remarked(self, amount: str, remark: str) -> None:
        event = after(line(1, piece=FIRST, amount=amount))
        assert ([Decimal(amount)], [remark]) == (amounts_of(event), remarks_of(event))


class TestDepositBalanceRefund:
    """Deposit: amount required. Balance: empty means what is left. Refund: empty means all paid so far."""

    def test_a_deposit_leaves_the_rest_to_pay(self) -> None:
        piece = piece_of(after(line(1, "deposit", FIRST, "10")), FIRST)
        assert ("deposit", Decimal(18)) == (piece.status, piece.to_pay)

    def test_a_deposit_without_an_amount_is_remarked(self) -> None:
        event = after(line(1, "deposit", FIRST))
        assert (money("0"), ["how much?"]) == (amounts_of(event), remarks_of(event))

    def test_a_sale_after_a_deposit_asks_whether_a_balance_is_meant(self) -> None:
        event = after(line(1, "deposit", FIRST, "10"), line(2, piece=FIRST))
        assert remarks_of(event) == ["", "deposit paid: balance?"]

    @pytest.mark.parametrize("order", list(permutations(range(3))))
    def test_work_in_any_order_of_lines(self, order: tuple[int, ...]) -> None:
        typed = [line(0, "deposit", FIRST, "10"), line(0, "balance", FIRST), line(0, "refund", FIRST)]
        event = after(*numbered_anew(typed[at] for at in order))
        by_kind = {counted.line.kind: counted.amount for counted in event.state.lines}
        assert by_kind == {"deposit": 10, "balance": 18, "refund": -28}
        assert piece_of(event, FIRST).status == "here"

    def test_a_typed_balance_settles_a_piece_for_less(self) -> None:
        piece = piece_of(after(line(1, "deposit", FIRST, "10"), line(2, "balance", FIRST, "12")), FIRST)
        assert ("sold", Decimal(0)) == (piece.status, piece.to_pay)

    def test_a_part_given_back_leaves_the_piece_sold(self) -> None:
        piece = piece_of(after(line(1, piece=FIRST), line(2, "refund", FIRST, "5")), FIRST)
        assert ("sold", Decimal(23)) == (piece.status, piece.paid)

    def test_a_deposit_on_a_piece_that_came_back_is_a_deposit(self) -> None:
        event = after(line(1, piece=FIRST), line(2, "refund", FIRST, "28"), line(3, "deposit", FIRST, "10"))
        piece = piece_of(event, FIRST)
        assert ("deposit", Decimal(18)) == (piece.status, piece.to_pay)

    def test_of_two_empty_refunds_only_the_first_by_number_counts(self) -> None:
        event = after(line(3, "refund", FIRST), line(2, "refund", FIRST), line(1, piece=FIRST))
        assert (money("28", "-28", "0"), "nothing to give back") == (amounts_of(event), remarks_of(event)[2])

    def test_of_two_empty_balances_only_the_first_by_number_counts(self) -> None:
        event = after(line(1, "balance", FIRST), line(2, "balance", FIRST))
        assert (money("28", "0"), ["", "nothing left to pay"]) == (amounts_of(event), remarks_of(event))

    def test_more_given_back_than_paid_is_remarked(self) -> None:
        event = after(line(1, piece=FIRST), line(2, "refund", FIRST, "30"))
        assert remarks_of(event) == ["", "too much given back"]

    def test_a_ware_without_numbers_is_given_back_by_count(self) -> None:
        event = after(line(1, piece=UNNUMBERED, count=5), line(2, "refund", UNNUMBERED, count=2))
        assert money("7.50", "-3.00") == amounts_of(event)
        assert event.state.sold(UNNUMBERED) == 3


class TestWords:
    """Way to pay, group, day."""

    def test_a_line_without_a_way_to_pay_counts_and_is_remarked(self) -> None:
        counted = line_of(after(line(1, piece=FIRST, way="")), 1)
        assert (counted.money, counted.way, in_words(counted.remark)) == (Decimal(28), "", "how was it paid?")

    def test_an_unknown_way_to_pay_is_remarked(self) -> None:
        assert remarks_of(after(line(1, piece=FIRST, way="shells"))) == ["no such way to pay"]

    def test_an_unknown_group_is_remarked_and_gets_nothing(self) -> None:
        counted = line_of(after(line(1, piece=FIRST, group="Nobody")), 1)
        assert (in_words(counted.remark), counted.named) == ("no such group", Decimal(0))

    @pytest.mark.parametrize(("gift", "named"), [("2", "2"), (None, "28")])
    def test_a_group_gets_the_gift_or_else_the_whole_line(self, gift: str | None, named: str) -> None:
        counted = line_of(after(line(1, piece=FIRST, gift=gift, group=UNDER)), 1)
        assert (Decimal(named), UNDER) == (counted.named, counted.group)

    @pytest.mark.parametrize(("group", "remark"), [(UNDER, "paid to another group"), (OVER, ""), ("", "")])
    def test_what_was_paid_straight_to_a_group_cannot_be_for_another(self, group: str, remark: str) -> None:
        counted = line_of(after(line(1, piece=FIRST, way="group's own tin", group=group)), 1)
        assert (remark, Decimal(0)) == (in_words(counted.remark), counted.named)

    def test_an_empty_day_is_that_of_the_nearest_earlier_line_number_of_the_till(self) -> None:
        event = after(
            line(9, piece=FIRST),
            line(2, piece=SECOND, day=SECOND_DAY),
            line(1, "donation", amount="1"),
            line(5, "donation", amount="1", till="2"),
        )
        days = {(one.line.till, one.line.number): one.day for one in event.state.lines}
        expected = {("1", 1): FIRST_DAY, ("1", 2): SECOND_DAY, ("1", 9): SECOND_DAY, ("2", 5): FIRST_DAY}
        assert expected == days

    def test_several_pieces_on_one_payment_bear_one_fixed_fee(self) -> None:
        event = after(line(1, piece=FIRST), line(2, piece=SECOND, with_above=True))
        assert [counted.is_payment for counted in event.state.lines] == [True, False]

    @pytest.mark.parametrize(
        ("typed", "is_payment"),
        [
            (line(1, "donation", amount="0.50"), True),
            (line(1, "donation", gift="0.50"), True),
            (line(1, "donation", amount="0"), False),
            (line(1, "refund", FIRST, "0.50"), False),
        ],
    )
    def test_a_line_is_a_payment_where_money_comes_in(self, typed: Line, is_payment: bool) -> None:
        assert is_payment == line_of(after(typed), 1).is_payment

    def test_a_gift_needs_an_amount_and_no_piece(self) -> None:
        event = after(line(1, "donation"), line(2, "raffle", FIRST, "3"), line(3, "donation", gift="4"))
        assert remarks_of(event) == ["how much?", "no piece belongs here", ""]
        assert [counted.money for counted in event.state.lines] == [0, 3, 4]

    @pytest.mark.parametrize(
        ("typed", "remark"),
        [
            (line(1, piece=FIRST, amount="-0.50"), "type it without a minus"),
            (line(1, piece=FIRST, gift="-0.50"), "type it without a minus"),
            (line(1, piece=UNNUMBERED, count=-1), "type it without a minus"),
            (line(1, piece=FIRST, unread=(("amount", "a lot"),)), "not a number"),
            (line(1, piece=FIRST, unread=(("gift", "a lot"),)), "not a number"),
            (line(1, piece=FIRST, unread=(("count", "a few"),)), "not a number"),
            (line(1, piece=FIRST, unread=(("kind", "swap"),)), "no such kind"),
            (line(1, piece=FIRST, unread=(("day", "soon"),)), "not a date"),
        ],
    )
    def test_what_cannot_be_counted_is_remarked(self, typed: Line, remark: str) -> None:
        assert [remark] == remarks_of(after(typed))

    @pytest.mark.parametrize(("typed", "remark"), [("27.99", ""), ("28.01", "too much given back")])
    def test_even_a_penny_too_much_given_back_is_remarked(self, typed: str, remark: str) -> None:
        assert ["", remark] == remarks_of(after(line(1, piece=FIRST), line(2, "refund", FIRST, typed)))

    def test_a_refund_needs_no_claim_number_even_where_the_piece_is_kept_for_somebody(self) -> None:
        held = {FIRST: PieceEntry(reserved_for="7")}
        event = after(line(1, piece=FIRST, claim="7"), line(2, "refund", FIRST, "5"), pieces=held)
        assert remarks_of(event) == ["", ""]

    def test_a_sale_after_a_refund_of_all_asks_what_was_given_back(self) -> None:
        event = after(line(1, "refund", FIRST), line(2, piece=FIRST))
        assert remarks_of(event)[1] == "type the refund's sum"

    def test_a_word_for_an_amount_is_not_taken_for_a_gift_of_the_piece(self) -> None:
        typed = line(1, piece=FIRST, amount="0", unread=(("amount", "eighteen"),))
        assert line_of(after(typed), 1).about_piece is None

    def test_even_a_small_deposit_asks_whether_a_balance_is_meant(self) -> None:
        event = after(line(1, "deposit", FIRST, "0.50"), line(2, piece=FIRST))
        assert remarks_of(event) == ["", "deposit paid: balance?"]

    def test_a_minus_is_remarked_and_counts_nothing(self) -> None:
        event = after(line(1, piece=FIRST, amount="-28"))
        assert (money("0"), ["type it without a minus"]) == (amounts_of(event), remarks_of(event))


BROKEN, RESERVED = PieceEntry(mishap="broken"), PieceEntry(mishap="broken", reserved_for="7")
PAID_ORDER = line(1, "order", "MAY", "28", claim="7")


@pytest.mark.parametrize(
    ("lines", "pieces", "remarks"),
    [
        pytest.param([line(1, "order", "D1", claim="7")], {}, [""], id="order of what another gives"),
        pytest.param([line(1, "order", UNNUMBERED, claim="7")], {}, [""], id="order without numbers"),
        pytest.param([line(1, "order", FIRST, claim="7")], {}, [""], id="order of one piece"),
        pytest.param([line(1, "order", claim="7")], {}, ["which ware?"], id="order of nothing"),
        pytest.param([line(1, "order", "MAY")], {}, ["claim number?"], id="order for nobody"),
        pytest.param([line(1, "order", "ZZ", claim="7")], {}, ["unknown: write as in MAY"], id="odd order"),
        pytest.param([line(1, "deposit", "MAY", "5")], {}, ["unknown: write as in MAY-001"], id="code alone"),
        pytest.param([line(1, "deposit", UNNUMBERED)], {}, ["how much?"], id="deposit without numbers"),
        pytest.param([line(1, "balance", UNNUMBERED)], {}, ["how much?"], id="balance without numbers"),
        pytest.param([line(1, "deposit", FIRST, "0")], {}, [""], id="deposit of nothing"),
        pytest.param([line(1, "balance", FIRST, "0")], {}, [""], id="balance of nothing"),
        pytest.param([line(1, "deposit", FIRST, "140")], {}, ["far above price: gift?"], id="high deposit"),
        pytest.param([line(1, piece=UNNUMBERED, amount="0")], {}, [""], id="for nothing, without numbers"),
        pytest.param([line(1, piece=UNNUMBERED, amount="10")], {}, [""], id="dear, without numbers"),
        pytest.param([line(1, piece=FIRST, amount="0")], {}, ["given away? see Pieces"], id="given away"),
        pytest.param([line(1, piece=FIRST, amount="0")], {FIRST: BROKEN}, [""], id="broken and given away"),
        pytest.param([line(1, piece=FIRST)], {FIRST: RESERVED}, ["marked as broken"], id="broken, kept"),
        pytest.param([line(1, piece=FIRST, way="", waiting=True)], {}, [""], id="no way yet, not arrived"),
        pytest.param([line(1, "donation", amount="0", way="")], {}, [""], id="nothing in no way"),
        pytest.param(
            [line(1, "deposit", FIRST, "5"), line(2, "deposit", FIRST, "5")], {}, ["", ""], id="two deposits"
        ),
        pytest.param(
            [line(1, "deposit", FIRST, "10"), line(2, piece=FIRST, amount="18")],
            {},
            ["", ""],
            id="sale for the rest",
        ),
        pytest.param(
            [line(1, piece=FIRST), line(2, "balance", FIRST, "5")], {}, ["", ""], id="more after a sale"
        ),
        pytest.param(
            [line(1, "balance", FIRST), line(2, "refund", FIRST, "5"), line(3, "balance", FIRST)],
            {},
            ["how much?", "", "nothing left to pay"],
            id="balances around a refund",
        ),
        pytest.param(
            [PAID_ORDER, line(2, piece=FIRST, claim="7")],
            {},
            ["", "part paid: how much?"],
            id="paid with the order",
        ),
        pytest.param(
            [PAID_ORDER, line(2, piece=FIRST, claim="7", amount="0")], {}, ["", ""], id="order handed over"
        ),
        pytest.param(
            [line(1, "order", "MAY", claim="7"), line(2, piece=FIRST, claim="7")],
            {},
            ["", ""],
            id="order paid when it is fetched",
        ),
    ],
)
def test_each_look_asks_where_it_is_meant_to_and_nowhere_else(
    lines: list[Line], pieces: dict[str, PieceEntry], remarks: list[str]
) -> None:
    assert remarks == remarks_of(after(*lines, pieces=pieces))


def test_each_look_keeps_what_it_found_and_the_first_is_said() -> None:
    counted = line_of(after(line(1, piece="MAY-900", group="Nobody")), 1)
    found = {name: in_words(remark) for name, remark in counted.remarks.items() if remark}
    assert found == {"which": "unknown: write as in MAY-001", "names": "no such group"}
    assert [in_words(remark) for remark in (counted.remark, counted.about_piece)] == [found["which"]] * 2


@pytest.mark.parametrize(
    ("typed", "bears"),
    [
        (line(1, piece=FIRST, way="card", gift="2"), "30"),
        (line(1, piece=FIRST, way="group's own tin"), "0"),
        (line(1, "refund", FIRST, "5", way="card"), "0"),
        (line(1, "donation", amount="5", way="card", waiting=True), "0"),
    ],
)
def test_a_fee_is_taken_on_what_comes_in_by_a_way_of_the_sales_own(typed: Line, bears: str) -> None:
    assert Decimal(bears) == line_of(after(typed), 1).bears_fee
