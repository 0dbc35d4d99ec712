from datetime import date

import pytest

from salebook.making.days import Task
from salebook.reckoning import Reckoning, reckon
from salebook.say.time import format_day, task_label, time_sentences
from tests.making.test_days import five_pieces, june

LAST_DAYS = (
    "Last day to throw: Fri, 28 May 2027. First firing by Sun, 6 Jun 2027. Last firing by Wed, 9 Jun 2027."
)


def sentences(today: date | None, **making: object) -> tuple[str, ...]:
    reckoning: Reckoning = reckon(five_pieces(**making), today=today)
    return time_sentences(reckoning.plan, reckoning.days)


@pytest.mark.parametrize(
    ("today", "said"),
    [
        (None, "Begin to throw by Wed, 26 May 2027."),
        (june(-15), "There is time: begin to throw by Wed, 26 May 2027; days in hand: 10."),
        (june(-5), "There is just time: begin to throw today."),
    ],
)
def test_whether_there_is_time_comes_first(today: date | None, said: str) -> None:
    assert sentences(today) == (said, LAST_DAYS)


def test_too_late_is_said_loudly_with_what_would_fit() -> None:
    name = five_pieces().wares[0].name
    assert sentences(june(-6), batch=1)[:3] == (
        "TOO LATE by a day if nothing is thrown yet: throwing had to begin by Mon, 24 May 2027.",
        "With all pieces the sale could be held from Sun, 13 Jun 2027.",
        f"By the day of the sale there could be: 4 {name}.",
    )


def test_where_nothing_fits_that_is_said() -> None:
    assert sentences(june(11))[2] == (
        "By the day of the sale nothing that is thrown from today on would be ready."
    )


def test_without_firings_only_throwing_has_a_last_day() -> None:
    reckoning = reckon(five_pieces().model_copy(update={"firings": ()}))
    assert time_sentences(reckoning.plan, reckoning.days)[-1] == "Last day to throw: Wed, 2 Jun 2027."


def test_without_wares_nothing_is_said() -> None:
    reckoning = reckon(five_pieces(), today=june(0))
    without = reckon(reckoning.plan.model_copy(update={"wares": (), "materials": (), "work": ()}))
    assert time_sentences(without.plan, without.days) == ()


def test_a_day_is_said_as_its_locale_does() -> None:
    assert format_day(june(1), "en_US") == "Tue, Jun 1, 2027"


@pytest.mark.parametrize(
    ("task", "said"),
    [
        (Task(kind="throw", first=june(1), last=june(2)), "throw"),
        (
            Task(kind="fire", firing="biscuit", first=june(1), last=june(4), lit=(june(1), june(3))),
            "biscuit: fire, kiln loads: 2",
        ),
        (Task(kind="glaze", firing="tenmoku", first=june(1), last=june(1)), "tenmoku: put on glaze"),
    ],
)
def test_a_task_is_said_in_words(task: Task, said: str) -> None:
    assert task_label(task) == said
