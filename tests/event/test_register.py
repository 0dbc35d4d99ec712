"""Every piece by its number."""

from salebook.event.register import register_of
from salebook.plan.piece_numbers import number_of
from tests.support.small_event import sale


def register() -> list[tuple[str, str, int]]:
    reckoning = sale()
    pieces = register_of(reckoning.plan, reckoning.studio.runs)
    return [(piece.number, piece.planned_grade, piece.count) for piece in pieces]


def test_pieces_are_numbered_to_the_number_started_firsts_before_seconds_before_spares() -> None:
    (run,) = (run for run in sale().studio.runs if run.ware.code == "MAY")
    grades = [grade for number, grade, _count in register() if number.startswith("MAY")]
    spare = run.started - 4 - run.seconds
    assert ["first"] * 4 + ["second"] * run.seconds + ["first"] * spare == grades
    assert run.seconds > 0
    assert spare > 0


def test_a_ware_without_numbers_is_one_row_with_all_that_are_for_sale() -> None:
    assert [row for row in register() if row[0].startswith("DOT")] == [("DOT", "first", 30)]


def test_donated_pieces_are_numbered_too() -> None:
    numbers = [number for number, _grade, _count in register() if number.startswith("D1")]
    assert numbers == ["D1-001", "D1-002"]


def test_a_numbered_piece_is_one_piece_and_its_makers_own_where_nobody_gave_it() -> None:
    pieces = register_of(sale().plan, sale().studio.runs)
    assert {(1, 1), (0, 30)} == {(min(piece.index, 1), piece.count) for piece in pieces}
    assert {("MAY", ""), ("DOT", ""), ("D1", "A neighbour")} == {
        (piece.code, piece.giver) for piece in pieces
    }


def test_the_giver_and_the_part_kept_stand_with_the_piece() -> None:
    given = register_of(sale().plan, sale().studio.runs)[-1]
    assert ("A neighbour", sale().plan.donated[0].keeps) == (given.giver, given.keeps)


def test_numbers_grow_longer_where_three_digits_are_not_enough() -> None:
    assert [number_of("MAY", 7), number_of("MAY", 1000)] == ["MAY-007", "MAY-1000"]


def test_no_number_stands_twice() -> None:
    numbers = [number for number, _grade, _count in register()]
    assert len(set(numbers)) == len(numbers)
