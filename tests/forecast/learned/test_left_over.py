"""Good pieces that nobody bought go along to the next sale with their numbers."""

from decimal import Decimal
from typing import Any

from salebook.event.entries import PieceEntry
from salebook.forecast.learned.left_over import carried_from, held_back, without_number
from salebook.making.studio_tally import StudioCount
from salebook.plan.model import Carried
from salebook.reckoning import Reckoning
from tests.support.past_sale import mugs, past, sold, with_plan
from tests.support.small_event import sale as table_sale

NONE_OF_THE_REST = {"BOWL": 0, "JUG": 0}


def carried(**filled_in: Any) -> list[tuple[str, tuple[str, ...], Decimal, bool]]:
    event = past(made=NONE_OF_THE_REST, **filled_in).event
    return [(left.name, left.numbers, left.price, left.second) for left in carried_from(event)]


def test_what_is_there_or_marked_as_left_over_is_carried_and_nothing_else() -> None:
    marks = {
        "MUG-004": PieceEntry(mishap="broken"),
        "MUG-005": PieceEntry(mishap="given away"),
        "MUG-006": PieceEntry(mishap="missing"),
        "MUG-007": PieceEntry(mishap="left over"),
        "MUG-008": PieceEntry(reserved_for="3"),
    }
    tally = {"MUG": StudioCount(good=8, seconds=1)}
    assert carried(lines=sold(*mugs(1, 2)), pieces=marks, studio=tally) == [
        ("Harbour mug", ("MUG-003", "MUG-007"), Decimal(20), False),
        ("Harbour mug", ("MUG-009",), Decimal(12), True),
    ]
    event = past(pieces=marks, studio=tally, made=NONE_OF_THE_REST).event
    assert held_back(event) == ("MUG-008",)


def test_what_was_carried_before_and_is_left_again_is_carried_again() -> None:
    left = {"name": "Old mug", "code": "MUG", "numbers": "MUG-101..103", "price": 15, "sells": "0.4"}
    again = past(
        of=with_plan(carried=(Carried.model_validate(left),)),
        lines=sold("MUG-102"),
        made={**NONE_OF_THE_REST, "MUG": 0},
    )
    assert [(one.numbers, one.price, one.sells_given) for one in carried_from(again.event)] == [
        (("MUG-101", "MUG-103"), Decimal(15), Decimal("0.4"))
    ]


def test_pieces_without_numbers_are_told() -> None:
    event = past(of=table_sale(), lines=sold("DOT", count=12)).event
    assert list(without_number(event)) == [("Thimble dot", 18)]


def test_where_no_line_tells_of_a_sale_only_counted_pieces_are_there() -> None:
    assert carried_from(past().event) == ()
    counted = past(made={"MUG": 2}).event
    assert [left.numbers for left in carried_from(counted)] == [("MUG-001", "MUG-002")]


def test_more_pieces_than_one_record_of_a_plan_takes_are_in_several() -> None:
    left = carried_from(past(of=with_wanted(1_020), made={**NONE_OF_THE_REST, "MUG": 1_020}).event)
    assert [(one.numbers[0], one.count) for one in left] == [("MUG-001", 1_000), ("MUG-1001", 20)]


def with_wanted(wanted: int) -> Reckoning:
    """Return the weekend's reckoning with so many mugs wanted."""
    mug, *others = with_plan().plan.wares
    return with_plan(wares=(mug.model_copy(update={"wanted": wanted}), *others))
