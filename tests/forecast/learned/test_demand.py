"""A sale moves the whole curve of demand by what it said at the prices that were asked."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.forecast.learned.demand import Asked, demand_after, logit, share_after, shares_after
from salebook.plan.model import DemandPoint

SHARES = st.decimals("0.01", "0.99", places=2)


def points(*pairs: tuple[str, str]) -> tuple[DemandPoint, ...]:
    return tuple(
        DemandPoint.model_validate({"price": Decimal(price), "share": Decimal(share)})
        for price, share in pairs
    )


MUG = points(("16", "0.96"), ("22", "0.86"), ("28", "0.62"), ("34", "0.35"))


def asked(price: int, sold: int, offered: int) -> Asked:
    return Asked(price=Decimal(price), sold=sold, offered=offered, counts_as=Decimal(offered))


def test_the_share_at_the_price_asked_is_drawn_to_what_was_seen() -> None:
    assert round(shares_after(MUG, [asked(20, 27, 36)])[0], 6) == Decimal("0.801190")


def test_all_points_move_by_the_same_step_in_logits() -> None:
    after = demand_after(MUG, [asked(20, 27, 36)])
    shares = [str(point.share) for point in after]
    assert shares == ["0.9203", "0.7472", "0.4398", "0.2058"]
    steps = [logit(new.share) - logit(old.share) for new, old in zip(after, MUG, strict=True)]
    assert steps == pytest.approx([steps[0]] * 4, abs=0.003)


def test_what_sold_out_is_at_least_as_much_as_believed() -> None:
    assert share_after(Decimal("0.6"), asked(20, 5, 5)) == Decimal("0.68")
    assert share_after(Decimal(1), asked(20, 5, 5)) == 1
    assert share_after(Decimal("0.5"), asked(20, 0, 0)) == Decimal("0.5")


def test_two_prices_that_contradict_each_other_are_pooled() -> None:
    low, high = shares_after(points(("10", "0.5")), [asked(10, 0, 20), asked(20, 20, 20)])
    assert low == high == Decimal("0.5")


def test_between_two_prices_asked_the_step_goes_by_straight_lines() -> None:
    flat = points(("10", "0.5"), ("15", "0.5"), ("20", "0.5"), ("40", "0.5"))
    after = demand_after(flat, [asked(10, 20, 20), asked(20, 10, 20)])
    assert [str(point.share) for point in after] == ["0.7500", "0.6340", "0.5", "0.5"]


@pytest.mark.parametrize("sold", [0, 20, 40])
def test_shares_of_none_and_all_can_move(sold: int) -> None:
    after = demand_after(points(("10", "1"), ("20", "0")), [asked(15, sold, 40)])
    assert 1 >= after[0].share >= after[1].share >= 0


@given(
    st.lists(SHARES, min_size=1, max_size=5),
    st.lists(st.tuples(st.integers(5, 60), st.integers(0, 9), st.integers(0, 9)), min_size=1, max_size=3),
)
def test_points_that_never_rise_never_rise_afterwards(
    shares: list[Decimal], seen: list[tuple[int, int, int]]
) -> None:
    curve = points(
        *((str(10 * n), str(share)) for n, share in enumerate(sorted(shares, reverse=True), start=1))
    )
    prices = {price: asked(price, sold, sold + left) for price, sold, left in seen}
    after = demand_after(curve, [prices[price] for price in sorted(prices)])
    found = [point.share for point in after]
    assert found == sorted(found, reverse=True)
    assert all(0 <= share <= 1 for share in found)
