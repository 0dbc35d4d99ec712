"""What a sale taught for the next one, line by line: what is expected now, from how many, and before."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final, NamedTuple

from babel.lists import format_list

from salebook.base.words import N_, _, ngettext
from salebook.forecast.learned.costs import PRICE_KEY, CostSeen
from salebook.forecast.learned.demand import Asked
from salebook.forecast.learned.energy import EnergySeen
from salebook.forecast.learned.lessons import Lessons
from salebook.forecast.learned.losses import LossSeen, LossStage
from salebook.forecast.learned.sold import DemandSeen
from salebook.plan.model import Demand, Donated, Overhead, Plan, Sale
from salebook.plan.money import rounded
from salebook.plan.piece_numbers import in_stretches
from salebook.plan.quantities import plain
from salebook.plan.tables import Place, table_of
from salebook.pricing.costing import Kind

LOST: Final[dict[LossStage, str]] = {
    "drying": N_("{name}, lost in drying: {after}, from {lost} of {entered} (planned: {before})."),
    "biscuit": N_(
        "{name}, lost in the biscuit firing: {after}, from {lost} of {entered} (planned: {before})."
    ),
    "glaze": N_("{name}, lost in the glaze firing: {after}, from {lost} of {entered} (planned: {before})."),
    "seconds": N_("{name}, seconds: {after}, from {lost} of {entered} (planned: {before})."),
}
COUNTS_AS: Final = N_(
    "One firing spoils many at once: of {name} these {entered} count as {counts_as} in the {firing} firing."
)
SURE: Final = Decimal("0.99")
TABLES: Final[dict[Kind, str]] = {
    "clay": "clays",
    "firing": "firings",
    "material": "materials",
    "overhead": "overheads",
}


class Lesson(NamedTuple):
    """One line of what was learned, and where in the plan it belongs."""

    place: Place
    says: str

    @classmethod
    def at(cls, table: str, record: str, key: str, says: str) -> "Lesson":
        """Return a line about a key of a record."""
        return cls(Place(table, record, key), says)


def lessons_in_words(lessons: Lessons) -> tuple[Lesson, ...]:
    """Say all that was learned, in plan order."""
    sale = lessons.plan.sale
    return (
        *(lesson for seen in lessons.losses for lesson in _of_losses(seen)),
        *_of_days(lessons),
        *(lesson for seen in lessons.demand for lesson in _of_demand(seen, sale)),
        *(_of_energy(seen) for seen in lessons.energy),
        *(_of_cost(seen, sale) for seen in lessons.costs),
        *(_of_unplanned(cost, sale) for cost in lessons.unplanned),
        *_of_pieces_left(lessons),
    )


def not_learned(lessons: Lessons) -> tuple[str, ...]:
    """Say what stays as it was planned, and why."""
    return tuple(_not_learned(lessons))


def percent(share: Decimal) -> str:
    """Say a share in tenths of a per cent: "9.7 %"."""
    return f"{plain(rounded(share * 100, 1))} %"


def _of_losses(seen: LossSeen) -> Iterator[Lesson]:
    place = Place("wares", seen.ware.code, "seen")
    says = _(LOST[seen.stage]).format(
        name=seen.ware.name,
        after=percent(seen.after),
        lost=seen.lost,
        entered=seen.entered,
        before=percent(seen.before),
    )
    yield Lesson(place, says)
    if seen.is_discounted:
        counts_as, firing = plain(rounded(seen.counts_as, 1)), seen.stage
        says = _(COUNTS_AS).format(
            name=seen.ware.name, entered=seen.entered, counts_as=counts_as, firing=firing
        )
        yield Lesson(place, says)


def _of_demand(seen: DemandSeen, sale: Sale) -> Iterator[Lesson]:
    good = seen.good
    place = Place(table_of(type(good)), good.code, "demand" if seen.demand else "sells")
    for asked, before, after in zip(seen.asked, seen.before, seen.after, strict=True):
        yield Lesson(place, _sold_in_words(seen, asked, before, after, sale))
    if seen.cheaper:
        says = ngettext(
            "{name}: {count} went for less than {price}, and counts as not sold at it.",
            "{name}: {count} went for less than {price}, and count as not sold at it.",
            seen.cheaper,
        )
        yield Lesson(
            place, says.format(name=good.name, count=seen.cheaper, price=sale.format_money(good.price))
        )
    if seen.demand and not isinstance(good, Donated):
        says = _("{name}, other prices moved along: {after} (planned: {before}).")
        after_, before_ = (_points_in_words(points, sale) for points in (seen.demand, good.demand))
        yield Lesson(place, says.format(name=good.name, after=after_, before=before_))


def _sold_in_words(seen: DemandSeen, asked: Asked, before: Decimal, after: Decimal, sale: Sale) -> str:
    counts_as = rounded(asked.counts_as, 1)
    says = _("{name} at {price}: {after} sell, from {sold} of {offered} (planned: {before}).")
    if asked.is_sold_out:
        says = _(
            "{name} at {price}: sold out, so at least {after} sell, from {sold} of {offered} "
            "(planned: {before})."
        )
    elif counts_as != asked.offered:
        says = _(
            "{name} at {price}: {after} sell, from {sold} of {offered}, which on such a day count as "
            "{counts_as} (planned: {before})."
        )
    return says.format(
        name=seen.good.name,
        price=sale.format_money(asked.price),
        after=percent(after),
        sold=asked.sold,
        offered=asked.offered,
        counts_as=plain(counts_as),
        before=percent(before),
    )


def _points_in_words(points: Demand, sale: Sale) -> str:
    says = _("{share} at {price}")
    each = [says.format(share=percent(point.share), price=sale.format_money(point.price)) for point in points]
    return format_list(each, locale=sale.locale)


def _of_days(lessons: Lessons) -> Iterator[Lesson]:
    says = _(
        "Kind of day by what sold: “{name}”, {chance} likely; it weighs {after} from now on "
        "(planned: {before})."
    )
    for seen in lessons.days:
        if seen.weight != seen.outlook.weight:
            said = says.format(
                name=seen.outlook.name,
                chance=_likely(seen.chance),
                after=plain(seen.weight),
                before=plain(seen.outlook.weight),
            )
            yield Lesson(Place("outlooks", seen.outlook.name, "weight"), said)


def _likely(chance: Decimal) -> str:
    """Say a chance in whole per cent; nothing is certain."""
    if chance > SURE:
        return _("more than 99 %")
    if chance < 1 - SURE:
        return _("less than 1 %")
    return _("{percent} %").format(percent=rounded(chance * 100, 0))


def _of_energy(seen: EnergySeen) -> Lesson:
    place = Place("firings", seen.firing.name, "metered_kwh")
    says = _(
        "{name}: {after} kWh a load, by the meter (loads read: {metered} of {done}; planned: {before} kWh)."
    )
    if seen.is_calibration:
        place = Place("kiln", "", "calibration")
        says = _(
            "{name}: {after} kWh a load, by the meter (loads read: {metered} of {done}; planned: {before} "
            "kWh); this sets the estimates of all firings right."
        )
    said = says.format(
        name=seen.firing.name,
        after=plain(seen.after),
        metered=len(seen.seen.metered),
        done=len(seen.seen.done),
        before=plain(seen.before),
    )
    return Lesson(place, said)


def _of_cost(seen: CostSeen, sale: Sale) -> Lesson:
    line = seen.met.line
    says = _(
        "{name}: {after} each, since {actual} was paid where {planned} was planned (last time: {before})."
    )
    if line.kind == "overhead":
        says = _("{name}: {after}, as it really cost (planned: {before}).")
    elif seen.more_were_bought:
        says = _(
            "{name}: {actual} was paid where {planned} was planned, for another number at {before} each."
        )
    said = says.format(
        name=line.name,
        after=sale.format_money(seen.after),
        actual=sale.format_money(seen.met.amount),
        planned=sale.format_money(seen.planned),
        before=sale.format_money(seen.before),
    )
    return Lesson(Place(TABLES[line.kind], line.name, PRICE_KEY[line.kind]), said)


def _of_unplanned(cost: Overhead, sale: Sale) -> Lesson:
    says = _("{name}: {amount} was spent that nobody planned; now it is planned.")
    said = says.format(name=cost.name, amount=sale.format_money(cost.amount))
    return Lesson.at("overheads", cost.name, "amount", said)


def _of_pieces_left(lessons: Lessons) -> Iterator[Lesson]:
    for pieces in lessons.carried:
        says = _("Left over and carried along: {name} at {price}, {numbers} ({count}).")
        if pieces.second:
            says = _("Left over and carried along, seconds: {name} at {price}, {numbers} ({count}).")
        said = says.format(
            name=pieces.name,
            price=lessons.plan.sale.format_money(pieces.price),
            numbers=in_stretches(pieces.numbers),
            count=pieces.count,
        )
        yield Lesson(Place("carried", pieces.code), said)


def _not_learned(lessons: Lessons) -> Iterator[str]:
    plan = lessons.plan
    tallied = {seen.ware.code for seen in lessons.losses}
    if untold := [ware.name for ware in plan.wares if ware.code not in tallied]:
        says = _("Nobody filled in the studio tally of these, so their losses stay as planned: {names}.")
        yield says.format(names=_listed(untold, plan))
    if tallied:
        yield _("What is lost in throwing stays as planned: nobody counts the balls before it.")
    yield from _not_sold(lessons)
    for met in lessons.costs_of_firing:
        says = _(
            "{name}: {actual} was paid, planned was {planned}; a sum does not say whether more was used or "
            "its price is higher, so nothing is learned from it."
        )
        money = plan.sale.format_money
        yield says.format(name=met.line.name, actual=money(met.amount), planned=money(met.line.total))
    if plan.firings and not lessons.energy:
        yield _("No meter reading stands beside a firing: what firings take stays as planned.")
    if plan.work:
        yield _("How long the work took is not in a book: the minutes stay as planned.")


def _not_sold(lessons: Lessons) -> Iterator[str]:
    if not lessons.forecast.is_over:
        yield _(
            "The sale is not over yet: what sells is learned, and what is left carried, after its last day."
        )
    elif not lessons.has_sold:
        yield _("No line of takings tells what sold: how many buy stays as planned.")
    elif len(lessons.plan.outlooks) > 1 and not lessons.days:
        yield _("What sold fits none of the plan's kinds of day: their weights stay.")
    if lessons.presumed:
        says = _("Nobody counted these out of the kiln; they are taken to have been there: {names}.")
        yield says.format(names=_listed(lessons.presumed, lessons.plan))
    if lessons.held:
        says = _("Not carried, since they wait for somebody: {numbers}.")
        yield says.format(numbers=in_stretches(lessons.held))
    for name, count in lessons.without_number:
        says = _("{name}: {count} are left; pieces without numbers are not carried.")
        yield says.format(name=name, count=count)


def _listed(names: Sequence[str], plan: Plan) -> str:
    return format_list(list(names), locale=plan.sale.locale)
