"""What was filled in, set against a plan that has changed since: what fits, and what is kept aside."""

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import replace
from typing import Final, TypeVar

from salebook.base.words import _
from salebook.event.costs import cost_key
from salebook.event.entries import Entries, PieceEntry, TableCount, Unplaced
from salebook.event.register import register_of
from salebook.making.firing_done import FiringDone
from salebook.making.studio_tally import StudioCount
from salebook.reckoning import Reckoning

Kept = TypeVar("Kept")

FIRED: Final = ("load", "day", "before", "after", "came_out", "lost", "why")
COUNTS: Final = ("thrown", "dry", "biscuit", "good", "seconds", "broken")


def carry_forward(entries: Entries, reckoning: Reckoning) -> Entries:
    """Return the entries with everything kept aside, in words, that the plan has no place for.

    Lines of takings, cash, claims and payments always have a place.
    """
    kept = list(entries.unplaced)

    def placed(
        sheet: str,
        typed: Iterable[tuple[str, Kept]],
        known: Collection[str],
        says: Callable[[str, Kept], str],
    ) -> Iterator[tuple[str, Kept]]:
        for name, value in typed:
            if name in known:
                yield name, value
            else:
                kept.append(Unplaced(sheet=sheet, says=says(name, value)))

    plan, made = reckoning.plan, _("{code}: {count} out of the kiln")
    numbers = {piece.number for piece in register_of(plan, reckoning.studio.runs)}
    codes = {good.code for good in plan.goods}
    wares = {ware.code for ware in plan.wares}
    costs = {cost_key(line) for line in reckoning.costs.lines}
    ways = {way.name for way in plan.payments}
    # A line is kept where its firing is called otherwise now; without any firing there is no table for it.
    done = (("", one) for one in entries.firings_done)
    kinds = {""} if reckoning.studio.firings else ()
    of_codes = ((count.code, count) for count in entries.table_counts)
    carried = replace(
        entries,
        pieces=dict(placed(_("Pieces"), entries.pieces.items(), numbers, _piece_text)),
        made=dict(
            placed(_("Pieces"), entries.made.items(), wares, lambda code, n: made.format(code=code, count=n))
        ),
        studio=dict(placed(_("Making"), entries.studio.items(), wares, _studio_text)),
        firings_done=tuple(done for _of, done in placed(_("Firing"), done, kinds, _firing_text)),
        table_counts=tuple(count for _code, count in placed(_("Cash-up"), of_codes, codes, _count_text)),
        actual_costs=dict(placed(_("Costs"), entries.actual_costs.items(), costs, _amount_text)),
        actual_fees=dict(placed(_("Share-out"), entries.actual_fees.items(), ways, _amount_text)),
        bank_reasons=dict(placed(_("Cash-up"), entries.bank_reasons.items(), ways, _amount_text)),
    )
    return replace(carried, unplaced=tuple(dict.fromkeys(kept)))


def _amount_text(name: str, amount: object) -> str:
    return f"{name}: {amount}"


def _firing_text(_kind: str, done: FiringDone) -> str:
    told = ((key, getattr(done, key)) for key in FIRED)
    return f"{done.firing}: {', '.join(f'{key} {value}' for key, value in told if value not in {None, ''})}"


def _count_text(code: str, count: TableCount) -> str:
    return f"{count.day.isoformat()}, {code}: {count.counted}"


def _piece_text(number: str, entry: PieceEntry) -> str:
    reserved = _("reserved for {claim}").format(claim=entry.reserved_for) if entry.reserved_for else ""
    agreed = "" if entry.agreed_price is None else _("agreed at {price}").format(price=entry.agreed_price)
    since = "" if entry.marked_on is None else _("since {day}").format(day=entry.marked_on.isoformat())
    words = (entry.grade, entry.mishap, reserved, since, agreed)
    return f"{number}: {', '.join(word for word in words if word)}"


def _studio_text(code: str, count: StudioCount) -> str:
    counted = ((key, getattr(count, key)) for key in COUNTS)
    return f"{code}: {', '.join(f'{key} {value}' for key, value in counted if value is not None)}"
