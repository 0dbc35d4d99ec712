"""What was filled in about money: the sheets Cash-up, Costs and Share-out."""

from collections.abc import Callable, Iterator, Sequence
from datetime import date
from decimal import Decimal
from typing import Final

from salebook.book.reading.asked import Asked, broken
from salebook.book.reading.tables import Row, Tables
from salebook.book.reading.typed import Tongue, UnreadError, count_of, text, tidy, till_of
from salebook.costing import KIND_WORDS
from salebook.event.entries import Banked, DayCount, GroupPayment, TableCount
from salebook.words import _

NOTHING: Final = Decimal(0)


def read_cash(tables: Tables, tongue: Tongue, asked: Asked) -> tuple[DayCount, ...]:
    """Read the cash boxes in which something is filled in, by day and till."""
    counts: dict[tuple[date, str], dict[Decimal, int]] = {}
    for row in tables.rows("coins"):
        _coin(row, tongue, asked, counts)
    found: dict[tuple[date, str], DayCount] = {}
    for row in tables.rows("cash"):
        box = _box(row, tongue, asked)
        if box is None:
            continue
        if not (row.has(("counted_by", "checked_by", "float", "paid_out")) or box in counts):
            continue
        if box in found:
            asked.ask(row, _("this day and till stand twice: the first row counts"))
            continue
        found[box] = _day_count(row, box, counts.pop(box, {}), tongue, asked)
    found |= {box: DayCount(day=box[0], till=box[1], counts=of_box) for box, of_box in counts.items()}
    return tuple(sorted(found.values(), key=lambda count: (count.day, len(count.till), count.till)))


def _box(row: Row, tongue: Tongue, asked: Asked) -> tuple[date, str] | None:
    filled = row.has(("counted_by", "checked_by", "float", "paid_out", "count"))
    try:
        return tongue.day(row.get("day")), till_of(row.get("till"), "1")
    except UnreadError:
        if filled:
            asked.ask(row, _("something is filled in here, but the day is not a date: it is not counted"))
        return None


def _coin(row: Row, tongue: Tongue, asked: Asked, counts: dict[tuple[date, str], dict[Decimal, int]]) -> None:
    count = asked.read(row, "count", count_of, _("how many coins or notes is not a whole number"))
    if count is None:
        return
    box = _box(row, tongue, asked)
    face = asked.read(row, "denomination", tongue.amount, _("the coin or note is not an amount"))
    if face is None:
        asked.ask(row, _("something is counted here, but of which coin or note?"))
    elif box is not None:
        of_box = counts.setdefault(box, {})
        if of_box.setdefault(face, count) != count:
            asked.ask(row, _("this coin or note stands twice: the first row counts"))


def _day_count(
    row: Row, box: tuple[date, str], counts: dict[Decimal, int], tongue: Tongue, asked: Asked
) -> DayCount:
    says = _("an amount of this cash box is not a number: it counts as nothing")
    return DayCount(
        day=box[0],
        till=box[1],
        float_=asked.read(row, "float", tongue.amount, says) or NOTHING,
        counts=counts,
        paid_out=asked.read(row, "paid_out", tongue.amount, says) or NOTHING,
        counted_by=asked.text(row, "counted_by"),
        checked_by=asked.text(row, "checked_by"),
    )


def read_table(tables: Tables, tongue: Tongue, asked: Asked) -> tuple[TableCount, ...]:
    """Read the counts of the table, by evening and code."""
    found: dict[tuple[date, str], TableCount] = {}
    for row in tables.rows("table"):
        counted = asked.read(row, "counted", count_of, _("the count of the table is not a whole number"))
        day = asked.read(row, "day", tongue.day, _("the evening is not a date"))
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


def read_banked(tables: Tables, tongue: Tongue, asked: Asked, *, last_day: date) -> tuple[Banked, ...]:
    """Read what was banked; where no day is typed it is the sale's last one, and asked about."""
    found = []
    keys = ("day", "what", "expected", "arrived")
    for row in _rows(tables, "bank", keys):
        amount = _("an amount of this row is not a number: it counts as nothing")
        found.append(
            Banked(
                day=_day(row, tongue, asked, last_day),
                what=asked.text(row, "what"),
                expected=asked.read(row, "expected", tongue.amount, amount),
                arrived=asked.read(row, "arrived", tongue.amount, amount),
            )
        )
    return tuple(found)


def read_payments(
    tables: Tables, tongue: Tongue, asked: Asked, *, last_day: date
) -> tuple[GroupPayment, ...]:
    """Read what was paid to groups; where no day is typed it is the sale's last one, and asked about."""
    found = []
    for row in _rows(tables, "paid", ("group", "day", "amount", "reference")):
        says = _("the amount paid is not a number: it counts as nothing")
        amount = asked.read(row, "amount", tongue.amount, says)
        if amount is None and not tidy(row.get("amount")):
            asked.ask(row, _("how much was paid here?"))
        found.append(
            GroupPayment(
                day=_day(row, tongue, asked, last_day),
                group=asked.text(row, "group"),
                amount=amount or NOTHING,
                reference=asked.text(row, "reference"),
            )
        )
    return tuple(found)


def read_actual_costs(tables: Tables, tongue: Tongue, asked: Asked) -> dict[str, Decimal]:
    """Read what things really cost, by the cost line's key."""

    words = {said: kind for kind, word in KIND_WORDS.items() for said in (word, _(word))}

    def key(row: Row) -> str:
        kind, name = tidy(row.get("kind")).lower(), _text(row, "name")
        return f"{words[kind]}: {name}" if kind in words and name else ""

    return _amounts_by(tables, tongue, asked, ("costs", "actual"), key)


def read_actual_fees(tables: Tables, tongue: Tongue, asked: Asked) -> dict[str, Decimal]:
    """Read the fees on the statements, by way to pay."""
    return _amounts_by(tables, tongue, asked, ("ways", "actual_fee"), lambda row: _text(row, "=way"))


def _amounts_by(
    tables: Tables,
    tongue: Tongue,
    asked: Asked,
    place: tuple[str, str],
    identity: Callable[[Row], str],
) -> dict[str, Decimal]:
    section, key = place
    found: dict[str, Decimal] = {}
    for row in tables.rows(section):
        amount = asked.read(row, key, tongue.amount, _("the amount is not a number: it is not counted"))
        if amount is None:
            continue
        name = identity(row)
        if not name:
            asked.ask(row, _("an amount stands here, but it cannot be seen for what: it is not counted"))
        elif found.setdefault(name, amount) != amount:
            asked.ask(row, _("this stands twice: the first row counts"))
    return found


def _rows(tables: Tables, section: str, keys: Sequence[str]) -> Iterator[Row]:
    """Yield the rows of a table in which something stands."""
    yield from (row for row in tables.rows(section) if row.has(keys))


def _day(row: Row, tongue: Tongue, asked: Asked, last_day: date) -> date:
    day = asked.read(row, "day", tongue.day, _("the day is not a date: it is taken as the sale's last one"))
    if day is None and not tidy(row.get("day")):
        asked.ask(row, _("on which day? It is taken as the sale's last one"))
    return day or last_day


def _text(row: Row, key: str) -> str:
    value = row.get(key)
    return "" if broken(value) else text(value)
