from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.plan.money import cash_step, in_cash


@pytest.mark.parametrize(
    ("currency", "step"), [("GBP", "0.01"), ("CHF", "0.05"), ("SEK", "1"), ("JPY", "1"), ("KWD", "0.001")]
)
def test_the_step_is_that_of_the_smallest_coin(currency: str, step: str) -> None:
    assert Decimal(step) == cash_step(currency)


def test_an_unknown_currency_has_no_step() -> None:
    with pytest.raises(ValueError, match="XQX"):
        cash_step("XQX")


@given(st.decimals(0, 10_000, places=2), st.sampled_from(["GBP", "CHF", "CAD", "DKK", "SEK"]))
def test_a_sum_in_cash_is_whole_steps_and_at_most_half_a_step_away(amount: Decimal, currency: str) -> None:
    step, cash = cash_step(currency), in_cash(amount, currency)
    assert cash % step == 0
    assert abs(cash - amount) * 2 <= step
    assert in_cash(cash, currency) == cash
