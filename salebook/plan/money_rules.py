"""What must hold of the money in a plan: no amount is finer than the currency's coins."""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from salebook.base.words import _
from salebook.plan.draft import Draft
from salebook.plan.faults import Finding
from salebook.plan.model import (
    Clay,
    DemandPoint,
    Donated,
    Hours,
    Material,
    OtherIncome,
    Overhead,
    Payment,
    Record,
    Sale,
    Ware,
)
from salebook.plan.money import is_finer_than_coins
from salebook.plan.quantities import plain

MONEY_KEYS: Mapping[type[Record], tuple[str, ...]] = {
    Sale: ("target", "price_step", "denominations"),
    Clay: ("pack_price",),
    Ware: ("price", "seconds_price", "demand"),
    Donated: ("price",),
    Material: ("pack_price",),
    Hours: ("rate",),
    Overhead: ("amount",),
    OtherIncome: ("expected",),
    Payment: ("fixed",),
}
"""Keys that hold money. The price of a kWh is a rate, and may have any number of digits."""


def money_has_the_minor_digits_of_its_currency(draft: Draft) -> Iterator[Finding]:
    """Amounts of money are whole in the currency's minor units."""
    sale = draft.one(Sale)
    if sale is None:
        return
    for kind, keys in MONEY_KEYS.items():
        for placed in draft.all(kind):
            for key in keys:
                for amount in _amounts(placed.record, key):
                    yield from _too_fine(amount, sale, (*placed.place, key))


def _amounts(record: Record, key: str) -> Iterator[Decimal]:
    """Return the amounts under a key, which holds one, none or several."""
    value = getattr(record, "price_step_given" if key == "price_step" else key)
    for amount in value if isinstance(value, tuple) else (value,):
        if isinstance(amount, DemandPoint):
            yield amount.price
        elif isinstance(amount, Decimal):
            yield amount


def _too_fine(amount: Decimal, sale: Sale, place: tuple[str, ...]) -> Iterator[Finding]:
    if is_finer_than_coins(amount, sale.currency):
        says = _("at most {digits} decimal places, as {currency} has")
        expected = says.format(digits=sale.digits, currency=sale.currency)
        yield Finding(place=place, found=plain(amount), expected=expected)
