"""Which kind of day a sale was, by what sold, and what the next plan's weights are."""

from decimal import Decimal

import pytest

from salebook.forecast.learned.outlooks import days_seen, factor_of
from salebook.forecast.state import Offered, SaleState
from salebook.plan.model import Outlook

WET = Outlook(name="wet", weight=Decimal(1), factor=Decimal("0.5"))
FINE = Outlook(name="fine", weight=Decimal(3), factor=Decimal(1))


def after(sold: int, *outlooks: Outlook) -> SaleState:
    good = Offered(
        code="MUG",
        grade="first",
        offered=2,
        sold=sold,
        share=Decimal(1),
        price_then=Decimal(20),
        share_then=Decimal(1),
        brings_then=Decimal(20),
    )
    return SaleState(
        over=Decimal(1),
        target=Decimal(100),
        reached=Decimal(0),
        other_left=Decimal(0),
        held_brings=Decimal(0),
        outlooks=outlooks,
        goods=(good,),
    )


@pytest.mark.parametrize(
    ("sold", "chances", "weights"),
    [
        # Two of two sold: 1 x 0.5² against 3 x 1², and one sale is added to four.
        (2, ("0.0769", "0.9231"), ("1.08", "3.92")),
        (1, ("1.0000", "0.0000"), ("2.00", "3.00")),
    ],
)
def test_a_sale_is_added_to_those_that_the_weights_stand_for(
    sold: int, chances: tuple[str, ...], weights: tuple[str, ...]
) -> None:
    seen = days_seen(after(sold, WET, FINE))
    assert tuple(f"{day.chance:.4f}" for day in seen) == chances
    assert tuple(f"{day.weight:.2f}" for day in seen) == weights


def test_one_kind_of_day_teaches_nothing() -> None:
    assert days_seen(after(1, WET)) == ()


def test_a_sale_that_fits_no_kind_of_day_leaves_the_weights() -> None:
    assert days_seen(after(1, FINE, FINE.model_copy(update={"name": "busy"}))) == ()


def test_a_day_sells_as_many_times_the_usual_as_its_kind_on_average() -> None:
    assert factor_of(days_seen(after(2, WET, FINE))) == pytest.approx(Decimal(12 + Decimal("0.5")) / 13)
    assert factor_of(()) == 1
