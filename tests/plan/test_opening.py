"""Opening hours: from when to when, the earlier time first."""

import pytest

from salebook.base.errors import UnfitError
from salebook.plan.opening import OpeningHours, opening_hours
from tests.support.sound_plan import faults_with, plan_with


@pytest.mark.parametrize(
    ("written", "hours"),
    [
        ("10:00 to 17:00", OpeningHours(600, 1020)),
        ("9:30 to 16:15", OpeningHours(570, 975)),
        (" 10:00-17:00 ", OpeningHours(600, 1020)),
        ("10:00 – 17:00", OpeningHours(600, 1020)),
        ("18:00 to 24:00", OpeningHours(1080, 1440)),
        ("10 am to 5.30 pm", OpeningHours(600, 1050)),
    ],
)
def test_hours_are_read_with_a_word_or_a_dash_between(written: str, hours: OpeningHours) -> None:
    assert opening_hours(written) == hours
    assert opening_hours(str(hours)) == hours


@pytest.mark.parametrize(
    "written",
    [
        "10:00",
        "10:00 to",
        "to 17:00",
        "17:00 to 10:00",
        "10:00 to 10:00",
        "10 to 17",
        "10:00 to 25:00",
        "",
        10,
    ],
)
def test_other_hours_are_refused_with_an_example(written: object) -> None:
    with pytest.raises(UnfitError, match='opening hours, the earlier time first, such as "10:00 to 17:00"'):
        opening_hours(written)


def test_a_plan_may_give_them_and_need_not() -> None:
    assert plan_with((("sale", "open"), "10:00 to 17:00")).sale.open == OpeningHours(600, 1020)
    assert plan_with().sale.open is None


def test_a_fault_in_them_says_where_it_is() -> None:
    assert faults_with((("sale", "open"), "all day")) == [
        'sale → open: found "all day", expected opening hours, the earlier time first, '
        'such as "10:00 to 17:00"'
    ]
