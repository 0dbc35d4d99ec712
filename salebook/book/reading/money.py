"""What was filled in about money: the sheets Cash-up, Costs and Share-out."""

from collections import Counter
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any, Final

from salebook.base.errors import UnfitError
from salebook.base.words import _
from salebook.book.reading.asked import Asked, broken
from salebook.book.reading.fields import Fields
from salebook.book.reading.tables import Row, Tables
from salebook.book.reading.typed import CellParser, text, tidy, till_of
from salebook.event.costs import key_of_cost
from salebook.event.entries import Banked, DayCount, GroupPayment, TableCount, UnplannedCost
from salebook.pricing.costing import KIND_WORDS

ZERO: Final = Decimal(0)


def read_cash(tables: Tables, parser: CellParser, asked: Asked) -> tuple[DayCount, ...]:
    """Read the cash boxes in which something is filled in, by day and till."""
    cash, coins = Fields("cash", tables, parser, asked), Fields("coins", tables, parser, asked)
    counts: dict[tuple[date, str], dict[Decimal, int]] = {}
    for row in coins.all():
        _coin(row, coins, counts)
    found: dict[tuple[date, str], DayCount] = {}
    for row in cash.all():
        box = _box(row, cash)
        if box is None or not (row.has(cash.table.keys_typed) or box in counts):
            continue
        if box in found:
            asked.ask(row, _("this day and till stand twice: the first row counts"))
            continue
        found[box] = _day_count(row, box, counts.pop(box, {}), cash)
    found |= {box: DayCount(day=box[0], till=box[1], counts=of_box) for box, of_box in counts.items()}
    return tuple(sorted(found.values(), key=lambda count: (count.day, len(count.till), count.till)))


def _box(row: Row, fields: Fields) -> tuple[date, str] | None:
    try:
        return fields.parser.day(row.get("day")), till_of(row.get("till"), "1")
    except UnfitError:
        if row.has(fields.table.keys_typed):
            says = _("something is filled in here, but the day is not a date: it is not counted")
            fields.asked.ask(row, says)
        return None


def _coin(row: Row, coins: Fields, counts: dict[tuple[date, str], dict[Decimal, int]]) -> None:
    count = coins.read(row, "count", _("how many coins or notes is not a whole number"))
    if count is None:
        return
    box = _box(row, coins)
    face = coins.read(row, "denomination", _("the coin or note is not an amount"))
    if face is None:
        coins.asked.ask(row, _("something is counted here, but of which coin or note?"))
    elif box is not None:
        of_box = counts.setdefault(box, {})
        if of_box.setdefault(face, count) != count:
            coins.asked.ask(row, _("this coin or note stands twice: the first row counts"))


def _day_count(row: Row, box: tuple[date, str], counts: dict[Decimal, int], cash: Fields) -> DayCount:
    says = _("an amount of this cash box is not a number: it counts as nothing")
    return DayCount(
        day=box[0],
        till=box[1],
        float_=cash.read(row, "float", says) or ZERO,
        counts=counts,
        paid_out=cash.read(row, "paid_out", says) or ZERO,
        counted_by=cash.asked.text(row, "counted_by"),
        checked_by=cash.asked.text(row, "checked_by"),
    )


def read_table(tables: Tables, parser: CellParser, asked: Asked) -> tuple[TableCount, ...]:
    """Read the counts of the table, by evening and code."""
    evenings = Fields("table", tables, parser, asked)
    found: dict[tuple[date, str], TableCount] = {}
    for row in evenings.all():
        counted = evenings.read(row, "counted", _("the count of the table is not a whole number"))
        day = evenings.read(row, "day", _("the evening is not a date"))
        code = tidy(row.get("code")).upper()
        if counted is None:
            continue
        if day is None or not code:
            asked.ask(row, _("something is counted here, but of which ware, on which evening?"))
            continue
        count = TableCount(day=day, code=code, counted=counted)
        if found.setdefault((day, code), count) != count:
            asked.ask(row, _("{code} stands twice on this evening: the first row counts").format(code=code))
    return tuple(found.values())


def read_banked(tables: Tables, parser: CellParser, asked: Asked, *, last_day: date) -> tuple[Banked, ...]:
    """Read what was banked; where no day is typed it is the sale's last one, and asked about."""
    bank = Fields("bank", tables, parser, asked)
    amount = _("an amount of this row is not a number: it counts as nothing")
    return tuple(
        Banked(
            day=_day(row, bank, last_day),
            what=asked.text(row, "what"),
            expected=bank.read(row, "expected", amount),
            arrived=bank.read(row, "arrived", amount),
        )
        for row in bank.filled()
    )


