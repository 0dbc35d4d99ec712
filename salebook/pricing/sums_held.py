"""Sums that a spreadsheet can hold to the last coin."""

from collections.abc import Iterator, Sequence
from decimal import Decimal

from salebook.base.errors import Fault, FaultyPlanError
from salebook.base.words import _
from salebook.plan.faults import ARROW
from salebook.plan.fields import grouped
from salebook.plan.model import Plan
from salebook.plan.money import in_units
from salebook.pricing.costing import Costs, Kind
from salebook.pricing.good import Good, Grade

MOST_MINOR_UNITS = 10**13
"""Spreadsheets keep 15 digits (IEEE 754 holds 15 of any decimal number); two are left for sums of sums."""

Placed = tuple[tuple[str, ...], Decimal]
"""The place of a key, and the sum of money that follows from it."""

COST_KEYS: dict[Kind, tuple[str, str]] = {
    "clay": ("clays", "pack_price"),
    "firing": ("firings", "metered_kwh"),
    "material": ("materials", "pack_price"),
    "overhead": ("overheads", "amount"),
}
GOOD_KEYS: dict[Grade, tuple[str, str]] = {
    "first": ("wares", "price"),
    "second": ("wares", "seconds_price"),
    "donated": ("donated", "price"),
    "carried": ("carried", "price"),
}


def refuse_sums_too_large(plan: Plan, goods: Sequence[Good], costs: Costs) -> None:
    """Refuse a plan whose sums of money have more digits than a spreadsheet keeps.

    Raises FaultyPlanError naming each key whose sum is too large by itself, else the one with the largest.
    """
    sums = [*_sums(plan, goods, costs)]
    most = in_units(MOST_MINOR_UNITS, plan.sale.digits)
    if sum((amount for _place, amount in sums), Decimal(0)) > most:
        too_large = [one for one in sums if one[1] > most] or [max(sums, key=lambda one: one[1])]
        raise FaultyPlanError([_fault(place, amount, most, plan) for place, amount in too_large])


def _sums(plan: Plan, goods: Sequence[Good], costs: Costs) -> Iterator[Placed]:
    pieces = sum(good.count for good in goods)
    yield ("sale", "target"), plan.sale.target
    yield ("sale", "price_step"), plan.sale.price_step * pieces
    for good in goods:
        table, key = GOOD_KEYS[good.grade]
        yield (table, good.code, key), good.price * good.count
    for line in costs.lines:
        table, key = COST_KEYS[line.kind]
        yield (table, line.name, key), line.total
    yield ("hours", "rate"), costs.hours_value
    for income in plan.other_income:
        yield ("other_income", income.name, "expected"), income.expected
    for way in plan.payments:
        yield ("payments", way.name, "fixed"), way.fixed * pieces


def _fault(place: tuple[str, ...], amount: Decimal, most: Decimal, plan: Plan) -> Fault:
    said = {"currency": plan.sale.currency}
    return Fault(
        file=_("plan"),
        place=ARROW.join(place),
        found=_("what comes to {sum} {currency}").format(sum=grouped(Decimal(round(amount))), **said),
        expected=_("sums of at most {most} {currency} in all, as a spreadsheet keeps 15 digits").format(
            most=grouped(Decimal(round(most))), **said
        ),
        hint=_("a smaller amount, or fewer of them"),
    )
