"""What can still be done: options side by side."""

from datetime import timedelta

import pytest

from salebook.forecast.figures import chance_of_target, figures_of
from salebook.forecast.forecast import Forecast
from salebook.forecast.options import Option
from salebook.making.days import days_for
from tests.support.lantern_sale import (
    AFTER_ALL,
    IN_MAY,
    SATURDAY_EVENING,
    TALLY,
    TOO_LATE,
    asked,
    lanterns,
    on_saturday,
    sold,
)

CASES = {
    "in May": asked(IN_MAY, studio={"LAN": TALLY}),
    "in May, nothing counted": asked(IN_MAY),
    "too late to throw": asked(TOO_LATE, studio={"LAN": TALLY}),
    "all made": asked(TOO_LATE, made={"LAN": 83}),
    "on Saturday": on_saturday(good=100),
}


def parts(option: Option) -> frozenset[str]:
    """Return which changes an option is made of."""
    return frozenset(name for name in ("rung", "more", "target") if getattr(option, name) is not None)


@pytest.mark.parametrize("forecast", CASES.values(), ids=CASES.keys())
def test_every_option_makes_the_target_likelier(forecast: Forecast) -> None:
    assert forecast.options
    assert all(option.chance > forecast.as_it_is.figures.chance for option in forecast.options)


@pytest.mark.parametrize("forecast", CASES.values(), ids=CASES.keys())
def test_two_together_are_named_only_where_one_alone_does_not_do(forecast: Forecast) -> None:
    singles = [option for option in forecast.options[:-1] if len(parts(option)) == 1]
    together = [option for option in forecast.options if len(parts(option)) == 2]
    assert bool(together) == (len(singles) > 1 and all(option.chance < 0.9 for option in singles))


@pytest.mark.parametrize("forecast", CASES.values(), ids=CASES.keys())
def test_the_last_is_the_highest_round_target_that_is_sure_enough(forecast: Forecast) -> None:
    *_others, sure = forecast.options
    assert sure.target is not None
    assert parts(sure) == {"target"}
    state = forecast.as_it_is.state
    higher = type(state)(**{**vars(state), "target": sure.target + 50})
    assert chance_of_target(higher) < 0.9 <= sure.chance
    assert sure.target % 50 == 0


@pytest.mark.parametrize("case", ["too late to throw", "all made", "on Saturday"])
def test_no_more_are_thrown_where_there_is_no_time_or_all_is_made_for_now(case: str) -> None:
    assert not any(option.more for option in CASES[case].options)


def test_more_are_thrown_by_the_last_day_that_leaves_time_for_all() -> None:
    (more, *_others) = [option.more for option in CASES["in May"].options if option.more]
    assert (more.ware.code, more.count) == ("LAN", 40)
    asked_that_day = asked(IN_MAY.replace(month=6, day=more.by.day), studio={"LAN": TALLY})
    a_day_later = asked(IN_MAY.replace(month=6, day=more.by.day) + timedelta(1), studio={"LAN": TALLY})
    counts = [
        max((option.more.count for option in forecast.options if option.more), default=0)
        for forecast in (asked_that_day, a_day_later)
    ]
    assert counts == [40, 20]


def test_before_anything_is_counted_the_whole_plan_is_still_to_throw() -> None:
    forecast = CASES["in May, nothing counted"]
    begin = days_for(forecast.plan, forecast.reckoning.studio).begin_by
    (more, *_others) = [option.more for option in forecast.options if option.more]
    assert begin is not None
    assert more.by < begin


def test_what_more_pieces_cost_the_sale_comes_off_the_net() -> None:
    """The takings pay for the clay: a bag more for the pieces more."""
    forecast = asked(IN_MAY, of=lanterns(pack_price='14\nmet_by = "sale"'), studio={"LAN": TALLY})
    (more, *_others) = [option.more for option in forecast.options if option.more]
    assert more.cost > 0
    assert more.cost % 14 == 0


def test_prices_that_nobody_knows_come_in_only_where_no_others_help() -> None:
    of = lanterns(demand="[[44, 0.9]]")
    forecast = asked(SATURDAY_EVENING, of=of, made={"LAN": 86}, lines=sold(range(1, 41)))
    (rung, *_others) = [option.rung for option in forecast.options if option.rung]
    assert rung.is_guessed
    assert rung.figures == figures_of(rung.state)


def test_nothing_is_to_be_done_where_the_sale_is_over_or_the_target_sure() -> None:
    assert asked(AFTER_ALL).options == ()
    assert asked(SATURDAY_EVENING, of=lanterns(target="500"), lines=sold(range(1, 9))).options == ()
