"""The plan of the next sale: the one before with what was learned, and what is said anew."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from salebook.event.entries import UnplannedCost
from salebook.making.firing_done import FiringDone
from salebook.making.studio_tally import StudioCount
from salebook.plan.model import Plan, Seen
from salebook.start.next_plan import (
    Wishes,
    days_next,
    proposed_prices,
    said_anew,
    taught,
    title_next,
    to_ask_again,
    with_wishes,
)
from tests.support.past_sale import harbour, lessons, mugs, sold

PLAN = harbour().plan
COUNTS = {ware.code: ware.wanted for ware in PLAN.wares} | {given.code: given.count for given in PLAN.donated}


SAME = Wishes(title=PLAN.sale.title, days=PLAN.sale.days, target=PLAN.sale.target, counts=COUNTS, prices={})


def test_an_empty_book_carries_over_all_but_what_was_tied_to_its_sale() -> None:
    after = taught(lessons())
    untied = PLAN.model_copy(
        update={
            "beneficiaries": tuple(group.model_copy(update={"agreed": None}) for group in PLAN.beneficiaries),
            "making": PLAN.making.model_copy(update={"free_days": ()}),
        }
    )
    assert after == untied


def test_all_that_was_learned_stands_in_the_plan() -> None:
    biscuit = PLAN.firings[0].name
    after = taught(
        lessons(
            lines=sold(*mugs(1, 27)) + sold("LAMP-001", begin=28),
            studio={"MUG": StudioCount(thrown=44, dry=42)},
            made={"MUG": 28, "BOWL": 0, "JUG": 0},
            firings_done=(FiringDone(firing=biscuit, before=Decimal(1), after=Decimal(51)),),
            actual_costs={"overhead: posters and price list": Decimal("17.80")},
            unplanned=(UnplannedCost(name="parking", amount=Decimal(12), met_by="sale"),),
        )
    )
    mug = after.wares[0]
    assert mug.losses_given == PLAN.wares[0].losses_given
    assert mug.seen == Seen.model_validate({"drying": [2, 44]})
    assert [str(point.share) for point in mug.demand] != [str(point.share) for point in PLAN.wares[0].demand]
    assert str(after.donated[0].sells) == "0.7640"
    assert [left.numbers for left in after.carried] == [("MUG-028",)]
    assert after.kiln is not None
    assert after.kiln.calibration is not None
    assert after.kiln.calibration.metered_kwh == 50
    assert [cost.amount for cost in after.overheads] == [90, Decimal("17.80"), 38, 12]
    assert [str(day.weight) for day in after.outlooks] == ["2.00", "2", "1"]


def test_a_kind_of_piece_that_is_not_wanted_again_is_left_out_with_what_was_only_for_it() -> None:
    glaze, *others = PLAN.materials
    only_jugs = glaze.model_copy(update={"name": "blue glaze", "wares": ("JUG",)})
    mugs_and_jugs = glaze.model_copy(update={"wares": ("MUG", "JUG")})
    plan = PLAN.model_copy(update={"materials": (mugs_and_jugs, only_jugs, *others)})
    after = with_wishes(plan, replace(SAME, counts={**COUNTS, "JUG": 0, "CARD": 0, "MUG": 40}))
    assert [(ware.code, ware.wanted) for ware in after.wares] == [("MUG", 40), ("BOWL", 22)]
    assert [given.code for given in after.donated] == ["LAMP"]
    assert [material.name for material in after.materials] == ["glaze", *(one.name for one in others)]
    assert after.materials[0].wares == ("MUG",)


def test_what_is_said_anew_stands_in_the_plan_with_what_was_before() -> None:
    said = replace(
        SAME,
        title="Autumn",
        days=(date(2028, 10, 7),),
        target=Decimal(900),
        counts={**COUNTS, "MUG": 40},
        prices={"MUG": Decimal(21)},
    )
    after = with_wishes(PLAN, said)
    assert (after.sale.title, after.sale.days, after.sale.target) == ("Autumn", said.days, Decimal(900))
    assert [(ware.wanted, ware.price) for ware in after.wares[:2]] == [(40, Decimal(21)), (22, Decimal(26))]
    assert [(lesson.place.key, lesson.says) for lesson in said_anew(PLAN, said)] == [
        ("days", "Last time: Sat, 19 Jun 2027, Sun, 20 Jun 2027."),
        ("target", "Last time: £1,800.00."),
        ("wanted", "Last time: 36."),
        ("price", "Last time: £20.00."),
    ]


def test_what_has_to_be_asked_again_is_told() -> None:
    lamp, card = PLAN.donated
    plan = PLAN.model_copy(update={"donated": (lamp.model_copy(update={"spoken_for": 2}), card)})
    told = {lesson.place[:3]: lesson.says for lesson in to_ask_again(plan)}
    assert told["beneficiaries", "Gull Steps reading room", "agreed"].startswith(
        "Gull Steps reading room agreed last time, on Tue, 2 Mar 2027: ask again"
    )
    assert told["donated", "LAMP", "spoken_for"] == (
        "Driftwood lamp foot: last time 2 were spoken for; now nobody has asked for any yet."
    )
    assert told["donated", "CARD", "count"] == (
        "Pack of linocut cards: planned as last time; ask The printing circle first."
    )
    assert told["clays", "white stoneware", "met_by"] == (
        "white stoneware: a sponsor paid it last time; ask again."
    )
    assert told["making", "", "free_days"] == "The days off of last time are left out."
    assert len(told) == 9


@pytest.mark.parametrize(
    ("today", "first"),
    [("2026-11-28", "2028-06-17"), ("2028-06-16", "2028-06-17"), ("2028-06-17", "2029-06-16")],
)
def test_the_days_proposed_are_the_same_weekdays_and_ahead(today: str, first: str) -> None:
    found = days_next(PLAN.sale.days, date.fromisoformat(today))
    assert found[0] == date.fromisoformat(first)
    assert [day.weekday() for day in found] == [5, 6]


@pytest.mark.parametrize(
    ("title", "expected"),
    [("Kiln 2027", "Kiln 2028"), ("Kiln", "Kiln"), ("12027 pots", "12027 pots"), ("2026/2027", "2026/2028")],
)
def test_a_title_that_names_the_year_names_the_next_one(title: str, expected: str) -> None:
    assert title_next(title, 2027, 2028) == expected


def with_target(target: int) -> Plan:
    return PLAN.model_copy(update={"sale": PLAN.sale.model_copy(update={"target": Decimal(target)})})


def proposed(target: int) -> Mapping[str, Decimal]:
    return proposed_prices(with_target(target))


def test_the_prices_proposed_are_those_of_last_time_where_they_make_the_target() -> None:
    before = {ware.code: ware.price for ware in PLAN.wares}
    assert proposed(900) == before
    assert proposed(100_000) == before


def test_higher_prices_are_proposed_where_the_target_takes_them() -> None:
    found = proposed(1800)
    assert all(found[ware.code] > ware.price for ware in PLAN.wares)


def test_a_plan_of_gifts_alone_has_no_prices_to_propose() -> None:
    plan = PLAN.model_copy(update={"wares": (), "firings": (), "kiln": None})
    assert proposed_prices(plan) == {}


def test_wishes_change_nothing_that_they_do_not_name() -> None:
    after: Plan = with_wishes(PLAN, SAME)
    assert after == PLAN


def test_a_cost_that_nobody_planned_is_added_to_the_planned_one_of_its_name() -> None:
    planned = PLAN.overheads[0]
    again = [UnplannedCost(name=name, amount=Decimal(5)) for name in (planned.name, "parking", "parking")]
    after = taught(lessons(unplanned=tuple(again))).overheads
    assert [(cost.name, cost.amount) for cost in after] == [
        (planned.name, planned.amount + 5),
        *((cost.name, cost.amount) for cost in PLAN.overheads[1:]),
        ("parking", Decimal(10)),
    ]
