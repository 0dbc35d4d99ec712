"""Numbers of pieces as people write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.base.errors import UnfitError
from salebook.plan.piece_numbers import in_stretches, number_of, numbers_in, parts_of

NUMBERS = st.lists(st.tuples(st.sampled_from(("A", "JUG", "B2")), st.integers(1, 1100)), min_size=1)


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("JUG-003", "JUG-003"),
        ("jug 3, JUG-11..JUG-12,", "JUG-003 JUG-011 JUG-012"),
        ("JUG-11..012, JUG-3", "JUG-003 JUG-011 JUG-012"),
        ("B2-9..11", "B2-009 B2-010 B2-011"),
        ("JUG-1000", "JUG-1000"),
        ("JUG-3, JUG-003", "JUG-003 JUG-003"),
    ],
)
def test_numbers_and_stretches_are_read_as_people_write_them(written: str, read: str) -> None:
    assert " ".join(numbers_in(written)) == read


@pytest.mark.parametrize(
    ("written", "unread"),
    [
        ("", '011..014"'),
        ("JUG", "and not JUG"),
        ("JUG-0, JUG-3, MUG?", "and not JUG-0, MUG?"),
        ("JUG-5..3", "and not JUG-5..3"),
        ("JUG-1..MUG-4", "and not JUG-1..MUG-4"),
        ("JUG-1..999999", "at most 1000 numbers"),
    ],
)
def test_everything_that_is_no_number_is_named(written: str, unread: str) -> None:
    with pytest.raises(UnfitError, match=rf"{unread.replace('?', '[?]')}$"):
        numbers_in(written)


@given(parts=NUMBERS)
def test_numbers_written_in_stretches_are_the_same_when_read(parts: list[tuple[str, int]]) -> None:
    numbers = tuple(number_of(*part) for part in sorted(parts))
    assert numbers_in(in_stretches(numbers)) == numbers
    assert [parts_of(number) for number in numbers] == sorted(parts)
