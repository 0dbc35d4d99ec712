"""What was learned is said line by line: what is expected now, from how many, and what it was before."""

from datetime import datetime
from decimal import Decimal
from typing import Any

import pytest

from salebook.event.entries import PieceEntry, UnplannedCost
from salebook.making.firing_done import FiringDone
from salebook.making.studio_tally import StudioCount
from salebook.plan.tables import Place
from salebook.say.next_year import lessons_in_words, not_learned, percent
from tests.support.past_sale import any_day, harbour, lessons, mugs, others, sold, with_plan
from tests.support.small_event import sale as table_sale

NO_OTHERS = {"BOWL": 0, "JUG": 0}
BISCUIT, GLAZE = (firing.name for firing in harbour().plan.firings)
TALLY = StudioCount(thrown=44, dry=42, biscuit=41, good=36, seconds=1, broken=5)


def said(**filled_in: Any) -> dict[Place, list[str]]:
    found: dict[Place, list[str]] = {}
    for lesson in lessons_in_words(lessons(**filled_in)):
        found.setdefault(lesson.place, []).append(lesson.says)
    return found


@pytest.mark.parametrize(
    ("share", "words"), [("0.0966667", "9.7 %"), ("0.04", "4 %"), ("1", "100 %"), ("0", "0 %")]
)
def test_shares_are_said_in_tenths_of_a_per_cent(share: str, words: str) -> None:
    assert percent(Decimal(share)) == words


def test_losses_are_said_stage_by_stage() -> None:
    assert said(studio={"MUG": TALLY}, made=NO_OTHERS)[Place("wares", "MUG", "seen")] == [
        "Harbour mug, lost in drying: 4.1 %, from 2 of 44 (planned: 3 %).",
        "Harbour mug, lost in the biscuit firing: 2.1 %, from 1 of 42 (planned: 2 %).",
        "One firing spoils many at once: of Harbour mug these 42 count as 8.2 in the biscuit firing.",
        "Harbour mug, lost in the glaze firing: 4.3 %, from 2 of 39 (planned: 4 %).",
        "One firing spoils many at once: of Harbour mug these 39 count as 8.1 in the glaze firing.",
        "Harbour mug, seconds: 3.5 %, from 1 of 37 (planned: 5 %).",
    ]


def test_the_share_that_sells_is_said_with_the_price_and_all_points() -> None:
    lines = sold(*mugs(1, 27)) + sold("LAMP-001", "LAMP-002", "LAMP-003", begin=28)
    found = said(of=any_day(), lines=lines)
    assert found[Place("wares", "MUG", "demand")] == [
        "Harbour mug at £20.00: 80.1 % sell, from 27 of 36 (planned: 89.3 %).",
        "Harbour mug, other prices moved along: 92 % at £16.00, 74.7 % at £22.00, 44 % at £28.00 and 20.6 % "
        "at £34.00 (planned: 96 % at £16.00, 86 % at £22.00, 62 % at £28.00 and 35 % at £34.00).",
    ]
    assert found[Place("donated", "LAMP", "sells")] == [
        "Driftwood lamp foot at £45.00: sold out, so at least 82.6 % sell, from 3 of 3 (planned: 80 %)."
    ]


def test_what_the_kind_of_day_explains_is_said() -> None:
    assert said(lines=sold(*mugs(1, 20)))[Place("wares", "MUG", "demand")][0] == (
        "Harbour mug at £20.00: 80.6 % sell, from 20 of 36, which on such a day count as 27 "
        "(planned: 89.3 %)."
    )


@pytest.mark.parametrize(
    ("sells", "chances"),
    [(0, ["more than 99 %"]), (20, ["57 %", "43 %"]), (33, ["more than 99 %"])],
)
def test_no_kind_of_day_is_certain(sells: int, chances: list[str]) -> None:
    found = said(lines=sold(*mugs(1, sells), *others()))
    days = [says[0] for place, says in found.items() if place.table == "outlooks"]
    assert [day.partition("”, ")[2].partition(" likely")[0] for day in days] == chances


@pytest.mark.parametrize(("cheaper", "counts"), [(1, "counts"), (2, "count")])
def test_what_went_for_less_is_said(cheaper: int, counts: str) -> None:
    found = said(lines=sold(*mugs(1, cheaper), amount=Decimal(18)))
    says = f"Harbour mug: {cheaper} went for less than £20.00, and {counts} as not sold at it."
    assert says in found[Place("wares", "MUG", "demand")]


