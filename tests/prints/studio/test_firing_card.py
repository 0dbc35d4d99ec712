import re
from decimal import Decimal
from pathlib import Path

import pytest

from salebook.plan.load import load_plan
from salebook.plan.quantities import Temperature
from salebook.prints.studio.firing_card import Curve, firing_html, is_by_night
from salebook.prints.wording import clock, lasting
from salebook.reckoning import Reckoning, reckon
from salebook.say.kiln import load_sentence
from tests.support.books import SAMPLES
from tests.support.browser import printed
from tests.support.finished_sale import rows
from tests.support.print_sales import made, sale
from tests.support.programs import needs_chromium, needs_poppler

BOXES = (
    "Day",
    "Who stays",
    "Meter before",
    "Meter after",
    "kWh used",
    "Opened at",
    "Came out",
    "Lost",
    "Why lost",
)


@pytest.fixture(scope="module")
def worked() -> Reckoning:
    return reckon(load_plan(SAMPLES["worked-plan"]))


@pytest.mark.parametrize(
    ("hour", "expected"),
    [
        (0, "00:00"),
        (7.5, "07:30"),
        (23.9999, "00:00, next day"),
        (27.8, "03:48, next day"),
        (9 + 22.7 / 60, "09:22"),
        (49.25, "01:15, +2"),
    ],
)
def test_a_clock_time_says_the_day(hour: float, expected: str) -> None:
    assert clock(hour) == expected


@pytest.mark.parametrize(
    ("hours", "expected"),
    [(0.25, "15 min"), (5.8, "5 h 48 min"), (1.9999, "2 h 00 min"), (2 + 22.7 / 60, "2 h 22 min")],
)
def test_a_duration_is_said_in_hours_and_minutes(hours: float, expected: str) -> None:
    assert lasting(hours) == expected


def test_each_step_stands_with_its_clock_times(worked: Reckoning) -> None:
    """100 °C/h from 20 to 600 °C takes 5 h 48 min, 150 °C/h to 1000 °C 2 h 40 min, then 15 min are held."""
    found = rows(made(firing_html, worked))
    assert [row.split(" 1")[0] for row in found[1:2]] == ["20 to 600 °C"]
    assert [re.findall(r"(?:[0-9]+ h )?[0-9]{2} min [0-9:]{5}", row) for row in found[1:4]] == [
        ["5 h 48 min 03:48"],
        ["2 h 40 min 06:28"],
        ["15 min 06:43"],
    ]


def test_a_temperature_in_fahrenheit_stands_as_the_plan_says_it(worked: Reckoning) -> None:
    firing = worked.plan.firings[0]
    hot = firing.steps[1].model_copy(update={"to": Temperature.parse("1828 F")})
    changed = firing.model_copy(update={"steps": (firing.steps[0], hot)})
    plan = worked.plan.model_copy(update={"firings": (changed, *worked.plan.firings[1:])})
    found = rows(made(firing_html, reckon(plan)))
    assert [row.split(" 1")[0] for row in found[1:2]] == ["20 to 600 °C"]
    assert [row.partition(")")[0] for row in found[2:4]] == [
        "600 to 998 °C (1828 °F",
        "hold at 998 °C (1828 °F",
    ]


@pytest.mark.parametrize(
    ("fuel", "asked"),
    [("electric", ["Meter before", "kWh used"]), ("gas", ["Gas meter or bottle before", "Gas used"])],
)
def test_the_card_asks_for_what_the_kiln_burns(worked: Reckoning, fuel: str, asked: list[str]) -> None:
    kiln = worked.plan.kiln
    assert kiln is not None
    changed = kiln.model_copy(update={"fuel": fuel, "burner_efficiency": Decimal("0.2")})
    text = made(firing_html, reckon(worked.plan.model_copy(update={"kiln": changed})))
    assert re.findall(r">((?:Gas m|M)eter [a-z ]*before|kWh used|Gas used)<", text)[:2] == asked


def test_the_price_of_a_load_and_the_loads_are_said(worked: Reckoning) -> None:
    text = made(firing_html, worked)
    for need in worked.studio.firings:
        assert f"£{need.cost_of_load:.2f} a load" in text
        assert f"loads to fire: {need.loads}" in text


