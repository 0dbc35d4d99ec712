"""What an answer leans on, and what in its book is odd."""

from datetime import date
from decimal import Decimal

import pytest

from salebook.event.entries import Line
from salebook.forecast.forecast import Forecast
from salebook.say.leans_on import leans_on, odd_in_book
from tests.support.lantern_sale import (
    AFTER_ALL,
    IN_MAY,
    SATURDAY,
    SATURDAY_EVENING,
    SUNDAY,
    TALLY,
    asked,
    lanterns,
    on_saturday,
    sold,
)


def test_it_says_what_is_taken_for_granted() -> None:
    assert leans_on(on_saturday(good=100)) == (
        "The plan does not say when the sale is open: 10:00 to 17:00 is assumed.",
        "All days are taken to be alike, and buyers to come evenly through the hours.",
        "If the first day were 40 % of the whole sale, the chance of the target would be 64 %; "
        "if it were 60 %, 0 %.",
        "One kind of day is taken for all days of the sale.",
        "How many buy at which price is the plan's guess; what has sold changes only the kind of day.",
    )


@pytest.mark.parametrize(
    ("amount", "some", "is_said"),
    [
        pytest.param("55", 40, True, id="dearer, as the price was cut since"),
        pytest.param("44", 40, False, id="what is asked now"),
        pytest.param("40", 4, False, id="a little less by haggling"),
    ],
)
def test_prices_that_were_others_so_far_are_named(amount: str, some: int, *, is_said: bool) -> None:
    says = (
        "What Lantern sold for so far is not what is asked now: the time past is weighed as if it had been "
        "asked all along."
    )
    lines = (*sold(range(1, some + 1), amount=Decimal(amount)), *sold(range(some + 1, 41)))
    assert (says in leans_on(asked(SATURDAY_EVENING, made={"LAN": 86}, lines=lines))) is is_said


def test_opening_hours_in_the_plan_are_not_assumed() -> None:
    of = lanterns(days='[2027-06-19]\nopen = "10:00 to 18:00"')
    assert leans_on(asked(IN_MAY, of=of, made={"LAN": 86})) == (
        "Buyers are taken to come evenly through the hours in which the sale is open.",
        "How many buy at which price is the plan's guess; what has sold changes only the kind of day.",
    )


def test_the_chance_with_another_first_day_goes_with_how_much_is_left() -> None:
    evening = on_saturday(good=100)
    less, half, more = (evening.chance_if_first_day_is(Decimal(share)) for share in ("0.4", "0.5", "0.6"))
    assert less > half > more
    assert half == pytest.approx(evening.as_it_is.figures.chance)


def test_in_the_sale_wares_that_nobody_counted_are_named() -> None:
    says = (
        "What came out of the kiln is not filled in for Lantern: all that are planned are taken to be there."
    )
    assert leans_on(asked(SATURDAY_EVENING, lines=sold([1])))[-1] == says
    assert says not in leans_on(asked(IN_MAY, studio={"LAN": TALLY}))


def test_nothing_is_leaned_on_when_it_is_over_or_nothing_is_left() -> None:
    assert leans_on(asked(AFTER_ALL)) == leans_on(on_saturday(40, good=40)) == ()


def refund(amount: str) -> Line:
    return Line(number=1, day=SATURDAY, piece="LAN-001", kind="refund", amount=Decimal(amount), way="cash")


@pytest.mark.parametrize(
    ("forecast", "says"),
    [
        pytest.param(on_saturday(), (), id="nothing odd"),
        pytest.param(
            asked(SATURDAY_EVENING, made={"LAN": 86}),
            ("Sat, 19 Jun 2027 is past, and no line is written down for it: nothing is taken to have sold.",),
            id="a day without takings",
        ),
        pytest.param(
            on_saturday(40, good=30),
            ("Lantern: 40 are sold, held or gone, and there are only 30.",),
            id="more sold than offered",
        ),
        pytest.param(
            asked(SATURDAY_EVENING, made={"LAN": 30}, lines=(refund("44"),)),
            ("More was given back than has come in.",),
            id="refunds beyond sales",
        ),
        pytest.param(
            asked(SATURDAY_EVENING, lines=(*sold([1]), *sold([2], SUNDAY))),
            ("Lines of days after Sat, 19 Jun 2027 are left out, as this is asked for that day.",),
            id="lines of later days",
        ),
    ],
)
def test_what_is_odd_is_said(forecast: Forecast, says: tuple[str, ...]) -> None:
    assert says == odd_in_book(forecast)


def test_lines_of_later_days_do_not_count() -> None:
    forecast = asked(SATURDAY_EVENING, lines=(*sold([1]), *sold([2], SUNDAY)))
    assert forecast.standing.counts["LAN", "first"].sold == 1
    assert forecast.last_line == date(2027, 6, 20)
