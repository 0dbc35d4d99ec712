"""What was filled in, set against a plan that has changed since: what fits, and what is kept aside."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Final

from salebook.base.words import _
from salebook.event.costs import cost_key
from salebook.event.entries import Entries, PieceEntry, Unplaced
from salebook.event.register import register_of, wares_and_donated
from salebook.making.studio_tally import StudioCount
from salebook.reckoning import Reckoning

COUNTS: Final = ("thrown", "dry", "biscuit", "good", "seconds", "broken")


def carry_forward(entries: Entries, reckoning: Reckoning) -> Entries:
    """Return the entries with everything kept aside, in words, that the plan has no place for.

    Lines of takings, cash, claims and payments always have a place.
    """
    numbers = {piece.number for piece in register_of(reckoning.plan, reckoning.studio.runs)}
    codes = {good.code for good in wares_and_donated(reckoning.plan)}
    wares = {ware.code for ware in reckoning.plan.wares}
    costs = {cost_key(line) for line in reckoning.costs.lines}
    ways = {way.name for way in reckoning.plan.payments}
    kept = (
        *entries.unplaced,
        *_unplaced(entries, numbers=numbers, codes=codes, wares=wares, costs=costs, ways=ways),
    )
    return replace(
        entries,
        pieces={number: entry for number, entry in entries.pieces.items() if number in numbers},
        made={code: count for code, count in entries.made.items() if code in wares},
        studio={code: count for code, count in entries.studio.items() if code in wares},
        table_counts=tuple(count for count in entries.table_counts if count.code in codes),
        actual_costs={key: amount for key, amount in entries.actual_costs.items() if key in costs},
        actual_fees={way: amount for way, amount in entries.actual_fees.items() if way in ways},
        unplaced=tuple(dict.fromkeys(kept)),
    )


def _unplaced(
    entries: Entries, *, numbers: set[str], codes: set[str], wares: set[str], costs: set[str], ways: set[str]
) -> Iterator[Unplaced]:
    for number, entry in entries.pieces.items():
        if number not in numbers:
            yield Unplaced(sheet=_("Pieces"), says=f"{number}: {_piece_text(entry)}")
    for code, count in entries.made.items():
        if code not in wares:
            says = _("{code}: {count} out of the kiln").format(code=code, count=count)
            yield Unplaced(sheet=_("Pieces"), says=says)
    for code, of_studio in entries.studio.items():
        if code not in wares:
            yield Unplaced(sheet=_("Making"), says=f"{code}: {_studio_text(of_studio)}")
    for on_table in entries.table_counts:
        if on_table.code not in codes:
            day, code = on_table.day.isoformat(), on_table.code
            yield Unplaced(sheet=_("Cash-up"), says=f"{day}, {code}: {on_table.counted}")
    yield from _unplaced_amounts(_("Costs"), entries.actual_costs, costs)
    yield from _unplaced_amounts(_("Share-out"), entries.actual_fees, ways)


def _unplaced_amounts(sheet: str, amounts: Mapping[str, object], known: set[str]) -> Iterator[Unplaced]:
    for name, amount in amounts.items():
        if name not in known:
            yield Unplaced(sheet=sheet, says=f"{name}: {amount}")


def _piece_text(entry: PieceEntry) -> str:
    reserved = _("reserved for {claim}").format(claim=entry.reserved_for) if entry.reserved_for else ""
    agreed = "" if entry.agreed_price is None else _("agreed at {price}").format(price=entry.agreed_price)
    since = "" if entry.marked_on is None else _("since {day}").format(day=entry.marked_on.isoformat())
    return ", ".join(word for word in (entry.grade, entry.mishap, reserved, since, agreed) if word)


def _studio_text(count: StudioCount) -> str:
    counted = ((key, getattr(count, key)) for key in COUNTS)
    return ", ".join(f"{key} {value}" for key, value in counted if value is not None)