def test_the_curve_runs_through_every_step(worked: Reckoning) -> None:
    parts = worked.studio.firings[0].parts
    points = [tuple(map(float, point.split(","))) for point in Curve(parts=parts, begins=22.0).points.split()]
    across = [x for x, _y in points]
    assert across == sorted(across)
    assert points[0][1] == pytest.approx(4 + 60 * (1 - 20 / 1000), abs=0.01)
    assert points[-1] == (186.0, 4.0)
    assert points[1][0] == pytest.approx(16 + 170 * 5.8 / worked.studio.firings[0].hours, abs=0.01)


def test_the_cautions_stand_on_the_card(worked: Reckoning) -> None:
    text = made(firing_html, worked)
    for about in ("Hot kiln, hot ware", "Fumes", "Wiring", "Gas", "Firing at night"):
        assert f"<strong>{about}.</strong>" in text


def test_a_plan_without_firings_says_so() -> None:
    assert "The plan has no firings." in made(firing_html, sale())


@pytest.mark.parametrize(
    ("begins", "hours", "expected"),
    [(7, 9, False), (7, 15, False), (7, 15.1, True), (23, 1, True), (3, 2, True), (6, 16, False)],
)
def test_a_firing_runs_by_night_where_people_sleep(begins: float, hours: float, expected: bool) -> None:
    assert is_by_night(begins, hours) == expected


def test_a_firing_by_night_carries_its_caution_in_place(worked: Reckoning) -> None:
    text = made(firing_html, worked)
    by_night = text.count("This firing runs into the night.")
    assert by_night == sum(
        is_by_night(need.firing.start.hour + need.firing.start.minute / 60, need.hours)
        for need in worked.studio.firings
    )
    assert by_night > 0
    assert text.index("This firing runs into the night.") < text.index("nobody fires overnight without")


def test_the_clock_is_said_for_nights_on_which_clocks_change(worked: Reckoning) -> None:
    assert made(firing_html, worked).count("Times are those of a clock that nobody changes.") == 1


def test_each_load_stands_with_its_shelves(worked: Reckoning) -> None:
    found = rows(made(firing_html, worked))
    for loading in worked.studio.loadings:
        for number, load in enumerate(loading.loads, start=1):
            assert f"{number} {load_sentence(load)} {load.height_left_mm:.0f} mm" in found


def test_each_load_has_its_boxes_its_pieces_and_the_last_day_to_light_it(worked: Reckoning) -> None:
    """The worked sale is on 8 May 2027: a day to finish, before it two days a load, a day to glaze."""
    text = made(firing_html, worked)
    pieces = {each.stage: [load.pieces for load in each.loads] for each in worked.studio.loadings}
    biscuit, glaze = pieces["biscuit"], pieces["glaze"]
    assert [row for row in rows(text) if re.search("pieces? by", row)] == [
        *(f"1 {biscuit[0]} pieces by Wed 28 Apr", f"2 {biscuit[1]} pieces by Fri 30 Apr"),
        *(f"1 {glaze[0]} pieces by Mon 3 May", f"2 {glaze[1]} pieces by Wed 5 May"),
    ]
    parts = sum(len(need.parts) for need in worked.studio.firings)
    assert text.count('<td class="box"></td>') == 4 * len(BOXES) + 2 * parts
    assert [[word for word in BOXES if f">{word}</th>" not in text]] == [[]]


def test_of_many_loads_each_has_a_box_beside_each_step(worked: Reckoning) -> None:
    many = reckon(worked.plan, loads={"biscuit": 9, "glaze": 1})
    text = made(firing_html, many)
    parts = [len(need.parts) for need in many.studio.firings]
    assert text.count('<td class="box"></td>') == 10 * len(BOXES) + 9 * parts[0] + parts[1]
    assert [text.count(f">Load {number}</th>") for number in range(1, 11)] == [2, *[1] * 8, 0]


def test_pieces_are_not_told_where_a_person_says_how_many_loads(worked: Reckoning) -> None:
    many = reckon(worked.plan, loads={"biscuit": 9, "glaze": 9})
    assert [row for row in rows(made(firing_html, many)) if "pieces by" in row] == []


@needs_chromium
@needs_poppler
@pytest.mark.parametrize("sample", SAMPLES)
def test_no_page_of_the_firing_print_is_nearly_empty(sample: str, tmp_path: Path) -> None:
    found = printed(made(firing_html, reckon(load_plan(SAMPLES[sample]))), tmp_path)
    filled = [max(word.bottom for word in found.on(page)) for page in range(1, len(found.sizes) + 1)]
    assert [lowest for lowest in filled if lowest < 297 / 3] == []
