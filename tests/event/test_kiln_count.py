"""What the studio counts out of the kiln is what there is, and which pieces are seconds."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.event.entries import Entries, Grade, PieceEntry
from salebook.event.event import Event, reckon_event
from salebook.event.kiln_difference import kiln_differences
from salebook.event.offers import as_it_stands, offers_of
from salebook.making.losses import Offer
from salebook.making.studio_tally import StudioCount
from tests.support.small_event import line, sale

MUG, DOT = "MAY", "DOT"


def event(**entries: Any) -> Event:
    return reckon_event(sale(), Entries(**entries))


def grades(found: Event) -> str:
    """Return the mugs that are there, by number: 1 for a first, 2 for a second, - for one not made."""
    marks = {"first": "1", "second": "2"}
    mugs = [state for state in found.state.pieces if state.piece.code == MUG]
    return "".join("-" if mug.status == "not made" else marks[mug.grade] for mug in mugs)


def graded(**more: Grade) -> dict[str, PieceEntry]:
    return {f"MAY-00{key[1:]}": PieceEntry(grade=grade) for key, grade in more.items()}


@pytest.mark.parametrize(
    ("entries", "expected"),
    [
        ({}, "11112--"),
        ({"studio": {MUG: StudioCount(thrown=7, dry=6)}}, "11112--"),
        ({"studio": {MUG: StudioCount(good=3)}}, "111----"),
        ({"studio": {MUG: StudioCount(good=3, seconds=2)}}, "11122--"),
        ({"studio": {MUG: StudioCount(seconds=2)}}, "22-----"),
        ({"studio": {MUG: StudioCount(good=0, seconds=0)}}, "-------"),
        ({"studio": {MUG: StudioCount(good=3, seconds=2)}, "made": {MUG: 4}}, "1122---"),
        ({"studio": {MUG: StudioCount(good=3, seconds=2)}, "pieces": graded(n2="second")}, "12112--"),
        ({"studio": {MUG: StudioCount(good=3, seconds=2)}, "pieces": graded(n5="first")}, "11221--"),
        (
            {"studio": {MUG: StudioCount(good=3, seconds=1)}, "pieces": graded(n1="second", n2="second")},
            "2211---",
        ),
        ({"studio": {MUG: StudioCount(good=3, seconds=2)}, "pieces": graded(n7="second")}, "11122--"),
        ({"made": {MUG: 6}}, "111121-"),
    ],
)
def test_the_last_pieces_that_nobody_graded_are_the_seconds_counted(
    entries: dict[str, Any], expected: str
) -> None:
    assert grades(event(**entries)) == expected[: len(grades(event()))]


@given(
    good=st.integers(0, 4),
    seconds=st.integers(0, 2),
    given_grades=st.dictionaries(
        st.integers(1, 5).map(lambda n: f"MAY-00{n}"), st.sampled_from(["first", "second"]), max_size=5
    ),
)
def test_seconds_are_as_many_as_counted_unless_grades_say_otherwise(
    good: int, seconds: int, given_grades: dict[str, Any]
) -> None:
    pieces = {number: PieceEntry(grade=grade) for number, grade in given_grades.items()}
    found = grades(event(studio={MUG: StudioCount(good=good, seconds=seconds)}, pieces=pieces))
    there = {number: grade for number, grade in given_grades.items() if int(number[-1]) <= good + seconds}
    marked = list(there.values()).count("second")
    free = good + seconds - len(there)
    assert found.count("2") == marked + min(free, max(0, seconds - marked))


@pytest.mark.parametrize(
    ("entries", "expected"),
    [
        ({}, []),
        ({"made": {MUG: 3}}, []),
        ({"studio": {MUG: StudioCount(good=3, seconds=2)}}, []),
        ({"studio": {MUG: StudioCount(good=3, seconds=2)}, "made": {MUG: 4}}, [MUG]),
        ({"studio": {MUG: StudioCount(good=3, seconds=2)}, "pieces": graded(n2="second")}, []),
        (
            {
                "studio": {MUG: StudioCount(good=3, seconds=1)},
                "pieces": graded(n2="second", n3="second"),
            },
            [MUG],
        ),
        ({"studio": {MUG: StudioCount(good=90)}}, [MUG]),
        ({"studio": {DOT: StudioCount(good=20)}}, []),
        ({"studio": {DOT: StudioCount(good=20)}, "made": {DOT: 21}}, [DOT]),
    ],
)
def test_it_is_noticed_where_pieces_and_the_studio_count_otherwise(
    entries: dict[str, Any], expected: list[str]
) -> None:
    assert list(kiln_differences(event(**entries).state)) == expected


@pytest.mark.parametrize(
    ("entries", "expected"),
    [
        ({}, (4, 1)),
        ({"pieces": {"MAY-001": PieceEntry(mishap="broken")}}, (3, 1)),
        ({"pieces": {"MAY-005": PieceEntry(mishap="given away")}}, (4, 0)),
        ({"pieces": {"MAY-001": PieceEntry(mishap="left over")}}, (4, 1)),
        ({"made": {MUG: 3}}, (3, 0)),
        ({"studio": {MUG: StudioCount(good=2, seconds=2)}}, (2, 2)),
        (
            {
                "studio": {MUG: StudioCount(good=2, seconds=2)},
                "pieces": {"MAY-001": PieceEntry(mishap="missing"), "MAY-004": PieceEntry(mishap="broken")},
            },
            (1, 1),
        ),
        ({"studio": {MUG: StudioCount(good=2)}, "lines": (line(1, piece="MAY-001"),)}, (2, 0)),
        ({"studio": {MUG: StudioCount(good=0)}}, (0, 0)),
    ],
)
def test_there_are_so_many_to_sell_at_each_price(entries: dict[str, Any], expected: tuple[int, int]) -> None:
    firsts, seconds = expected
    assert offers_of(sale(), event(**entries))[MUG] == Offer(firsts=firsts, seconds=seconds)


def test_a_ware_without_numbers_is_there_as_it_was_counted() -> None:
    counted = {"studio": {DOT: StudioCount(good=20)}}
    assert offers_of(sale(), event(**counted))[DOT] == Offer(firsts=20, seconds=0)
    assert offers_of(sale(), event(**counted, made={DOT: 22}))[DOT] == Offer(firsts=22, seconds=0)


def test_the_price_advice_goes_by_what_is_there_and_costs_by_the_plan() -> None:
    found = as_it_stands(
        sale(), event(studio={MUG: StudioCount(good=2, seconds=2), DOT: StudioCount(good=20)})
    )
    assert [(good.code, good.grade, good.count) for good in found.advice.goods] == [
        (MUG, "first", 2),
        (MUG, "second", 2),
        (DOT, "first", 20),
        ("D1", "donated", 2),
    ]
    assert found.advice.target.for_sale == 26
    assert found.costs == sale().costs


def test_nothing_is_reckoned_anew_where_all_is_as_planned() -> None:
    assert as_it_stands(sale(), event()) is sale()