def read_payments(
    tables: Tables, parser: CellParser, asked: Asked, *, last_day: date
) -> tuple[GroupPayment, ...]:
    """Read what was paid to groups; where no day is typed it is the sale's last one, and asked about."""
    paid = Fields("paid", tables, parser, asked)
    found = []
    for row in paid.filled():
        amount = paid.read(row, "amount", _("the amount paid is not a number: it counts as nothing"))
        if amount is None and not tidy(row.get("amount")):
            asked.ask(row, _("how much was paid here?"))
        found.append(
            GroupPayment(
                day=_day(row, paid, last_day),
                group=asked.text(row, "group"),
                amount=amount or ZERO,
                reference=asked.text(row, "reference"),
            )
        )
    return tuple(found)


def read_actual_costs(tables: Tables, parser: CellParser, asked: Asked) -> dict[str, Decimal]:
    """Read what things really cost, by the cost line's key."""
    words = {word: kind for kind, word in KIND_WORDS.items()}
    names: Counter[tuple[str, str]] = Counter()

    def key(row: Row) -> str:
        said = tidy(row.get("kind")).lower()  # by which books tell it whose marks do not
        kind, name = row.mark.partition(".")[2] or words.get(said, ""), _text(row, "name")
        names[kind, name] += 1
        return key_of_cost(kind, name, names[kind, name]) if kind in KIND_WORDS and name else ""

    return _read_by(Fields("costs", tables, parser, asked), "actual", key, says=_no_amount())


def read_unplanned(tables: Tables, parser: CellParser, asked: Asked) -> tuple[UnplannedCost, ...]:
    """Read what was spent that nobody planned; the maker pays, and it is asked, where nobody is chosen."""
    spent = Fields("unplanned", tables, parser, asked)
    return tuple(_unplanned(row, spent) for row in spent.filled())


def _unplanned(row: Row, spent: Fields) -> UnplannedCost:
    name = spent.asked.text(row, "spent_on")
    amount = spent.read(row, "amount", _("this cost is not a number: it counts as nothing"))
    met_by = spent.read(row, "met_by", _("who pays is none of the words to choose from: the maker, for now"))
    if not name:
        spent.asked.ask(row, _("what was this spent on?"))
    if not tidy(row.get("amount")):
        spent.asked.ask(row, _("how much was spent here?"))
    if not tidy(row.get("met_by")):
        spent.asked.ask(row, _("who pays for this? Until you choose, the maker does"))
    return UnplannedCost(name=name, amount=amount or ZERO, met_by=met_by or "maker")


def read_actual_fees(tables: Tables, parser: CellParser, asked: Asked) -> dict[str, Decimal]:
    """Read the fees on the statements, by way to pay."""
    ways = Fields("ways", tables, parser, asked)
    return _read_by(ways, "actual_fee", _way, says=_no_amount())


def read_bank_reasons(tables: Tables, parser: CellParser, asked: Asked) -> dict[str, str]:
    """Read why more or less arrived in the bank than should, by way to pay."""
    ways = Fields("bank_ways", tables, parser, asked)
    return _read_by(ways, "explained", _way, says=_("there is no such reason to choose: it is not counted"))


def _way(row: Row) -> str:
    return _text(row, "=way")


def _no_amount() -> str:
    return _("the amount is not a number: it is not counted")


def _read_by(fields: Fields, key: str, identity: Callable[[Row], str], *, says: str) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for row in fields.all():
        value, name = fields.read(row, key, says), identity(row)
        if value is None:
            continue
        if not name:
            unseen = _("something stands here, but it cannot be seen for what: it is not counted")
            fields.asked.ask(row, unseen)
        elif found.setdefault(name, value) != value:
            fields.asked.ask(row, _("this stands twice: the first row counts"))
    return found


def _day(row: Row, fields: Fields, last_day: date) -> date:
    day = fields.read(row, "day", _("the day is not a date: it is taken as the sale's last one"))
    if day is None and not tidy(row.get("day")):
        fields.asked.ask(row, _("on which day? It is taken as the sale's last one"))
    return day or last_day


def _text(row: Row, key: str) -> str:
    return "" if broken(row, key) else text(row.get(key))
