"""What must hold of money, the groups, the ways to pay, the outlooks and the labels."""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal

from salebook.base.words import _
from salebook.plan.draft import Draft
from salebook.plan.faults import Finding, described, missing, unknown_name, wrong
from salebook.plan.keys import Kind, keys_of
from salebook.plan.model import Beneficiary, Clay, Firing, Labels, Outlook, Payment, Record, Sale
from salebook.plan.money import is_finer_than_coins
from salebook.plan.quantities import plain
from salebook.plan.tables import TABLES, table_of

PAGES_MM = {"A4": (Decimal(210), Decimal(297)), "Letter": (Decimal("215.9"), Decimal("279.4"))}
"""Paper sizes (ISO 216; ANSI/ASME Y14.1)."""


def money_has_the_minor_digits_of_its_currency(draft: Draft) -> Iterator[Finding]:
    """Amounts of money are whole in the currency's minor units; a rate, of a kWh, may be finer."""
    sale = draft.one(Sale)
    for placed in (placed for kind in TABLES.values() for placed in draft.all(kind) if sale):
        for key, amount in _amounts(placed.record):
            if sale and is_finer_than_coins(amount, sale.currency):
                says = _("at most {digits} decimal places, as {currency} has")
                expected = says.format(digits=sale.digits, currency=sale.currency)
                yield wrong(plain(amount), expected, *placed.place, key)


def _amounts(record: Record) -> Iterator[tuple[str, Decimal]]:
    """Yield the amounts of money in a record, each with its key."""
    for key in keys_of(type(record)):
        value = getattr(record, key.attribute)
        for one in value if isinstance(value, tuple) else (value,):
            if isinstance(one, Record):
                yield from ((key.name, amount) for _within, amount in _amounts(one))
            elif isinstance(one, Decimal) and key.kind in {Kind.MONEY, Kind.COINS}:
                yield key.name, one


def somebody_gains(draft: Draft) -> Iterator[Finding]:
    """A sale is for at least one group."""
    if draft.written.get("beneficiaries") == ():
        yield missing(_("at least one group that shares in the takings"), "beneficiaries")


def names_are_unique(draft: Draft) -> Iterator[Finding]:
    """What is called by its name has it to itself; spreadsheets do not tell capitals from small letters."""
    for kind in (Beneficiary, Clay, Firing, Payment, Outlook):
        yield from _used_twice(draft, kind)


def _used_twice(draft: Draft, kind: type[Record]) -> Iterator[Finding]:
    names = draft.names(kind)
    uses = Counter(name.casefold() for name in names)
    for name in dict.fromkeys(names):
        if uses.pop(name.casefold(), 1) > 1:
            found = _("{name} more than once").format(name=described(name))
            yield wrong(found, _("a name of its own for each, capitals aside"), table_of(kind), "name")


def shares_of_payments_add_up(draft: Draft) -> Iterator[Finding]:
    """The shares of sales expected of all ways to pay make one; a single way may leave it out."""
    shares = [way.record.share_given for way in draft.all(Payment)]
    if not shares or not draft.is_sound(Payment) or shares == [None]:
        return
    total = sum((share or Decimal(0) for share in shares), Decimal(0))
    if total != 1:
        found = _("shares that add up to {total}").format(total=plain(total))
        yield wrong(found, _("shares that add up to 1"), "payments", "share")


def payments_go_to_known_groups(draft: Draft) -> Iterator[Finding]:
    """Who is paid straight is one of the groups, and such money is never in the cash box."""
    known = draft.names(Beneficiary)
    for way in draft.all(Payment):
        if way.record.paid_to and way.record.paid_to not in known:
            expected = _("a group of [[beneficiaries]]")
            yield unknown_name(way.record.paid_to, known, expected, *way.place, "paid_to")
        if way.record.paid_to and way.record.cash:
            expected = _("false, as what is paid straight to a group is never in the cash box")
            yield wrong("true", expected, *way.place, "cash")


def some_outlook_has_weight(draft: Draft) -> Iterator[Finding]:
    """Not every kind of day can be out of the question."""
    weights = [outlook.record.weight for outlook in draft.all(Outlook)]
    if weights and draft.is_sound(Outlook) and not any(weights):
        yield wrong(_("0 for each"), _("a weight above 0 for one"), "outlooks", "weight")


def labels_are_given_whole(draft: Draft) -> Iterator[Finding]:
    """The measures of a sheet of labels are given together or not at all."""
    labels = draft.one(Labels)
    given = labels.model_fields_set - {"promise"} if labels else set()
    for key in Labels.model_fields:
        if given and key != "promise" and key not in given:
            yield missing(_("all measures of the sheet, or none for the usual sheet of 3 × 7"), "labels", key)


def labels_fit_on_their_page(draft: Draft) -> Iterator[Finding]:
    """Labels do not overlap, and the last one ends on the page."""
    labels = draft.one(Labels)
    if labels is None:
        return
    page_width, page_height = PAGES_MM[labels.page]
    ways = {
        "across": (labels.across.mm, labels.width.mm, labels.left.mm, labels.columns, page_width),
        "down": (labels.down.mm, labels.height.mm, labels.top.mm, labels.rows, page_height),
    }
    for key, (pitch, size, start, count, page) in ways.items():
        reach = start + (count - 1) * pitch + size
        if count > 1 and pitch < size:
            expected = _("at least the label's own {size} mm").format(size=plain(size))
            yield wrong(_("{pitch} mm").format(pitch=plain(pitch)), expected, "labels", key)
        if reach > page:
            expected = _("labels that end within the page's {page} mm").format(page=plain(page))
            found = _("labels that reach to {reach} mm").format(reach=plain(reach))
            yield wrong(found, expected, "labels", key)
