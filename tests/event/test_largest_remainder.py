from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from salebook.event.largest_remainder import quotas
from salebook.plan.money import share_out

AMOUNTS = st.integers(0, 10**9)
PARTS = st.lists(st.integers(1, 1_000_000), min_size=1, max_size=12)


def test_a_penny_left_over_goes_to_the_largest_remainder() -> None:
    assert [(step.whole, step.remainder, step.place) for step in quotas(500, [3, 3, 1])] == [
        (214, 2, 2),
        (214, 2, 3),
        (71, 3, 1),
    ]


@given(AMOUNTS, PARTS)
def test_the_steps_lead_to_the_shares_that_are_paid(units: int, parts: list[int]) -> None:
    steps = quotas(units, parts)
    left = units - sum(step.whole for step in steps)
    shares = tuple(Decimal(step.whole + (step.place <= left)) for step in steps)
    assert shares == share_out(Decimal(units), parts, 0)


@given(AMOUNTS, PARTS)
def test_places_in_line_are_all_different(units: int, parts: list[int]) -> None:
    places = sorted(step.place for step in quotas(units, parts))
    assert places == list(range(1, len(parts) + 1))
