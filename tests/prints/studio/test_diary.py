from collections import Counter
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from typing import Any

import icalendar
import pytest

from salebook.plan.load import load_plan
from salebook.plan.opening import opening_hours
from salebook.prints.studio.diary import diary_text
from salebook.prints.studio.firing_card import start_hour
from salebook.prints.wording import clock
from salebook.reckoning import Reckoning, reckon
from salebook.say.cautions import caution_about
from tests.support.books import SAMPLES
from tests.support.print_sales import sale

STAMP = datetime(2027, 3, 1, tzinfo=UTC)


@pytest.fixture(scope="module")
def weekend() -> Reckoning:
    return reckon(load_plan(SAMPLES["harbour-weekend"]))


def entries(reckoning: Reckoning, sale_id: str = "weekend") -> list[Any]:
    text = diary_text(reckoning, sale_id=sale_id, stamp=STAMP)
    return list(icalendar.Calendar.from_ical(text).walk("VEVENT"))


def titled(reckoning: Reckoning, *begins: str) -> list[Any]:
    return [each for each in entries(reckoning) if str(each["SUMMARY"]).startswith(begins)]


def with_sale(reckoning: Reckoning, **changes: object) -> Reckoning:
    plan = reckoning.plan
    return reckon(plan.model_copy(update={"sale": plan.sale.model_copy(update=changes)}))


def test_it_holds_throwing_glazing_finishing_firings_the_sale_and_the_count(weekend: Reckoning) -> None:
    kinds = Counter(str(each["SUMMARY"]).split(" ")[0] for each in entries(weekend))
    (throwing,) = (task for task in weekend.days.latest if task.kind == "throw")
    loads = sum(need.loads for need in weekend.studio.firings)
    assert kinds == {
        "Throw": len(throwing.throws),
        "Light": loads,
        "Put": 1,
        "Finish": 1,
        "Harbour": 2,
        "Count": 2,
    }


def test_a_day_of_throwing_says_what_to_weigh_and_how_many_bats(weekend: Reckoning) -> None:
    first = entries(weekend)[0]
    assert str(first["SUMMARY"]) == "Throw 20 × Harbour mug"
    assert first.decoded("DTSTART") == weekend.days.begin_by
    assert str(first["DESCRIPTION"]).splitlines()[:2] == [
        "Weigh 20 balls of 397 g (14 oz), speckled stoneware.",
        "Set out 20 bats.",
    ]


def test_bats_that_nobody_counted_are_not_spoken_of() -> None:
    texts = [str(each["DESCRIPTION"]) for each in titled(sale(), "Throw")]
    assert [text.splitlines()[1][:24] for text in texts] == ["Clay and glaze dust. Fin"] * 2


def test_a_firing_lasts_from_its_clock_time_until_it_is_done(weekend: Reckoning) -> None:
    biscuit = weekend.studio.firings[0]
    (task,) = (task for task in weekend.days.latest if task.kind == "fire" and task.firing == "biscuit")
    found = titled(weekend, "Light the kiln: biscuit")
    assert [each.decoded("DTSTART") for each in found] == [
        datetime.combine(day, biscuit.firing.start) for day in task.lit
    ]
    done = clock(start_hour(biscuit) + biscuit.hours).removesuffix(", next day")
    assert {f"{each.decoded('DTEND'):%H:%M}" for each in found} == {done}
    assert str(found[0]["DESCRIPTION"]).startswith(
        "Shelves, the lowest first: 7 JUG · 7 JUG · 5 JUG.\nIt lasts "
    )


@pytest.mark.parametrize("start", [time(0, 15), time(7), time(18), time(22, 30)])
def test_an_alarm_rings_at_six_on_the_evening_before_each_firing(weekend: Reckoning, start: time) -> None:
    firings = tuple(firing.model_copy(update={"start": start}) for firing in weekend.plan.firings)
    found = titled(reckon(weekend.plan.model_copy(update={"firings": firings})), "Light the kiln")
    for each in found:
        (alarm,) = each.walk("VALARM")
        lit = each.decoded("DTSTART")
        eve = datetime.combine(lit.date() - timedelta(days=1), time(18))
        assert lit + alarm.decoded("TRIGGER") == eve
    assert found


