"""The plan of the next sale: the one before with what was learned, and with what is said anew."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Any, Final, TypeVar

from salebook.base.words import _
from salebook.forecast.learned.costs import PRICE_KEY, source_of
from salebook.forecast.learned.energy import firing_after, kiln_after
from salebook.forecast.learned.lessons import Lessons
from salebook.forecast.learned.losses import seen_after
from salebook.forecast.learned.sold import wares_and_donated
from salebook.forecast.must_fetch import must_fetch
from salebook.forecast.standing import planned_standing
from salebook.plan.model import Donated, Material, Overhead, Plan, Record, Ware, Work
from salebook.plan.tables import table_of
from salebook.pricing.outcome import reaches
from salebook.reckoning import reckon
from salebook.say.next_year import Lesson
from salebook.say.time import format_day

SAME_WEEKDAYS: Final = timedelta(weeks=52)
R = TypeVar("R", bound=Record)


@dataclass(frozen=True, kw_only=True)
class Wishes:
    """What is said anew of the next sale; how many and at what price by code."""

    title: str
    days: tuple[date, ...]
    target: Decimal
    counts: Mapping[str, int]
    prices: Mapping[str, Decimal]


def taught(lessons: Lessons) -> Plan:
    """Return the plan of the sale that was with all that was learned, and without what was tied to it."""
    plan = lessons.plan
    weights = {seen.outlook.name: seen.weight for seen in lessons.days}
    return plan.model_copy(
        update={
            "beneficiaries": tuple(_with(group, agreed=None) for group in plan.beneficiaries),
            "wares": tuple(_ware(ware, lessons) for ware in plan.wares),
            "donated": tuple(_donated(given, lessons) for given in plan.donated),
            "carried": lessons.carried,
            "making": _with(plan.making, free_days=()),
            "kiln": plan.kiln and kiln_after(plan.kiln, lessons.energy),
            "firings": tuple(firing_after(firing, lessons.energy) for firing in plan.firings),
            "outlooks_given": tuple(
                _with(outlook, weight=weights.get(outlook.name, outlook.weight))
                for outlook in plan.outlooks_given
            ),
            **_with_costs(lessons),
        }
    )


def with_wishes(plan: Plan, wishes: Wishes) -> Plan:
    """Return a plan with what is said anew; a kind of piece of which none is wanted is left out."""
    wares = tuple(
        _with(ware, wanted=wishes.counts[ware.code], price=wishes.prices.get(ware.code, ware.price))
        for ware in plan.wares
        if wishes.counts[ware.code]
    )
    donated = tuple(
        _with(given, count=wishes.counts[given.code]) for given in plan.donated if wishes.counts[given.code]
    )
    codes = frozenset(code for code, count in wishes.counts.items() if count)
    sale = _with(plan.sale, title=wishes.title, days=wishes.days, target=wishes.target)
    return plan.model_copy(
        update={
            "sale": sale,
            "wares": wares,
            "donated": donated,
            "materials": _still_used(plan.materials, codes),
            "work": _still_used(plan.work, codes),
        }
    )


def proposed_prices(plan: Plan) -> Mapping[str, Decimal]:
    """Return the prices to propose, by code: as they are, or higher where the target takes that.

    Where no price is known to make the target they stay as they are.
    """
    reckoning = reckon(plan)
    target = reckoning.advice.target
    before = {ware.code: ware.price for ware in plan.wares}
    if not plan.wares or reaches(target.expected_net, target.amount):
        return before
    (found,) = must_fetch(planned_standing(reckoning), ["as planned"])
    return before if found.change is None or found.is_guessed else {**before, **found.prices.firsts}


def days_next(days: Sequence[date], today: date) -> tuple[date, ...]:
    """Return the same weekdays a year of 52 weeks later, or as many years as it takes to be ahead."""
    later = SAME_WEEKDAYS
    while days[0] + later <= today:
        later += SAME_WEEKDAYS
    return tuple(day + later for day in days)


def title_next(title: str, before: int, year: int) -> str:
    """Return a title with the next sale's year where it names the one before."""
    return re.sub(rf"(?<!\d){before}(?!\d)", str(year), title)


