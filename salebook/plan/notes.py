"""What was assumed because the plan did not say it, and what in it may not be meant: for a person to read."""

from collections.abc import Iterator
from datetime import time
from decimal import Decimal

from salebook.base.words import _, ngettext
from salebook.plan.faults import ARROW
from salebook.plan.keys import Record, keys_of
from salebook.plan.model import USUAL_LOSSES, USUAL_SELLS, Clay, Plan
from salebook.plan.quantities import Quantity, plain
from salebook.plan.tables import table_of

LEAST_DRYING, MOST_DRYING = Decimal("0.3"), Decimal("0.8")
"""Drying is usually between these shares of all shrinkage (common practice, no source)."""


def assumptions(plan: Plan) -> tuple[str, ...]:
    """Return a sentence for each thing that was assumed, with its place in the plan, in plan order."""
    return (
        *_assumed_of_sale(plan),
        *_assumed_of_clays(plan),
        *_assumed_of_wares(plan),
        *_assumed_of_donated(plan),
        *_assumed_of_carried(plan),
        *_assumed_of_making(plan),
        *_assumed_of_kiln(plan),
        *_assumed_of_firings(plan),
        *_assumed_of_money(plan),
        *_assumed_of_the_day(plan),
    )


def warnings(plan: Plan) -> tuple[str, ...]:
    """Return a sentence for each thing in a plan that stands, but may not be meant, in plan order."""
    return (
        *_groups_that_have_not_agreed(plan),
        *_odd_drying(plan),
        *_prices_off_the_step(plan),
        *_odd_seconds(plan),
        *_rising_demand(plan),
        *_fees_above_prices(plan),
        *_keys_without_effect(plan),
    )


def _at(place: str, says: str, **words: object) -> str:
    return f"{in_words(place)}: {says.format(**words)}"


def in_words(place: str) -> str:
    """Say a place in the plan with the headings of the sheet Plan, up to a comma, a name as it stands.

    "wares → MUG → seconds_price" is "MUG → Price of a second", "kiln → gap" is "The kiln → Between pieces".
    """
    record: type[Record] = Plan
    said: list[str] = []
    for part in place.split(ARROW):
        found = next((key for key in keys_of(record) if key.name == part), None)
        # A name says by itself of which table it is.
        said = [*said, _(found.words.label).partition(",")[0]] if found else [part]
        record = (found and found.inside) or record
    return ARROW.join(said)


def _left_out(place: str, record: Record, key: str, says: str) -> Iterator[str]:
    """Yield a sentence where a record does not say a key; {value} in it is what is taken instead."""
    if key not in record.model_fields_set:
        yield _at(f"{place}{ARROW}{key}", says, value=_shown(getattr(record, key)))


def _shown(value: object) -> str:
    match value:
        case Decimal():
            return f"{plain(value * 100)} %"
        case Quantity():
            return value.to_text()
        case time():
            return value.isoformat("minutes")
    return str(value)


def _assumed_of_sale(plan: Plan) -> Iterator[str]:
    sale = plan.sale
    if sale.price_step_given is None:
        says = _("prices are proposed in steps of {step}.")
        yield _at("sale → price_step", says, step=sale.format_money(sale.price_step))
    yield from _left_out(
        "sale",
        sale,
        "confidence",
        _("so many are started that enough come out good with a chance of {value}."),
    )
    if len(plan.beneficiaries) > 1 and not any("parts" in g.model_fields_set for g in plan.beneficiaries):
        yield _at("beneficiaries → parts", _("all groups share alike."))


def _assumed_of_clays(plan: Plan) -> Iterator[str]:
    for clay in plan.clays:
        place = f"clays → {clay.name}"
        if clay.drying_shrinkage_given is None and clay.shrinkage:
            says = _("it shrinks {share} until it is dry, half of all its shrinkage (common practice).")
            yield _at(f"{place} → drying_shrinkage", says, share=_shown(clay.drying_shrinkage))
        yield from _left_out(place, clay, "waste", _("{value} more clay for trimmings and spoiled pieces."))
        if plan.firings:
            yield from _left_out(place, clay, "dry_fraction", _("dry clay weighs {value} of plastic clay."))


def _assumed_of_wares(plan: Plan) -> Iterator[str]:
    for ware in plan.wares:
        place = f"wares → {ware.code}"
        if ware.losses_given is None:
            says = _(
                "{throwing} in throwing, {drying} in drying, {biscuit} in biscuit, {glaze} in glaze "
                "(common practice)."
            )
            yield _at(f"{place} → losses", says, **{stage: _shown(share) for stage, share in USUAL_LOSSES})
        if not ware.demand:
            yield from _left_out(
                place, ware, "sells", _("{value} of them sell at their price, whatever it is.")
            )


def _assumed_of_donated(plan: Plan) -> Iterator[str]:
    for donated in plan.donated:
        place = f"donated → {donated.code}"
        yield from _left_out(place, donated, "sells", _("{value} of them sell at their price."))
        yield from _left_out(place, donated, "keeps", _("the giver takes nothing of the price back."))


def _assumed_of_carried(plan: Plan) -> Iterator[str]:
    for carried in plan.carried:
        if carried.sells_given is None and plan.ware_called(carried.stem) is None:
            says = _("{value} sell at their price.")
            yield _at(f"carried → {carried.code} → sells", says, value=_shown(USUAL_SELLS))


