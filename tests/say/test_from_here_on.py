"""Where a sale stands, said in sentences: first what matters."""

import re
from collections.abc import Sequence

import pytest

from salebook.event.entries import PieceEntry
from salebook.forecast.forecast import Forecast
from salebook.say.from_here_on import forecast_sentences, option_text
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
from tests.support.small_event import after, sale

HELD = {"LAN-050": PieceEntry(reserved_for="7")}


def test_on_saturday_evening_it_says_what_is_there_sold_to_go_and_likely() -> None:
    dearer = lanterns(price="48", target="3600")
    evening = asked(SATURDAY_EVENING, of=dearer, made={"LAN": 86}, lines=sold(range(1, 41)))
    assert forecast_sentences(evening) == (
        "86 good, 40 sold, £1,903.20 raised.",
        "£1,696.80 to go from 46 pieces: £37.28 each if all sell.",
        "At the prices asked now the chance of £3,600 is about 5 in 10 (47 %); about £3,568 can be "
        "expected, and £4,088 if all sell.",
        "At £36 it is out of reach even if all sell.",
        "It is Sat, 19 Jun 2027, 22:00: 50 % of the selling time is over.",
        "By what has sold, the day is most likely of the kind that the plan calls “usual” (56 %).",
    )


def test_out_of_reach_is_said_with_what_all_that_is_left_would_bring() -> None:
    counts, expected, to_go, now, *_others = forecast_sentences(on_saturday(pieces=HELD))
    assert counts == "86 good, 40 sold, 1 held for people, £1,744.60 raised."
    assert expected == "£43.54 can be expected from what is held and from other income."
    assert to_go == "£2,211.86 to go from 45 pieces: £49.68 each if all sell."
    assert now == (
        "At the prices asked now £4,000 is out of reach even if all sell: that would come to £3,747, "
        "and about £3,499 can be expected."
    )


def test_in_the_making_weeks_it_says_what_is_on_the_way_and_by_when_to_throw() -> None:
    week = forecast_sentences(asked(IN_MAY, studio={"LAN": TALLY}))
    assert week[:4] == (
        "60 good, 0 sold, £0 raised.",
        "34 are on the way.",
        "11 more are to throw, begun by Wed, 9 Jun 2027: they are counted in.",
        "£4,000 to go from 102 pieces: £39.67 each if all sell.",
    )


def test_what_nobody_has_counted_is_planned_and_there_may_be_no_time_for_it() -> None:
    assert forecast_sentences(asked(TOO_LATE, pieces=HELD))[:3] == (
        "0 good, 0 sold, 1 held for people, £0 raised.",
        "100 are planned and not counted yet: they are taken to be there in time.",
        "Begin to throw by Fri, 4 Jun 2027.",
    )


def test_what_there_is_no_time_to_throw_is_left_out() -> None:
    _counts, _way, to_throw, to_go, *_rest = forecast_sentences(asked(TOO_LATE, studio={"LAN": TALLY}))
    assert to_throw == (
        "11 more are wanted, but throwing them had to begin by Wed, 9 Jun 2027: they are left out."
    )
    assert "from 93 pieces" in to_go


@pytest.mark.parametrize(
    "forecast",
    [
        pytest.param(asked(TOO_LATE, made={"LAN": 83}), id="all made, a week before"),
        pytest.param(on_saturday(studio={"LAN": TALLY}), id="in the sale"),
        pytest.param(asked(AFTER_ALL, studio={"LAN": TALLY}), id="after it"),
    ],
)
def test_nothing_is_said_of_throwing_when_it_is_over(forecast: Forecast) -> None:
    told = said(forecast)
    assert [word for word in ("throw", "TOO LATE", "on the way") if word in told] == []


def said(forecast: Forecast) -> str:
    options = [option_text(option, forecast) for option in forecast.options]
    return " ".join([*forecast_sentences(forecast), *options])


@pytest.mark.parametrize(
    ("target", "sentence"),
    [
        ("1000", "The sale is over, and the target of £1,000 is reached."),
        (
            "1780",
            "The sale is over. With what is still to come from what is held it comes to £1,788.14, "
            "and the target of £1,780 is reached.",
        ),
        (
            "4000",
            "The sale is over. With what is still to come from what is held it comes to £1,788.14, "
            "and £2,211.86 are missing to the target of £4,000.",
        ),
    ],
)
def test_after_the_last_day_it_says_how_it_came_out_and_no_chance(target: str, sentence: str) -> None:
    lines = sold(range(1, 41))
    over = asked(AFTER_ALL, of=lanterns(target=target), made={"LAN": 86}, lines=lines, pieces=HELD)
    assert forecast_sentences(over)[1:] == (sentence,)
    assert not over.options
    assert not over.ladder


def test_a_sale_that_is_over_with_nothing_held_is_short_by_what_is_missing() -> None:
    over = asked(AFTER_ALL, made={"LAN": 86}, lines=sold(range(1, 41)))
    assert forecast_sentences(over)[1] == (
        "The sale is over, and £2,255.40 are missing to the target of £4,000."
    )


def test_a_target_that_is_reached_is_said_and_nothing_more_is_asked_for() -> None:
    reached = asked(SATURDAY_EVENING, of=lanterns(target="1500"), made={"LAN": 86}, lines=sold(range(1, 41)))
    sentences = forecast_sentences(reached)
    assert sentences[2] == (
        "The target of £1,500 is reached; at the prices asked now about £3,479 can be expected in all."
    )
    assert reached.options == ()