def test_the_kind_of_day_and_the_pieces_left_are_said() -> None:
    found = said(lines=sold("MUG-001"), studio={"MUG": StudioCount(good=3, seconds=1)}, made=NO_OTHERS)
    assert found[Place("outlooks", "wet and windy", "weight")] == [
        "Kind of day by what sold: “wet and windy”, more than 99 % likely; it weighs 2 from now on "
        "(planned: 1)."
    ]
    assert [says for place, says in found.items() if place.table == "carried"] == [
        ["Left over and carried along: Harbour mug at £20.00, MUG-002..003 (2)."],
        ["Left over and carried along, seconds: Harbour mug at £12.00, MUG-004 (1)."],
    ]


def test_what_the_meter_said_is_said() -> None:
    done = (
        FiringDone(firing=BISCUIT, before=Decimal(10), after=Decimal(65)),
        FiringDone(firing=BISCUIT),
        FiringDone(firing=GLAZE, before=Decimal(65), after=Decimal(150)),
    )
    assert said(firings_done=done) == {
        Place("firings", "biscuit", "metered_kwh"): [
            "biscuit: 55 kWh a load, by the meter (loads read: 1 of 2; planned: 52 kWh)."
        ],
        Place("kiln", "", "calibration"): [
            "stoneware glaze: 85 kWh a load, by the meter (loads read: 1 of 1; planned: 76.8 kWh); this sets "
            "the estimates of all firings right."
        ],
    }


def test_what_things_really_cost_is_said() -> None:
    costs = {
        "overhead: public liability cover": Decimal(40),
        "clay: white stoneware": Decimal(60),
        "clay: speckled stoneware": Decimal(77),
    }
    parking = UnplannedCost(name="parking", amount=Decimal(12), met_by="sale")
    assert [*said(actual_costs=costs, unplanned=(parking,)).values()] == [
        ["speckled stoneware: £77.00 was paid where £61.60 was planned, for another number at £15.40 each."],
        ["white stoneware: £20.00 each, since £60.00 was paid where £53.40 was planned (last time: £17.80)."],
        ["public liability cover: £40.00, as it really cost (planned: £38.00)."],
        ["parking: £12.00 was spent that nobody planned; now it is planned."],
    ]


@pytest.mark.parametrize(
    ("filled_in", "says"),
    [
        ({}, "No line of takings tells what sold: how many buy stays as planned."),
        ({}, "No meter reading stands beside a firing: what firings take stays as planned."),
        ({}, "How long the work took is not in a book: the minutes stay as planned."),
        (
            {"studio": {"MUG": TALLY}},
            "Nobody filled in the studio tally of these, so their losses stay as planned: Soup bowl and "
            "Pouring jug.",
        ),
        (
            {"studio": {"MUG": TALLY}},
            "What is lost in throwing stays as planned: nobody counts the balls before it.",
        ),
        (
            {"lines": sold("MUG-001"), "now": datetime(2027, 6, 19, 12)},
            "The sale is not over yet: what sells is learned, and what is left carried, after its last day.",
        ),
        (
            {"lines": sold("MUG-001"), "made": {"MUG": 10, "BOWL": 0}},
            "Nobody counted these out of the kiln; they are taken to have been there: Pouring jug.",
        ),
        (
            {"lines": sold("MUG-001"), "pieces": {"MUG-002": PieceEntry(reserved_for="1")}},
            "Not carried, since they wait for somebody: MUG-002.",
        ),
        (
            {"actual_costs": {"firing: biscuit": Decimal(30)}},
            "biscuit: £30.00 was paid, planned was £26.25; a sum does not say whether more was used or its "
            "price is higher, so nothing is learned from it.",
        ),
    ],
)
def test_what_stays_as_planned_is_said_with_the_reason(filled_in: dict[str, Any], says: str) -> None:
    assert says in not_learned(lessons(**filled_in))


def test_pieces_without_numbers_are_said_to_stay_behind() -> None:
    says = "Thimble dot: 18 are left; pieces without numbers are not carried."
    assert says in not_learned(lessons(of=table_sale(), lines=sold("DOT", count=12)))


def test_a_sale_that_fits_no_kind_of_day_is_said() -> None:
    fine = harbour().plan.outlooks[1].model_copy(update={"factor": Decimal(9)})
    days = (fine, fine.model_copy(update={"name": "finer still"}))
    says = "What sold fits none of the plan's kinds of day: their weights stay."
    assert says in not_learned(lessons(of=with_plan(outlooks_given=days), lines=sold("MUG-001")))


def test_a_book_in_which_nothing_is_filled_in_teaches_nothing() -> None:
    assert lessons_in_words(lessons()) == ()
