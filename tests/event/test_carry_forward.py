"""What was filled in, carried over to another plan."""

from decimal import Decimal

from salebook.event.carry_forward import carry_forward
from salebook.event.entries import Entries, PieceEntry, TableCount, Unplaced, UnplannedCost
from salebook.making.firing_done import FiringDone
from salebook.making.studio_tally import StudioCount
from tests.support.small_event import DONATED, FIRST, FIRST_DAY, line, sale
from tests.support.sound_sale import reckoning_with

LINES = (line(1, piece="TWIG-001", amount="3"),)


def test_what_the_plan_still_has_stays_where_it_was() -> None:
    entries = Entries(
        lines=LINES,
        pieces={FIRST: PieceEntry(grade="second"), DONATED: PieceEntry(reserved_for="7")},
        made={"MAY": 3},
        studio={"DOT": StudioCount(thrown=30)},
        table_counts=(TableCount(day=FIRST_DAY, code="D1", counted=2),),
        actual_costs={"overhead: hall": Decimal(4)},
        actual_fees={"card": Decimal(1)},
        bank_reasons={"card": "bank charge"},
        unplanned=(UnplannedCost(name="parking", amount=Decimal(8)),),
    )
    assert entries == carry_forward(entries, sale())


def test_what_it_has_no_longer_is_kept_in_words_with_its_sheet() -> None:
    before = Unplaced(sheet="Pieces", says="FERN: 5 out of the kiln")
    entries = Entries(
        lines=LINES,
        pieces={
            "TWIG-001": PieceEntry(grade="second", mishap="broken", reserved_for="7"),
            "TWIG-002": PieceEntry(mishap="missing"),
        },
        made={"TWIG": 5},
        studio={"TWIG": StudioCount(thrown=9, dry=8, biscuit=7, good=0, seconds=1, broken=2)},
        table_counts=(TableCount(day=FIRST_DAY, code="TWIG", counted=2),),
        actual_costs={"overhead: tent": Decimal("4.50")},
        actual_fees={"shells": Decimal(1)},
        bank_reasons={"shells": "miscounted"},
        unplaced=(before,),
    )
    assert carry_forward(entries, sale()) == Entries(
        lines=LINES,
        unplaced=(
            before,
            Unplaced(sheet="Pieces", says="TWIG-001: second, broken, reserved for 7"),
            Unplaced(sheet="Pieces", says="TWIG-002: missing"),
            Unplaced(sheet="Pieces", says="TWIG: 5 out of the kiln"),
            Unplaced(sheet="Making", says="TWIG: thrown 9, dry 8, biscuit 7, good 0, seconds 1, broken 2"),
            Unplaced(sheet="Cash-up", says="2027-06-19, TWIG: 2"),
            Unplaced(sheet="Costs", says="overhead: tent: 4.50"),
            Unplaced(sheet="Share-out", says="shells: 1"),
            Unplaced(sheet="Cash-up", says="shells: miscounted"),
        ),
    )


def test_firings_done_stay_while_the_plan_has_any_firing_and_are_kept_in_words_after() -> None:
    done = FiringDone(firing="raku", load=2, day=FIRST_DAY, before=Decimal("1.5"), lost=0, why="crack")
    entries = Entries(firings_done=(done,))
    assert carry_forward(entries, reckoning_with()) == entries
    says = "raku: load 2, day 2027-06-19, before 1.5, lost 0, why crack"
    assert carry_forward(entries, sale()) == Entries(unplaced=(Unplaced(sheet="Firing", says=says),))
