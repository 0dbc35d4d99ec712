from decimal import Decimal
from pathlib import Path

import pytest

from salebook.book.read import read_book
from salebook.book.write import book_bytes
from salebook.event.costs import postage_spent
from salebook.event.entries import Entries, UnplannedCost
from salebook.event.event import reckon_event
from salebook.reckoning import reckon
from tests.support.small_event import FIRST, after, line, sale
from tests.support.sound_sale import event_with, reckoning_with


def test_every_cost_says_what_it_comes_to_and_how_that_is_known() -> None:
    event = after(line(1, piece=FIRST), actual_costs={"overhead: hall": Decimal("4.20")})
    found = {cost.line.name: (cost.amount, cost.is_actual) for cost in event.share_out.costs}
    assert {"buff": (12, False), "bags": (Decimal("0.33"), False), "hall": (Decimal("4.20"), True)} == found


def test_costs_of_the_sale_add_up_to_what_is_taken_off() -> None:
    event = after(line(1, piece=FIRST))
    off = sum(cost.amount for cost in event.share_out.costs if cost.line.met_by == "sale")
    assert event.share_out.costs_met_by_sale == off


def test_costs_that_nobody_planned_stand_last_and_those_of_the_sale_come_off_the_takings() -> None:
    parcel = UnplannedCost(name="Postage to Unst", amount=Decimal("6.40"), met_by="sale")
    van = UnplannedCost(name="", amount=Decimal(11))
    before, event = after(line(1, piece=FIRST)), after(line(1, piece=FIRST), unplanned=(parcel, van))
    last = [(cost.line.name, cost.amount, cost.line.met_by) for cost in event.share_out.costs[-2:]]
    assert last == [
        ("Postage to Unst", Decimal("6.40"), "sale"),
        ("a cost without a name", Decimal(11), "maker"),
    ]
    off = event.share_out.costs_met_by_sale - before.share_out.costs_met_by_sale
    assert (off, event.share_out.pool) == (parcel.amount, before.share_out.pool - parcel.amount)


def test_postage_spent_is_what_has_the_word_in_its_name_planned_or_not() -> None:
    stamps = UnplannedCost(name="stamps", amount=Decimal(3))
    parcels = [UnplannedCost(name=name, amount=Decimal(5)) for name in ("POSTAGE", "a bowl (postage)")]
    assert postage_spent(after(unplanned=(stamps, *parcels)).share_out.costs) == 10
    planned = reckoning_with((("overheads", 0, "name"), "postage and parcels"))
    costs = event_with(reckoning=planned).share_out.costs
    assert postage_spent(costs) == planned.plan.overheads[0].amount > 0


@pytest.mark.parametrize(("key", "amounts"), [("overhead: hall", [7, 50]), ("overhead 2: hall", [12, 7])])
def test_of_two_costs_with_one_name_the_one_that_is_filled_in_changes(
    key: str, amounts: list[int], tmp_path: Path
) -> None:
    (hall,) = sale().plan.overheads
    two = (hall.model_copy(update={"amount": Decimal(12)}), hall.model_copy(update={"amount": Decimal(50)}))
    reckoning = reckon(sale().plan.model_copy(update={"overheads": two}))
    event = reckon_event(reckoning, Entries(actual_costs={key: Decimal(7)}))
    assert [cost.amount for cost in event.share_out.costs if cost.line.name == "hall"] == amounts
    path = tmp_path / "sale.xlsx"
    path.write_bytes(book_bytes(reckoning, event))
    assert read_book(path).entries.actual_costs == {key: 7}
