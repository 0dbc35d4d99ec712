"""What can be expected from one moment on: the worked example, and the laws that hold for any sale."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from math import comb
from random import Random

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from salebook.forecast.figures import chance_in_the_rest, figures_of, likelihoods_of
from salebook.forecast.state import Offered, SaleState
from tests.support.sale_states import AS_EXPECTED, a_state, kinds_of_day, some, states

THREE_KINDS = kinds_of_day(("1", "0.75"), ("2", "1"), ("1", "1.12"))
HALF_OVER = {0: 0.812447, 8: 0.130999, 12: 0.491542, 15: 0.829281, 17: 0.945314, 20: 0.994517}
"""How many of 40 are sold by half time, and the chance of 28 then; the first is before anything."""


def forty(sold: int, *, over: str) -> SaleState:
    """Return 40 pieces that bring 1 each, of which 28 are needed."""
    return a_state(
        some(40, share="0.85", brings="1", sold=sold),
        outlooks=THREE_KINDS,
        over=over,
        target="28",
        reached=str(sold),
    )


@pytest.mark.parametrize(("sold", "due"), HALF_OVER.items())
def test_the_chance_of_28_of_40_goes_with_what_has_sold(sold: int, due: float) -> None:
    assert due == pytest.approx(figures_of(forty(sold, over="0.5" if sold else "0")).chance, abs=5e-7)


def test_chances_after_the_first_half_come_to_the_chance_before_it_on_average() -> None:
    """The chance of so many sold by half time, kind of day by kind of day, times the chance from there."""
    whole = sum(outlook.weight for outlook in THREE_KINDS)
    average = sum(
        float(comb(40, sold) * sum(likelihoods_of(forty(sold, over="0.5"))) / whole)
        * figures_of(forty(sold, over="0.5")).chance
        for sold in range(41)
    )
    assert HALF_OVER[0] == pytest.approx(average, abs=5e-7)


def test_before_the_sale_the_whole_share_sells_in_the_rest() -> None:
    chance = chance_in_the_rest(share=Decimal("0.8"), share_then=Decimal("0.6"), over=Decimal(0))
    assert chance == Decimal("0.6")


def test_a_piece_that_half_the_buyers_passed_by_sells_less_likely() -> None:
    """0.8 of them would have sold in the whole time, 0.4 in half of it: 0.4 of the 0.6 that are left."""
    chance = chance_in_the_rest(share=Decimal("0.8"), share_then=Decimal("0.8"), over=Decimal("0.5"))
    assert float(chance) == pytest.approx(0.4 / 0.6)


def test_a_piece_that_everybody_wants_is_gone_by_the_end() -> None:
    assert chance_in_the_rest(share=Decimal(1), share_then=Decimal(1), over=Decimal("0.9")) == 1


def test_pieces_spoken_for_sell_on_any_day() -> None:
    figures = figures_of(a_state(some(10, share="0", spoken_for=4), target="40"))
    assert [figures.expected_more_sold, figures.expected_net, figures.chance] == [4, 40, 1]


def test_a_piece_spoken_for_that_is_held_is_not_counted_twice() -> None:
    figures = figures_of(a_state(some(10, share="0", spoken_for=4, held=3), held_brings="30"))
    assert [figures.expected_more_sold, figures.expected_net] == [1, 40]


def test_a_piece_spoken_for_that_is_in_the_studio_sells_if_it_comes_through() -> None:
    way = ((3, Decimal("0.5")), (2, Decimal("0.25")))
    figures = figures_of(a_state(some(0, share="0", spoken_for=4, on_the_way=way)))
    assert figures.expected_more_sold == Decimal("1.75")


def test_more_sold_than_were_offered_leaves_none_and_breaks_nothing() -> None:
    figures = figures_of(a_state(some(5, sold=8, gone=1), over="0.5", reached="80"))
    assert [figures.expected_more_sold, figures.expected_net, figures.chance] == [0, 80, 0]


def test_what_no_kind_of_day_can_bring_leaves_the_weights_and_is_known() -> None:
    """Nothing sells on either kind of day: two sold fit neither."""
    kinds = kinds_of_day(("1", "0"), ("3", "0"))
    figures = figures_of(a_state(some(10, sold=2), outlooks=kinds, over="0.5"))
    assert (figures.outlooks, figures.fits) == ((Decimal("0.25"), Decimal("0.75")), False)


def test_pieces_taken_before_the_sale_say_nothing_of_the_kind_of_day() -> None:
    figures = figures_of(a_state(some(10, held=9), outlooks=THREE_KINDS))
    assert (figures.outlooks, figures.fits) == ((Decimal("0.25"), Decimal("0.5"), Decimal("0.25")), True)


def test_many_pieces_make_one_kind_of_day_sure_and_overflow_nothing() -> None:
    kinds = kinds_of_day(("1", "0.5"), ("1", "1"))
    figures = figures_of(a_state(some(5000, share="0.9", sold=2250), outlooks=kinds, over="0.5"))
    assert [0.0, 1.0] == pytest.approx([float(weight) for weight in figures.outlooks])


def same(one: SaleState, other: SaleState) -> bool:
    pairs = zip(numbers(one), numbers(other), strict=True)
    return all(left == pytest.approx(right, abs=1e-9) for left, right in pairs)


def numbers(state: SaleState) -> list[float]:
    figures = figures_of(state)
    money = (state.still_needed, figures.expected_more_sold, figures.expected_net)
    return [figures.chance, *map(float, (*money, *figures.outlooks))]


@given(states(), st.randoms(use_true_random=False))
def test_the_order_of_the_goods_changes_nothing(state: SaleState, random: Random) -> None:
    goods = list(state.goods)
    random.shuffle(goods)
    assert same(state, replace(state, goods=tuple(goods)))


@given(states())
def test_with_one_kind_of_day_its_weight_stays_1(state: SaleState) -> None:
    assert figures_of(replace(state, outlooks=AS_EXPECTED)).outlooks == (Decimal(1),)


@given(states())
def test_at_the_end_nothing_more_is_expected(state: SaleState) -> None:
    end = replace(state, over=Decimal(1), other_left=Decimal(0), goods=_nothing_promised(state.goods))
    figures = figures_of(end)
    reached = state.reached + state.held_brings
    assert figures.expected_more_sold == 0
    assert figures.expected_net == reached
    assert figures.chance == float(reached >= state.target - Decimal("1e-6"))


def _nothing_promised(goods: Sequence[Offered]) -> tuple[Offered, ...]:
    return tuple(replace(good, spoken_for=0) for good in goods)


@given(states())
def test_one_more_piece_sold_never_lowers_the_chance(state: SaleState) -> None:
    first, *others = state.goods
    first = replace(first, share_then=first.share)
    assume(first.left and state.over)
    before = replace(state, goods=(first, *others))
    sold = replace(first, sold=first.sold + 1)
    after = replace(state, reached=state.reached + first.brings_then, goods=(sold, *others))
    assume(sold.left == first.left - 1)
    assert figures_of(after).chance >= figures_of(before).chance - 1e-9


@given(states(), st.integers(0, 5))
def test_splitting_a_good_in_two_alike_changes_nothing(state: SaleState, part: int) -> None:
    first, *others = state.goods
    first = replace(first, spoken_for=0)
    one = replace(first, offered=first.gone + first.sold + first.held + min(part, first.left), on_the_way=())
    other = replace(first, offered=first.offered - one.offered, gone=0, sold=0, held=0)
    whole = replace(state, goods=(first, *others))
    assert same(whole, replace(state, goods=(one, other, *others)))


@given(states())
def test_weights_and_chances_are_chances(state: SaleState) -> None:
    figures = figures_of(state)
    assert float(sum(figures.outlooks)) == pytest.approx(1)
    assert all(0 <= weight <= 1 for weight in figures.outlooks)
    assert 0 <= figures.chance <= 1
