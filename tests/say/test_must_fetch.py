"""What each piece must fetch, in sentences."""

from salebook.forecast.must_fetch import must_fetch
from salebook.forecast.standing import planned_standing
from salebook.plan.model import Plan
from salebook.reckoning import reckon
from salebook.say.must_fetch import must_fetch_sentences
from tests.support.lantern_sale import lanterns
from tests.support.priced_sales import a_plan, a_ware
from tests.support.priced_sales import given as donated


def told(plan: Plan) -> tuple[str, ...]:
    reckoning = reckon(plan)
    return must_fetch_sentences(reckoning.plan, must_fetch(planned_standing(reckoning)))


def test_one_price_is_said_for_each_assumption_and_marked_where_nobody_knows_who_buys() -> None:
    assert told(lanterns().plan) == (
        "To reach £4,000.00 each piece must fetch, if all sell: £40.50.",
        "If as many sell as the plan says: £122.00, at which the plan does not say how many would buy.",
        "To be 90 % sure: £176.00, at which the plan does not say how many would buy.",
    )


def test_prices_within_what_the_plan_says_stand_without_a_mark() -> None:
    demand = [["10", "0.9"], ["40", "0.8"]]
    plan = a_plan(wares=[a_ware(demand=demand), a_ware("JUG", demand=demand)], sale={"confidence": "0.5"})
    assert told(plan) == (
        "To reach £100.00 each piece must fetch, if all sell: Mug £5.00 and Jug £5.00.",
        "If as many sell as the plan says: Mug £6.00 and Jug £6.00.",
        "To be 50 % sure: Mug £6.00 and Jug £6.00.",
    )


def test_of_many_wares_it_is_said_by_how_much_prices_change() -> None:
    wares = [a_ware(f"W{number}") for number in range(4)]
    dearer, cheaper = (told(a_plan(wares=wares, target=target))[0] for target in ("1000", "400"))
    assert dearer == "To reach £1,000.00 each piece must fetch, if all sell: prices 22.6 % higher."
    assert cheaper == "To reach £400.00 each piece must fetch, if all sell: prices 52.4 % lower."


def test_where_no_price_makes_it_that_is_said() -> None:
    no_price = ("No price of your own pieces makes £100.00, even if all sell.",)
    assert told(a_plan(donated=[donated()])) == no_price


def test_where_only_all_of_them_would_do_that_is_said() -> None:
    plan = a_plan(wares=[a_ware(demand=[["20", "0.5"], ["22", "0"]])], target="110")
    assert told(plan)[1:] == (
        "If as many sell as the plan says, no price makes it.",
        "There is no price at which it is as sure as 90 %.",
    )


def test_nothing_is_said_where_nothing_is_asked() -> None:
    assert must_fetch_sentences(lanterns().plan, ()) == ()
