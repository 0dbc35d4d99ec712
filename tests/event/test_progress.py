from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from salebook.event.progress import Progress, progress_of
from tests.support.small_event import DONATED, FIRST, UNNUMBERED, line
from tests.support.small_event import after as at_the_table
from tests.support.small_event import sale as sale_of_the_table
from tests.support.sound_sale import event_with, reckoning_with, sale

TARGET = ("sale", "target")


def progress_with(typed: list[dict[str, Any]], target: Decimal = Decimal(820)) -> Progress:
    reckoning = reckoning_with((TARGET, target))
    event = event_with(typed, reckoning)
    return progress_of(reckoning.plan, event.state, event.share_out)


def test_before_the_first_sale_the_costs_are_still_to_earn_back() -> None:
    progress = progress_with([])
    assert (progress.raised, progress.to_earn_back > 0) == (Decimal(0), True)
    assert progress.still_needed == 820 + progress.to_earn_back


def test_a_named_gift_counts_even_while_the_costs_are_not_earned_back() -> None:
    gift = {"kind": "donation", "amount": Decimal(25), "way": "cash", "group": "Village library"}
    assert progress_with([gift]).raised == 25


def test_raised_and_still_needed_make_the_target_once_costs_are_met() -> None:
    progress = progress_with([{"kind": "raffle", "amount": Decimal(500), "way": "cash"}])
    assert (progress.to_earn_back, progress.raised + progress.still_needed) == (Decimal(0), Decimal(820))


def test_beyond_the_target_nothing_is_needed_and_no_piece_must_bring_anything() -> None:
    progress = progress_with([{"kind": "raffle", "amount": Decimal(2000), "way": "cash"}])
    assert (progress.still_needed, progress.each_must_bring) == (Decimal(0), Decimal(0))
    assert progress.share_of_target > 1


def test_what_each_piece_must_bring_is_rounded_up_to_the_penny() -> None:
    progress = progress_with([])
    each, left = progress.each_must_bring, progress.on_the_table
    assert each is not None
    assert each * left >= progress.still_needed > (each - Decimal("0.01")) * left


def test_a_sale_moves_one_piece_from_the_table_to_sold() -> None:
    before, after = progress_with([]), progress_with([sale("VASE-001")])
    assert (after.sold - before.sold, before.on_the_table - after.on_the_table) == (1, 1)


def test_a_deposit_moves_one_piece_from_the_table_to_promised() -> None:
    deposit = {"kind": "deposit", "piece": "POT-002", "amount": Decimal(5), "way": "cash"}
    before, after = progress_with([]), progress_with([deposit])
    assert (after.promised - before.promised, before.on_the_table - after.on_the_table) == (1, 1)


def test_an_order_for_a_ware_is_still_to_make() -> None:
    order = {"kind": "order", "piece": "POT", "amount": Decimal(10), "way": "cash", "claim": "C1"}
    assert progress_with([order]).to_make == 1


@pytest.mark.parametrize(("target", "share"), [(Decimal(0), Fraction(1)), (Decimal(820), Fraction(0))])
def test_a_target_of_nothing_is_reached_from_the_start(target: Decimal, share: Fraction) -> None:
    assert progress_with([], target).share_of_target == share


def test_what_was_given_by_name_and_paid_straight_to_a_group_is_no_longer_needed() -> None:
    gift = {"kind": "donation", "amount": Decimal(25), "way": "cash", "group": "Village library"}
    raffle = {"kind": "raffle", "amount": Decimal(300), "way": "cash"}
    before, after = progress_with([raffle]), progress_with([raffle, gift])
    assert before.still_needed - after.still_needed == 25
    table_before, table_after = (
        progress_of(sale_of_the_table().plan, event.state, event.share_out)
        for event in (at_the_table(), at_the_table(line(1, "donation", amount="9", way="group's own tin")))
    )
    assert table_before.still_needed - table_after.still_needed == 9


def test_goods_of_every_kind_are_counted_together() -> None:
    event = at_the_table(
        line(1, piece=FIRST),
        line(2, piece=UNNUMBERED, count=4),
        line(3, "deposit", "MAY-002", "5"),
        line(4, "deposit", DONATED, "5"),
        line(5, "order", "MAY", claim="7"),
        line(6, "order", UNNUMBERED, claim="8", count=2),
    )
    progress = progress_of(sale_of_the_table().plan, event.state, event.share_out)
    assert (progress.sold, progress.promised) == (5, 2)
    assert progress.to_make == sum(totals.to_make for totals in event.state.piece_totals)


def test_half_of_the_target_is_a_half() -> None:
    raffle = {"kind": "raffle", "amount": Decimal(2000), "way": "cash"}
    raised = progress_with([raffle]).raised
    assert progress_with([raffle], target=2 * raised).share_of_target == Fraction(1, 2)
