"""The mark by which a change of inputs shows."""

from datetime import date, datetime, time, timedelta

import pytest

from salebook.book.file.fingerprint import fingerprint


@pytest.mark.parametrize(
    ("written", "read"),
    [
        (20, 20.0),
        (date(2027, 6, 12), datetime(2027, 6, 12)),
        (0.25, time(6)),
        (1.0, timedelta(days=1)),
        ("kiln wash", " kiln wash "),
    ],
)
def test_a_value_has_the_same_mark_when_it_is_read_back(written: object, read: object) -> None:
    assert fingerprint([written]) == fingerprint([read])


def test_the_order_and_empty_cells_do_not_count() -> None:
    assert fingerprint([1, None, "a", ""]) == fingerprint(["a", 1])


@pytest.mark.parametrize(("one", "other"), [([1], [2]), (["a"], ["b"]), ([1], []), ([1], [1, 1])])
def test_any_change_shows(one: list[object], other: list[object]) -> None:
    assert fingerprint(one) != fingerprint(other)
