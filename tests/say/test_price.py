"""The price advice in sentences."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from salebook.plan.load import load_plan, read_plan
from salebook.plan.model import Plan, Sale
from salebook.pricing.demand import is_guessed
from salebook.reckoning import reckon
from salebook.say.price import about, changed, in_words, price_sentences
from tests.support.cldr import money

SAMPLES = Path(__file__).parent.parent.parent / "sample_data"
WORKED = Path(__file__).parent.parent / "worked-plan.toml"
FIRST = (SAMPLES / "first-sale.toml").read_text(encoding="utf-8")


def plan_with(*changes: tuple[str, str], text: str = FIRST) -> Plan:
    """Return the first sample with some of its text replaced."""
    for replaced, by in changes:
        assert replaced in text
        text = text.replace(replaced, by, 1)
    return read_plan(text, file="plan.toml")


def sentences(plan: Plan) -> tuple[str, ...]:
    return price_sentences(reckon(plan))


def test_the_worked_plan_is_told_with_its_published_figures() -> None:
    assert price_sentences(reckon(load_plan(WORKED), loads={"biscuit": 2, "glaze": 2})) == (
        "At the prices in the plan you can expect about £805 for the groups, "
        "with about 41 of 51 pieces sold.",
        "To reach £820.00 you need 42 of 51 pieces sold, or prices 10 % higher; "
        "the chance is about 6 in 10 (57 %).",
        "The most can be expected with prices from 10 to 30 % higher: about £827, anywhere in that range.",
        "Not one of the prices below makes the target as sure as 90 %: try more pieces or a lower target "
        "first.",
    )


@pytest.mark.parametrize(
    ("target", "first_words"),
    [
        ("200", "At the prices in the plan"),
        ("264", "To reach £264.00 you need nearly every piece sold, 18 of 20"),
        ("400", "To reach £400.00 it would take 27 pieces sold at the prices in the plan, and there are 20"),
    ],
)
def test_a_target_that_takes_nearly_every_piece_comes_first(target: str, first_words: str) -> None:
    assert sentences(plan_with(("target = 240", f"target = {target}")))[0].startswith(first_words)


def test_what_cannot_be_made_in_time_is_expected_with_an_if_only() -> None:
    too_late, in_time = (reckon(plan_with(), today=date(2027, month, 20)) for month in (4, 1))
    assert price_sentences(too_late)[0].startswith("If all could be made in time, you could expect about £")
    assert price_sentences(too_late)[1:] == price_sentences(in_time)[1:]
    assert price_sentences(in_time)[0].startswith("At the prices in the plan you can expect about £")
    losing = reckon(plan_with(("amount = 24", "amount = 2400")), today=date(2027, 4, 20))
    assert any(
        "Even if all could be made in time, expect to lose" in each for each in price_sentences(losing)
    )


def test_prices_that_fees_eat_up_are_said_first() -> None:
    fee = '\n[[payments]]\nname = "card"\npercent = 100\nfixed = 1\n'
    told = sentences(plan_with(text=FIRST + fee))
    assert told[0].endswith("at these prices a piece sold brings nothing in.")
    assert told[1].startswith("At the prices in the plan expect to lose about £")


def test_no_higher_price_is_advised_where_the_plan_does_not_say_how_many_would_sell() -> None:
    told = " ".join(sentences(plan_with(("target = 240", "target = 300"))))
    assert "higher" not in told


def test_no_price_beyond_the_last_point_of_demand_is_advised() -> None:
    flat = ('ball = "14 oz"', 'ball = "14 oz"\ndemand = [[14, 0.9], [17, 0.9]]')
    reckoning = reckon(plan_with(flat, ("target = 240", "target = 400")))
    guessed = [
        rung.change for rung in reckoning.advice.ladder if is_guessed(reckoning.plan.wares, rung.prices)
    ]
    assert guessed == list(range(10, 61, 5))
    assert reckoning.advice.target.best_change == 60
    told = " ".join(price_sentences(reckoning))
    assert "prices 5 % higher" in told
    assert "60 %" not in told


def test_lower_prices_that_would_do_are_said() -> None:
    assert any("(prices 5 % lower should still do)" in each for each in sentences(plan_with()))


def test_prices_that_make_the_target_sure_are_said() -> None:
    demand = ('ball = "14 oz"', 'ball = "14 oz"\ndemand = [[10, 0.9], [40, 0.9]]')
    told = sentences(plan_with(demand))
    assert told[-1] == "For a chance of 90 % prices would have to be 5 % higher."


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (0.0, "less than 1 in 20"),
        (0.049, "less than 1 in 20"),
        (0.05, "about 1 in 10"),
        (0.567, "about 6 in 10"),
        (0.95, "about 9 in 10"),
        (0.951, "more than 19 in 20"),
        (1.0, "more than 19 in 20"),
    ],
)
def test_chances_are_said_as_people_say_them(chance: float, words: str) -> None:
    assert in_words(chance) == words


@pytest.mark.parametrize(("change", "words"), [(0, "as they are"), (15, "15 % higher"), (-30, "30 % lower")])
def test_changes_of_price_are_said_in_per_cent(change: int, words: str) -> None:
    assert changed(change) == words


@pytest.mark.parametrize(
    ("currency", "locale"),
    [
        ("GBP", "en_GB"),
        ("EUR", "de_DE"),
        ("JPY", "ja_JP"),
        ("CHF", "de_CH"),
        ("KWD", "en_GB"),
    ],
)
def test_amounts_that_are_expected_are_said_in_whole_units(currency: str, locale: str) -> None:
    sale = Sale.model_validate(
        {
            **{"title": "t", "maker": "m", "days": [date(2027, 1, 1)], "target": 1},
            **{"currency": currency, "locale": locale},
        }
    )
    assert about(Decimal("1234.5"), sale) == money("1,235", currency, locale)
