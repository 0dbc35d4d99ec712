"""Shares that are believed and counted: the beta distribution and its updates."""

from decimal import Decimal

from salebook.base.beta import Beta


def test_counts_move_what_was_believed() -> None:
    after = Beta.believed(Decimal("0.04"), worth=20).updated(5, 40)
    assert after == Beta(Decimal("5.8"), Decimal("54.2"))
    assert round(after.mean, 7) == Decimal("0.0966667")


def test_nothing_counted_leaves_what_was_believed() -> None:
    believed = Beta.believed(Decimal("0.04"), worth=10)
    assert believed.updated(0, 0) == believed
    assert believed.mean == Decimal("0.04")
