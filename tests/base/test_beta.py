"""Shares that are believed and counted: the beta distribution, its updates and its quantiles."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import beta

from salebook.base.beta import Beta

weights = st.decimals("0.01", "3000", places=2)


def test_counts_move_what_was_believed() -> None:
    after = Beta.believed(Decimal("0.04"), worth=20).updated(5, 40)
    assert after == Beta(Decimal("5.8"), Decimal("54.2"))
    assert round(after.mean, 7) == Decimal("0.0966667")
    assert after.middle(0.9) == pytest.approx((0.0429257, 0.1657138), abs=5e-8)


def test_nothing_counted_leaves_what_was_believed() -> None:
    believed = Beta.believed(Decimal("0.04"), worth=10)
    assert believed.updated(0, 0) == believed
    assert believed.mean == Decimal("0.04")


@given(with_it=weights, without=weights, chance=st.floats(0.001, 0.999))
def test_quantiles_are_scipys(with_it: Decimal, without: Decimal, chance: float) -> None:
    share = Beta(with_it, without).quantile(chance)
    assert share == pytest.approx(float(beta.ppf(chance, float(with_it), float(without))), abs=1e-9)


@given(with_it=weights, without=weights, share=st.floats(0, 1))
def test_chances_of_a_share_below_are_scipys(with_it: Decimal, without: Decimal, share: float) -> None:
    chance = Beta(with_it, without).chance_below(share)
    assert chance == pytest.approx(float(beta.cdf(share, float(with_it), float(without))), abs=1e-10)


@pytest.mark.parametrize(
    ("surely", "share"), [(Beta(Decimal(0), Decimal(59)), 0.0), (Beta(Decimal(59), Decimal(0)), 1.0)]
)
def test_a_share_that_is_sure_has_no_range(surely: Beta, share: float) -> None:
    assert surely.mean == share
    assert surely.middle(0.9) == pytest.approx((share, share))