def test_nothing_else_rings(weekend: Reckoning) -> None:
    others = [each for each in entries(weekend) if not str(each["SUMMARY"]).startswith("Light the kiln")]
    assert [each for each in others if each.walk("VALARM")] == []


@pytest.mark.parametrize(
    ("begins", "about"),
    [
        ("Throw", "Clay and glaze dust"),
        ("Put on glaze", "Glaze materials"),
        ("Light the kiln", "Firing at night"),
        ("Light the kiln", "Hot kiln, hot ware"),
        ("Finish", "Clay and glaze dust"),
        ("Harbour", "Table and room"),
        ("Count", "Cash"),
    ],
)
def test_each_entry_carries_the_caution_that_belongs_to_it(
    weekend: Reckoning, begins: str, about: str
) -> None:
    found = titled(weekend, begins)
    assert found
    assert [
        each for each in found if f"{about}. {caution_about(about).text}" not in each["DESCRIPTION"]
    ] == []


def test_a_firing_by_day_speaks_of_no_night(weekend: Reckoning) -> None:
    firings = tuple(firing.model_copy(update={"start": time(6)}) for firing in weekend.plan.firings)
    found = titled(reckon(weekend.plan.model_copy(update={"firings": firings})), "Light the kiln")
    assert found
    assert [each for each in found if "Firing at night" in each["DESCRIPTION"]] == []


def test_the_sale_has_its_hours_and_place_and_the_count_comes_after_it(weekend: Reckoning) -> None:
    opened = with_sale(weekend, open=opening_hours("10:00 to 17:00"))
    on_saturday, on_sunday = titled(opened, "Harbour")
    assert on_saturday.decoded("DTSTART") == datetime(2027, 6, 19, 10)
    assert on_sunday.decoded("DTEND") == datetime(2027, 6, 20, 17)
    assert str(on_saturday["LOCATION"]) == "The old net loft, Sandrock Quay"
    assert [each.decoded("DTSTART") for each in titled(opened, "Count")] == [
        datetime(2027, 6, 19, 17),
        datetime(2027, 6, 20, 17),
    ]


def test_without_opening_hours_the_sale_takes_its_whole_days(weekend: Reckoning) -> None:
    found = titled(weekend, "Harbour", "Count")
    assert [(each.decoded("DTSTART"), each.decoded("DTEND")) for each in found] == [
        (date(2027, 6, day), date(2027, 6, day + 1)) for day in (19, 19, 20, 20)
    ]


def test_every_entry_has_a_uid_of_its_own_that_another_plan_of_the_same_sale_keeps(
    weekend: Reckoning,
) -> None:
    uids = {str(each["SUMMARY"]): str(each["UID"]) for each in entries(weekend)}
    every = [str(each["UID"]) for each in entries(weekend)]
    assert len(set(every)) == len(every)
    earlier = with_sale(weekend, days=tuple(day - timedelta(days=7) for day in weekend.plan.sale.days))
    moved = {str(each["SUMMARY"]): str(each["UID"]) for each in entries(earlier)}
    assert moved == uids
    assert set(every) & {str(each["UID"]) for each in entries(weekend, "another")} == set()


def test_a_sale_of_given_pieces_has_its_days_alone(weekend: Reckoning) -> None:
    nothing_made = replace(weekend, days=replace(weekend.days, latest=()))
    assert len(entries(nothing_made)) == 4


def test_the_last_day_that_a_date_can_name_still_makes_a_diary() -> None:
    assert len(titled(with_sale(sale(), days=(date.max,)), "Orchard")) == 1