def said_anew(plan: Plan, wishes: Wishes) -> Iterator[Lesson]:
    """Yield what was said before of all that is said anew and differs."""
    sale, money = plan.sale, plan.sale.format_money
    days = ", ".join(format_day(day, sale.locale) for day in sale.days)
    yield Lesson.at("sale", "", "days", _("Last time: {before}.").format(before=days))
    if wishes.target != sale.target:
        yield Lesson.at("sale", "", "target", _("Last time: {before}.").format(before=money(sale.target)))
    for ware in plan.wares:
        if wishes.counts[ware.code] not in {0, ware.wanted}:
            says = _("Last time: {before}.").format(before=ware.wanted)
            yield Lesson.at("wares", ware.code, "wanted", says)
        if wishes.prices.get(ware.code, ware.price) != ware.price:
            says = _("Last time: {before}.").format(before=money(ware.price))
            yield Lesson.at("wares", ware.code, "price", says)


def to_ask_again(plan: Plan) -> Iterator[Lesson]:
    """Yield what held for the sale that was only, and has to be asked again."""
    for group in plan.beneficiaries:
        if group.agreed:
            says = _("{group} agreed last time, on {day}: ask again, and write the new day here as agreed.")
            day = format_day(group.agreed, plan.sale.locale)
            yield Lesson.at("beneficiaries", group.name, "agreed", says.format(group=group.name, day=day))
    for good in wares_and_donated(plan):
        if good.spoken_for:
            says = _("{name}: last time {count} were spoken for; now nobody has asked for any yet.")
            said = says.format(name=good.name, count=good.spoken_for)
            yield Lesson.at(table_of(type(good)), good.code, "spoken_for", said)
    for given in plan.donated:
        says = _("{name}: planned as last time; ask {maker} first.")
        yield Lesson.at("donated", given.code, "count", says.format(name=given.name, maker=given.maker))
    for table in ("clays", "firings", "materials", "overheads"):
        for cost in getattr(plan, table):
            if cost.met_by == "sponsor":
                says = _("{name}: a sponsor paid it last time; ask again.").format(name=cost.name)
                yield Lesson.at(table, cost.name, "met_by", says)
    if plan.making.free_days:
        yield Lesson.at("making", "", "free_days", _("The days off of last time are left out."))


def _ware(ware: Ware, lessons: Lessons) -> Ware:
    taught_ = _with(ware, spoken_for=0) if ware.spoken_for else ware
    seen = seen_after(ware, lessons.losses)
    taught_ = _with(taught_, seen=seen) if seen != ware.seen else taught_
    for learned in lessons.demand:
        if learned.good == ware:
            return (
                _with(taught_, demand=learned.demand)
                if learned.demand
                else _with(taught_, sells=learned.sells)
            )
    return taught_


def _donated(given: Donated, lessons: Lessons) -> Donated:
    sells = next((seen.sells for seen in lessons.demand if seen.good == given), None)
    given = _with(given, spoken_for=0) if given.spoken_for else given
    return given if sells is None else _with(given, sells=sells)


def _with_costs(lessons: Lessons) -> dict[str, tuple[Record, ...]]:
    """Return the tables of costs with the prices that were really paid, and what nobody planned."""
    plan = lessons.plan
    paid = {
        id(source_of(seen.met, plan)): {PRICE_KEY[seen.met.line.kind]: seen.after} for seen in lessons.costs
    }
    tables: dict[str, tuple[Any, ...]] = {
        table: tuple(_with(cost, **paid.get(id(cost), {})) for cost in getattr(plan, table))
        for table in ("clays", "materials", "overheads")
    }
    return {**tables, "overheads": _with_unplanned(tables["overheads"], lessons.unplanned)}


def _with_unplanned(planned: Sequence[Overhead], unplanned: Sequence[Overhead]) -> tuple[Overhead, ...]:
    """Return costs with those that nobody planned, added where one has the name already.

    By its name a book knows what a cost really came to: with two alike it would count for both.
    """
    costs = list(planned)
    for more in unplanned:
        at = next((at for at, cost in enumerate(costs) if cost.name == more.name), None)
        if at is None:
            costs.append(more)
        else:
            costs[at] = _with(costs[at], amount=costs[at].amount + more.amount)
    return tuple(costs)


def _with(record: R, **values: object) -> R:
    """Return a record with other values; what is as before stays as it was said, or unsaid."""
    changed = {key: value for key, value in values.items() if getattr(record, key) != value}
    return record.model_copy(update=changed) if changed else record


U = TypeVar("U", Material, Work)


def _still_used(records: Sequence[U], codes: frozenset[str]) -> tuple[U, ...]:
    """Return what is used on all pieces, or on some that there still are."""
    kept = (
        (one, tuple(code for code in one.wares if code in codes))
        for one in records
        if not one.wares or codes.intersection(one.wares)
    )
    return tuple(_with(one, wares=wares) for one, wares in kept)
