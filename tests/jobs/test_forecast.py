"""`salebook price` on a workbook: what is shown, and the JSON from which anyone can reckon it again."""

import io
import json
from datetime import date, datetime
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from rich.console import Console

from salebook.book.write import book_bytes
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.forecast.figures import figures_of
from salebook.jobs.forecast import forecast_from, show_forecast
from salebook.jobs.forecast_json import forecast_json
from tests.support.lantern_sale import IN_MAY, SATURDAY_EVENING, TALLY, asked, lanterns, on_saturday, sold
from tests.support.sale_states import state_from

CLOCK = datetime(2027, 3, 1, 9, 30)


@cache
def book(entries: str = "nothing") -> bytes:
    filled = {
        "nothing": Entries(),
        "40 sold": Entries(made={"LAN": 86}, lines=sold(range(1, 41))),
        "a week": Entries(studio={"LAN": TALLY}),
    }
    return book_bytes(lanterns(), reckon_event(lanterns(), filled[entries]))


def shown(
    tmp_path: Path,
    entries: str,
    *,
    now: datetime | None = None,
    today: date | None = None,
    clock: datetime = CLOCK,
    width: int = 100,
) -> str:
    path = tmp_path / "sale.xlsx"
    path.write_bytes(book(entries))
    console = Console(file=io.StringIO(), record=True, width=width)
    show_forecast(forecast_from(path, now=now, today=today, clock=clock), console)
    return console.export_text()


@pytest.mark.slow
@pytest.mark.parametrize("width", [60, 70, 80])
def test_the_mark_of_a_guess_stands_beside_its_price_on_a_narrow_terminal(tmp_path: Path, width: int) -> None:
    lines = shown(tmp_path, "40 sold", today=date(2027, 6, 19), width=width).splitlines()
    assert [line for line in lines if line.startswith(("?", "higher")) and "does not say" not in line] == []
    assert any(line.startswith("60 % higher ?") for line in lines)


def test_sentences_come_first_then_the_ladder_then_options_then_what_it_leans_on(tmp_path: Path) -> None:
    text = shown(tmp_path, "40 sold", today=date(2027, 6, 19))
    places = [
        text.find(heading)
        for heading in (
            "86 good, 40 sold, £1,744.60 raised.",
            "to go from 46 pieces",
            "What is left, at other prices",
            "What can be done",
            "What each piece must fetch",
            "What this leans on",
        )
    ]
    assert -1 not in places
    assert places == sorted(places)


def test_today_is_the_evening_of_that_day(tmp_path: Path) -> None:
    text = shown(tmp_path, "40 sold", today=date(2027, 6, 19))
    assert text == shown(tmp_path, "40 sold", now=SATURDAY_EVENING)


def test_where_no_moment_is_named_it_is_the_evening_of_the_last_line_if_the_clock_is_behind(
    tmp_path: Path,
) -> None:
    assert shown(tmp_path, "40 sold") == shown(tmp_path, "40 sold", now=SATURDAY_EVENING)


def test_nothing_is_said_of_days_or_of_throwing_in_the_sale(tmp_path: Path) -> None:
    text = shown(tmp_path, "40 sold", now=SATURDAY_EVENING)
    assert [word for word in ("TOO LATE", "throw", "Day by day") if word in text] == []


def test_a_book_that_says_no_more_than_its_plan_is_shown_as_the_plan(tmp_path: Path) -> None:
    text = shown(tmp_path, "nothing")
    assert "At the prices in the plan you can expect" in text
    assert "Day by day" in text


def test_an_empty_book_in_the_sale_says_where_it_stands(tmp_path: Path) -> None:
    text = shown(tmp_path, "nothing", now=datetime(2027, 6, 19, 13))
    assert "100 good, 0 sold, £0 raised." in text


@pytest.mark.slow
def test_a_question_on_the_book_is_named_with_the_command_that_lists_it(tmp_path: Path) -> None:
    twice = Entries(made={"LAN": 86}, lines=(*sold([1]), *(sold([1], claim="9"))))
    lines = tuple(
        line.__class__(**{**vars(line), "number": number}) for number, line in enumerate(twice.lines, start=1)
    )
    path = tmp_path / "sale.xlsx"
    event = reckon_event(lanterns(), Entries(made=twice.made, lines=lines))
    path.write_bytes(book_bytes(lanterns(), event))
    console = Console(file=io.StringIO(), record=True, width=1000)
    show_forecast(forecast_from(path, now=SATURDAY_EVENING, today=None, clock=CLOCK), console)
    assert f"Something in the workbook needs a look first (1): salebook check {path}" in console.export_text()


@cache
def answer() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(json.dumps(forecast_json(on_saturday(good=100))))
    return found


def test_the_answer_has_all_of_the_plans_and_what_is_promised_of_now() -> None:
    now = answer()["now"]
    assert {"currency", "target", "must_fetch", "ladder", "now"} <= answer().keys()
    assert list(now) == [
        *("at", "over", "state", "figures", "must_fetch", "ladder", "options"),
        *("if_first_day_is", "leans_on", "warnings"),
    ]
    assert (now["at"], now["over"]) == ("2027-06-19T22:00", 0.5)
    assert list(now["state"]["goods"][0]) == [
        *("code", "grade", "offered", "gone", "spoken_for", "sold", "held", "share"),
        *("price_then", "share_then", "brings_then", "on_the_way"),
    ]
    assert [one["share"] for one in now["if_first_day_is"]] == [0.4, 0.6]
    assert [one["assuming"] for one in now["must_fetch"]] == ["all sell", "as planned", "sure"]


def same_figures(now: dict[str, Any], given: dict[str, Any]) -> bool:
    text = json.dumps(now["state"])
    figures = figures_of(state_from(json.loads(text, parse_float=Decimal, parse_int=int)))
    return (
        float(given["expected_net"]) == pytest.approx(float(figures.expected_net), abs=0.01)
        and given["expected_more_sold"] == pytest.approx(float(figures.expected_more_sold))
        and given["chance"] == pytest.approx(figures.chance, abs=0.001)
        and given["outlooks"] == pytest.approx([float(weight) for weight in figures.outlooks])
    )


@pytest.mark.parametrize(
    "forecast", [on_saturday(good=100), asked(IN_MAY, studio={"LAN": TALLY})], ids=["sale", "May"]
)
def test_the_figures_can_be_reckoned_from_the_state(forecast: Any) -> None:
    now = forecast_json(forecast)["now"]
    assert same_figures(now, now["figures"])


def test_money_is_text_but_in_the_state() -> None:
    now = answer()["now"]
    assert now["figures"]["expected_net"] == "3805.79"
    assert now["ladder"][0]["prices"] == {"LAN": "31.00"}
    assert now["ladder"][0]["if_all_sell"].count(".") == 1
    assert now["options"][0]["expected_net"].count(".") == 1
    assert isinstance(now["state"]["reached"], float)


def test_of_a_sale_that_is_over_no_ladder_and_no_options_are_answered() -> None:
    now = forecast_json(asked(datetime(2027, 6, 21), lines=sold([1])))["now"]
    assert (now["over"], now["ladder"], now["options"], now["if_first_day_is"]) == (1.0, [], [], [])
    assert now["figures"]["chance"] == 0.0


def test_no_number_in_the_answer_is_none() -> None:
    for forecast in (on_saturday(40, good=30), asked(datetime(2027, 6, 19)), asked(datetime(1990, 1, 1))):
        assert "NaN" not in json.dumps(forecast_json(forecast))
