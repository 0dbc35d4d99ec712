import math
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from salebook.plan.money import quotas

AMOUNTS = st.integers(0, 10**9)
PARTS = st.lists(st.integers(1, 1_000_000), min_size=1, max_size=12)


def test_a_penny_left_over_goes_to_the_largest_remainder() -> None:
    assert [(step.whole, step.remainder, step.place) for step in quotas(500, [3, 3, 1])] == [
        (214, 2, 2),
        (214, 2, 3),
        (71, 3, 1),
    ]


@given(AMOUNTS, PARTS)
def test_of_whole_units_each_has_its_part_and_fewer_are_left_over_than_there_are_groups(
    units: int, parts: list[int]
) -> None:
    steps = quotas(units, parts)
    assert [step.whole for step in steps] == [
        math.floor(Fraction(units * part, sum(parts))) for part in parts
    ]
    assert 0 <= units - sum(step.whole for step in steps) < len(parts)


@given(AMOUNTS, PARTS)
def test_who_stands_first_in_line_has_the_largest_remainder(units: int, parts: list[int]) -> None:
    in_line = sorted(enumerate(quotas(units, parts)), key=lambda numbered: numbered[1].place)
    assert in_line == sorted(in_line, key=lambda numbered: (-numbered[1].remainder, numbered[0]))


@given(AMOUNTS, PARTS)
def test_places_in_line_are_all_different(units: int, parts: list[int]) -> None:
    places = sorted(step.place for step in quotas(units, parts))
    assert places == list(range(1, len(parts) + 1))
