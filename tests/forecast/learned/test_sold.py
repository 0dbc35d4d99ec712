"""How many found a buyer at the prices that were asked."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

import pytest

from salebook.event.entries import PieceEntry
from salebook.forecast.learned.sold import DemandSeen, demand_seen, state_at_the_end
from salebook.making.studio_tally import StudioCount
from salebook.plan.model import Carried
from salebook.plan.quantities import plain
from tests.support.past_sale import any_day, harbour, mugs, others, past, sold, with_plan
from tests.support.small_event import sale as table_sale

GOOD = {"MUG": StudioCount(good=36, seconds=2)}


def seen_of(code: str, **filled_in: Any) -> DemandSeen:
    return next(seen for seen in demand_seen(past(**filled_in)) if seen.good.code == code)


def asked(seen: DemandSeen) -> Mapping[str, tuple[int, int]]:
    return {plain(each.price): (each.sold, each.offered) for each in seen.asked}


def test_the_mugs_of_the_worked_example_come_out() -> None:
    seen = seen_of("MUG", of=any_day(), lines=sold(*mugs(1, 27)))
    assert asked(seen) == {"20": (27, 36)}
    assert [round(share, 6) for share in (*seen.before, *seen.after)] == [
        Decimal("0.893333"),
        Decimal("0.801190"),
    ]
    assert [str(point.share) for point in seen.demand] == ["0.9203", "0.7472", "0.4398", "0.2058"]


@pytest.mark.parametrize(
    ("filled_in", "expected"),
    [
        ({}, {"20": (0, 36)}),
        ({"lines": sold(*mugs(1, 36)), "studio": GOOD}, {"20": (36, 36)}),
        ({"lines": sold(*mugs(1, 4)), "pieces": {"MUG-005": PieceEntry(mishap="broken")}}, {"20": (4, 35)}),
        (
            {"lines": sold(*mugs(1, 4)), "pieces": {"MUG-005": PieceEntry(mishap="left over")}},
            {"20": (4, 36)},
        ),
        ({"lines": sold(*mugs(1, 4)), "pieces": {"MUG-005": PieceEntry(reserved_for="7")}}, {"20": (5, 36)}),
        ({"lines": sold("MUG-037", "MUG-038"), "studio": GOOD}, {"20": (0, 36)}),
        ({"lines": sold(*mugs(1, 4), amount=Decimal(18)), "studio": GOOD}, {"20": (0, 36)}),
        (
            {"lines": sold(*mugs(1, 6), amount=Decimal(18)) + sold(*mugs(7, 10), begin=7), "studio": GOOD},
            {"18": (10, 36), "20": (4, 36)},
        ),
        ({"lines": sold(*mugs(1, 5), amount=Decimal(25)), "studio": GOOD}, {"20": (5, 36), "25": (5, 36)}),
    ],
)
def test_who_bought_at_a_price_is_counted_among_all_that_was_there(
    filled_in: dict[str, Any], expected: Mapping[str, tuple[int, int]]
) -> None:
    assert asked(seen_of("MUG", **filled_in)) == expected


def test_what_went_for_less_is_told() -> None:
    assert seen_of("MUG", lines=sold(*mugs(1, 4), amount=Decimal(18))).cheaper == 4


def test_pieces_spoken_for_say_nothing_of_how_many_buy() -> None:
    mug, *others = harbour().plan.wares
    sure = with_plan(wares=(mug.model_copy(update={"spoken_for": 6}), *others))
    assert asked(seen_of("MUG", of=sure, lines=sold(*mugs(1, 9)))) == {"20": (3, 30)}


def test_a_share_without_points_of_demand_moves_alone() -> None:
    seen = seen_of("LAMP", of=any_day(), lines=sold("LAMP-001"))
    assert (asked(seen), seen.demand) == ({"45": (1, 3)}, ())
    assert seen.sells == round(Decimal(17) / 23, 4)


def test_wares_without_numbers_count_too() -> None:
    lines = sold("DOT", count=12)
    seen = seen_of("DOT", of=table_sale(), lines=lines)
    assert asked(seen) == {"1.5": (12, 30)}


def test_what_nobody_could_buy_says_nothing() -> None:
    gone = {f"LAMP-00{n}": PieceEntry(mishap="missing") for n in (1, 2, 3)}
    assert "LAMP" not in {seen.good.code for seen in demand_seen(past(pieces=gone))}


def test_pieces_of_an_earlier_sale_say_the_same_at_the_same_price() -> None:
    left = {"MUG-101..104": 20, "MUG-201..204": 15}
    again = with_plan(
        carried=tuple(
            Carried.model_validate({"name": "Mug", "code": "MUG", "numbers": numbers, "price": price})
            for numbers, price in left.items()
        )
    )
    assert asked(seen_of("MUG", of=again, lines=sold("MUG-101", "MUG-201", "MUG-001"))) == {"20": (2, 40)}


def test_what_is_marked_as_left_over_stood_there_to_the_last() -> None:
    left = {"MUG-001": PieceEntry(mishap="left over"), "CARD-001": PieceEntry(mishap="left over")}
    goods = {(good.code, good.grade): good for good in state_at_the_end(past(pieces=left)).goods}
    assert [goods[key].gone for key in (("MUG", "first"), ("CARD", "donated"))] == [0, 0]


def test_what_the_kind_of_day_explains_is_no_news_of_how_many_buy() -> None:
    # Few sold, as on a wet day: 36 offered count as 27, of which 20 sold.
    (each,) = seen_of("MUG", lines=sold(*mugs(1, 20))).asked
    assert round(each.counts_as, 6) == 27
    (usual,) = seen_of("MUG", lines=sold(*mugs(1, 33), *others())).asked
    assert round(usual.counts_as, 2) == 36


def test_more_are_never_sold_than_were_offered() -> None:
    (each,) = seen_of("MUG", lines=sold(*mugs(1, 30))).asked
    assert each.counts_as == 30