def test_where_no_piece_is_left_that_is_said() -> None:
    assert forecast_sentences(on_saturday(40, good=40))[2:] == (
        "£2,255.40 to go, and no piece is left to sell.",
    )


def test_what_must_come_in_before_anything_is_raised_is_said() -> None:
    given_back = on_saturday(1, good=30)
    assert given_back.standing.reached > 0
    event = after()
    assert event.share_out.pool < 0
    forecast = asked(SATURDAY_EVENING, of=sale())
    assert "That includes £3.50 that must come in before anything is raised." in forecast_sentences(forecast)


def test_where_prices_differ_they_are_said_by_how_much_they_change() -> None:
    sentences = forecast_sentences(asked(SATURDAY_EVENING, of=sale()))
    assert "each on average if all sell" in " ".join(sentences)


@pytest.mark.parametrize(
    ("forecast", "options"),
    [
        pytest.param(
            asked(TOO_LATE, studio={"LAN": TALLY}),
            [
                "£46.50 for each that is left",
                "a target of £3,600",
                "£46.50 for each that is left and a target of £3,600",
                "a target of £2,450",
            ],
            id="too late to throw",
        ),
        pytest.param(
            on_saturday(pieces=HELD), ["a target of £3,600", "a target of £3,250"], id="no other price helps"
        ),
    ],
)
def test_options_are_said_as_what_one_can_do(forecast: Forecast, options: Sequence[str]) -> None:
    assert options == [option_text(option, forecast) for option in forecast.options]


def test_more_thrown_is_said_with_its_last_day() -> None:
    week = asked(IN_MAY, studio={"LAN": TALLY})
    assert "40 more of Lantern thrown, begun by Mon, 7 Jun 2027" in [
        option_text(option, week) for option in week.options
    ]


def test_what_fits_no_kind_of_day_is_said() -> None:
    none_sells = lanterns(demand="[[44, 0]]")
    forecast = asked(SATURDAY_EVENING, of=none_sells, made={"LAN": 86}, lines=sold(range(1, 5)))
    assert any("fits no kind of day in the plan" in sentence for sentence in forecast_sentences(forecast))


def test_prices_of_several_wares_are_said_by_how_much_they_change() -> None:
    of = lanterns(wanted="60\nseconds = 0.2\nseconds_price = 30", target="2750")
    sentences = forecast_sentences(asked(SATURDAY_EVENING, of=of, made={"LAN": 70}, lines=sold(range(1, 31))))
    assert "With prices 15 % lower it is out of reach even if all sell." in sentences
    assert sentences[1].endswith("each on average if all sell.")


@pytest.mark.parametrize(
    ("wanted", "told"),
    [
        ("60", "At £46.50 it is about 7 in 10 (69 %)."),
        (
            "60\nseconds = 0.2\nseconds_price = 50",
            "With prices 25 % lower for what is left it is about 5 in 10 (51 %).",
        ),
    ],
)
def test_a_better_price_is_named(wanted: str, told: str) -> None:
    dear = lanterns(price="66", target="3000", wanted=wanted)
    sentences = forecast_sentences(
        asked(SATURDAY_EVENING, of=dear, made={"LAN": 70}, lines=sold(range(1, 31)))
    )
    assert told == sentences[3]


def test_where_other_money_is_enough_no_piece_has_to_sell() -> None:
    of = lanterns(wanted="100\nspoken_for = 2", target="40")
    held = {f"LAN-{number:03}": PieceEntry(reserved_for="7") for number in range(1, 3)}
    sentences = forecast_sentences(asked(SATURDAY_EVENING, of=of, made={"LAN": 86}, pieces=held))
    assert sentences[2] == "With that the target of £40 is reached, whatever else sells."


def test_where_nothing_is_left_and_something_is_held_both_are_said() -> None:
    held = {f"LAN-{number:03}": PieceEntry(reserved_for="7") for number in range(39, 41)}
    evening = asked(SATURDAY_EVENING, made={"LAN": 40}, lines=sold(range(1, 39)), pieces=held)
    assert forecast_sentences(evening)[2:] == (
        "£87.08 can be expected from what is held and from other income.",
        "£2,255.55 to go, and no piece is left to sell.",
    )


@pytest.mark.parametrize(
    ("good", "target", "told"),
    [
        (40, "1500", "The target of £1,500 is reached; at the prices asked now about £1,745 can be expected"),
        (41, "1780", "With that the target of £1,780 is reached, whatever else sells."),
    ],
)
def test_where_nothing_is_left_a_target_that_is_reached_is_said(good: int, target: str, told: str) -> None:
    held = {f"LAN-{number:03}": PieceEntry(reserved_for="7") for number in range(41, good + 1)}
    evening = asked(
        SATURDAY_EVENING,
        of=lanterns(target=target),
        made={"LAN": good},
        lines=sold(range(1, 41)),
        pieces=held,
    )
    sentences = forecast_sentences(evening)
    assert any(sentence.startswith(told) for sentence in sentences)
    assert [sentence for sentence in sentences if "to go" in sentence] == []


def test_of_what_is_wanted_some_may_still_be_thrown_in_time() -> None:
    many = TALLY.__class__(thrown=20, dry=20, biscuit=20, good=10, broken=10)
    week = asked(IN_MAY.replace(month=6, day=7), studio={"LAN": many})
    told = forecast_sentences(week)[1]
    assert re.fullmatch(
        r"\d+ more are wanted, and throwing them had to begin by .*: there is time for \d+, "
        r"begun today, and these are counted in\.",
        told,
    )