def _assumed_of_making(plan: Plan) -> Iterator[str]:
    making = plan.making
    if plan.wares:
        batch, days = making.batch, making.drying_days
        says = ngettext("{value} piece is thrown in one go.", "{value} pieces are thrown in one go.", batch)
        yield from _left_out("making", making, "batch", says)
        says = ngettext(
            "{value} day from leather hard to bone dry.", "{value} days from leather hard to bone dry.", days
        )
        yield from _left_out("making", making, "drying_days", says)


def _assumed_of_kiln(plan: Plan) -> Iterator[str]:
    kiln = plan.kiln
    if kiln is None:
        return
    for key in ("shelf_thickness", "clearance", "gap"):
        yield from _left_out("kiln", kiln, key, "{value}.")
    if kiln.has_walls:
        yield from _left_out("kiln", kiln, "furniture_kg", _("shelves and props take no heat."))
    says = ngettext(
        "{value} day to fire, cool and unload.", "{value} days to fire, cool and unload.", kiln.days_per_load
    )
    yield from _left_out("kiln", kiln, "days_per_load", says)


def _assumed_of_firings(plan: Plan) -> Iterator[str]:
    for firing in plan.firings:
        place = f"firings → {firing.name}"
        yield from _left_out(place, firing, "start", _("the kiln is lit at {value}."))
        if plan.kiln and not plan.kiln.has_walls and firing.on_share_given is None:
            says = _("the elements are on {share} of the time.")
            if plan.kiln.fuel == "gas":
                says = _("the burner is on {share} of the time.")
            yield _at(f"{place} → on_share", says, share=_shown(firing.on_share))


def _assumed_of_money(plan: Plan) -> Iterator[str]:
    if plan.work:
        yield from _left_out("hours", plan.hours, "rate", _("no worth is put on an hour."))
    for table in ("clays", "firings", "materials", "overheads"):
        silent = [line.name for line in getattr(plan, table) if "met_by" not in line.model_fields_set]
        if silent:
            yield _at(f"{table} → met_by", _("the maker pays for {names}."), names=", ".join(silent))


def _assumed_of_the_day(plan: Plan) -> Iterator[str]:
    if not plan.payments_given:
        yield _at("payments", _("everybody pays in cash."))
    if not plan.outlooks_given:
        yield _at("outlooks", _("there is one kind of day, and it goes as expected."))


def _groups_that_have_not_agreed(plan: Plan) -> Iterator[str]:
    says = _("no day is given on which the group agreed to its name, the parts and the costs taken off.")
    for group in plan.beneficiaries:
        if group.agreed is None:
            yield _at(f"beneficiaries → {group.name} → agreed", says)


def _odd_drying(plan: Plan) -> Iterator[str]:
    says = _("{drying} of {all} shrinkage before the biscuit firing is unusual; was it measured?")
    for clay in plan.clays:
        if clay.drying_shrinkage_given is not None and not _is_usual_drying(clay):
            sizes = {"drying": plain(clay.drying_shrinkage), "all": plain(clay.shrinkage)}
            yield _at(f"clays → {clay.name} → drying_shrinkage", says, **sizes)


def _is_usual_drying(clay: Clay) -> bool:
    least, most = LEAST_DRYING * clay.shrinkage, MOST_DRYING * clay.shrinkage
    return least <= clay.drying_shrinkage <= most


def _prices_off_the_step(plan: Plan) -> Iterator[str]:
    says = _("{price} is no whole number of steps of {step}; it stands as written.")
    sale = plan.sale
    for good in plan.goods:
        for key in ("price", "seconds_price"):
            price = getattr(good, key, None)
            if price is not None and price % sale.price_step:
                sums = {"price": sale.format_money(price), "step": sale.format_money(sale.price_step)}
                yield _at(f"{table_of(type(good))} → {good.code} → {key}", says, **sums)


def _odd_seconds(plan: Plan) -> Iterator[str]:
    for ware in plan.wares:
        place = f"wares → {ware.code} → seconds_price"
        if ware.seconds_price is not None and not ware.seconds:
            yield _at(place, _("there is a price for seconds, but none are expected."))
        if ware.seconds_price is not None and ware.seconds_price >= ware.price:
            yield _at(place, _("a second costs as much as a good piece, or more."))


def _rising_demand(plan: Plan) -> Iterator[str]:
    for ware in plan.wares:
        shares = [point.share for point in ware.demand]
        if shares != sorted(shares, reverse=True):
            says = _("more would sell at a higher price; is that meant?")
            yield _at(f"wares → {ware.code} → demand", says)


def _fees_above_prices(plan: Plan) -> Iterator[str]:
    for good in plan.goods:
        for way in plan.payments:
            if way.fee(good.price) > good.price:
                yield _at(good.code, _("paid by {way}, the fee is more than the price."), way=way.name)


def _keys_without_effect(plan: Plan) -> Iterator[str]:
    kiln = plan.kiln
    for key in ("burner_efficiency", "gas_kwh"):
        if kiln and kiln.fuel == "electric" and getattr(kiln, key) is not None:
            yield _at(f"kiln → {key}", _("not used, as the kiln is electric."))
    for firing in plan.firings:
        if kiln and kiln.has_walls and firing.on_share_given is not None:
            yield _at(f"firings → {firing.name} → on_share", _("not used, as the kiln's walls are given."))
