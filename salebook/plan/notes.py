"""What was assumed because the plan did not say it, and what in it may not be meant: for a person to read."""

from collections.abc import Iterable, Iterator
from decimal import Decimal

from salebook.base.words import _, ngettext
from salebook.plan.model import Clay, Donated, Plan, Ware
from salebook.plan.quantities import plain

LEAST_DRYING, MOST_DRYING = Decimal("0.3"), Decimal("0.8")
"""Drying is usually between these shares of all shrinkage (common practice, no source)."""


def assumptions(plan: Plan) -> tuple[str, ...]:
    """Return a sentence for each thing that was assumed, with its place in the plan, in plan order."""
    return (
        *_assumed_of_sale(plan),
        *_assumed_of_clays(plan),
        *_assumed_of_wares(plan),
        *_assumed_of_donated(plan),
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


def _assumed_of_sale(plan: Plan) -> Iterator[str]:
    if plan.sale.price_step_given is None:
        yield _("sale → price_step: prices are proposed in steps of {step}.").format(
            step=plan.sale.format_money(plan.sale.price_step)
        )
    if "confidence" not in plan.sale.model_fields_set:
        yield _("sale → confidence: enough good pieces with a chance of {chance}.").format(
            chance=_percent(plan.sale.confidence)
        )
    if len(plan.beneficiaries) > 1 and not any(
        "parts" in group.model_fields_set for group in plan.beneficiaries
    ):
        yield _("beneficiaries → parts: all groups share alike.")


def _assumed_of_clays(plan: Plan) -> Iterator[str]:
    for clay in plan.clays:
        place = _("clays → {name}").format(name=clay.name)
        if clay.drying_shrinkage_given is None and clay.shrinkage:
            yield _("{place} → drying_shrinkage: {share}, half of all shrinkage (common practice).").format(
                place=place, share=_percent(clay.drying_shrinkage)
            )
        if "waste" not in clay.model_fields_set:
            yield _("{place} → waste: {share} more clay for trimmings and spoiled pieces.").format(
                place=place, share=_percent(clay.waste)
            )
        if "dry_fraction" not in clay.model_fields_set and plan.firings:
            yield _("{place} → dry_fraction: dry clay weighs {share} of plastic clay.").format(
                place=place, share=_percent(clay.dry_fraction)
            )


def _assumed_of_wares(plan: Plan) -> Iterator[str]:
    for ware in plan.wares:
        if ware.losses_given is None:
            yield _("wares → {code} → losses: {losses} (common practice).").format(
                code=ware.code, losses=_losses_text(ware)
            )
        if not ware.demand and "sells" not in ware.model_fields_set:
            yield _("wares → {code} → sells: {share} sell at their price, whatever it is.").format(
                code=ware.code, share=_percent(ware.sells)
            )


def _losses_text(ware: Ware) -> str:
    losses = ware.losses
    return _("{throwing} in throwing, {drying} in drying, {biscuit} in biscuit, {glaze} in glaze").format(
        throwing=_percent(losses.throwing),
        drying=_percent(losses.drying),
        biscuit=_percent(losses.biscuit),
        glaze=_percent(losses.glaze),
    )


def _assumed_of_donated(plan: Plan) -> Iterator[str]:
    for donated in plan.donated:
        if "sells" not in donated.model_fields_set:
            yield _("donated → {code} → sells: {share} sell at their price.").format(
                code=donated.code, share=_percent(donated.sells)
            )
        if "keeps" not in donated.model_fields_set:
            yield _("donated → {code} → keeps: the giver takes nothing of the price back.").format(
                code=donated.code
            )


def _assumed_of_making(plan: Plan) -> Iterator[str]:
    given = plan.making.model_fields_set
    if plan.wares and "batch" not in given:
        says = ngettext(
            "making → batch: {count} piece is thrown in one go.",
            "making → batch: {count} pieces are thrown in one go.",
            plan.making.batch,
        )
        yield says.format(count=plan.making.batch)
    if plan.wares and "drying_days" not in given:
        says = ngettext(
            "making → drying_days: {count} day from leather hard to bone dry.",
            "making → drying_days: {count} days from leather hard to bone dry.",
            plan.making.drying_days,
        )
        yield says.format(count=plan.making.drying_days)


def _assumed_of_kiln(plan: Plan) -> Iterator[str]:
    if plan.kiln is None:
        return
    sizes = {
        "shelf_thickness": plan.kiln.shelf_thickness,
        "clearance": plan.kiln.clearance,
        "gap": plan.kiln.gap,
    }
    for key, length in sizes.items():
        if key not in plan.kiln.model_fields_set:
            yield _("kiln → {key}: {length}.").format(key=key, length=length.to_text())
    if "furniture_kg" not in plan.kiln.model_fields_set and plan.kiln.has_walls:
        yield _("kiln → furniture_kg: shelves and props take no heat.")
    if "days_per_load" not in plan.kiln.model_fields_set:
        says = ngettext(
            "kiln → days_per_load: {count} day to fire, cool and unload.",
            "kiln → days_per_load: {count} days to fire, cool and unload.",
            plan.kiln.days_per_load,
        )
        yield says.format(count=plan.kiln.days_per_load)


def _assumed_of_firings(plan: Plan) -> Iterator[str]:
    for firing in plan.firings:
        if "start" not in firing.model_fields_set:
            yield _("firings → {name} → start: at {start}.").format(
                name=firing.name, start=firing.start.isoformat("minutes")
            )
        if plan.kiln and not plan.kiln.has_walls and firing.on_share_given is None:
            says = (
                _("firings → {name} → on_share: the burner is on {share} of the time.")
                if plan.kiln.fuel == "gas"
                else _("firings → {name} → on_share: the elements are on {share} of the time.")
            )
            yield says.format(name=firing.name, share=_percent(firing.on_share))


def _assumed_of_money(plan: Plan) -> Iterator[str]:
    if plan.work and "rate" not in plan.hours.model_fields_set:
        yield _("hours → rate: no worth is put on an hour.")
    costs = {
        "clays": [(clay.name, clay.model_fields_set) for clay in plan.clays],
        "firings": [(firing.name, firing.model_fields_set) for firing in plan.firings],
        "materials": [(material.name, material.model_fields_set) for material in plan.materials],
        "overheads": [(overhead.name, overhead.model_fields_set) for overhead in plan.overheads],
    }
    for table, lines in costs.items():
        if silent := [name for name, given in lines if "met_by" not in given]:
            yield _("{table} → met_by: the maker pays for {names}.").format(
                table=table, names=", ".join(silent)
            )


def _assumed_of_the_day(plan: Plan) -> Iterator[str]:
    if not plan.payments_given:
        yield _("payments: everybody pays in cash.")
    if not plan.outlooks_given:
        yield _("outlooks: one kind of day, which goes as expected.")


def _groups_that_have_not_agreed(plan: Plan) -> Iterator[str]:
    for group in plan.beneficiaries:
        if group.agreed is None:
            yield _(
                "beneficiaries → {name} → agreed: no day is given on which the group agreed to its name, "
                "the parts and the costs taken off."
            ).format(name=group.name)


def _odd_drying(plan: Plan) -> Iterator[str]:
    for clay in plan.clays:
        if clay.drying_shrinkage_given is not None and not _is_usual_drying(clay):
            yield _(
                "clays → {name} → drying_shrinkage: {drying} of {all} shrinkage before the biscuit firing is "
                "unusual; was it measured?"
            ).format(name=clay.name, drying=plain(clay.drying_shrinkage), all=plain(clay.shrinkage))


def _is_usual_drying(clay: Clay) -> bool:
    least, most = LEAST_DRYING * clay.shrinkage, MOST_DRYING * clay.shrinkage
    return least <= clay.drying_shrinkage <= most


def _prices_off_the_step(plan: Plan) -> Iterator[str]:
    step = plan.sale.price_step
    goods: Iterable[Ware | Donated] = (*plan.wares, *plan.donated)
    for good in goods:
        for key in ("price", "seconds_price"):
            price = getattr(good, key, None)
            if price is not None and price % step:
                yield _(
                    "{code} → {key}: {price} is no whole number of steps of {step}; it stands as written."
                ).format(
                    code=good.code,
                    key=key,
                    price=plan.sale.format_money(price),
                    step=plan.sale.format_money(step),
                )


def _odd_seconds(plan: Plan) -> Iterator[str]:
    for ware in plan.wares:
        place = _("wares → {code} → seconds_price").format(code=ware.code)
        if ware.seconds_price is not None and not ware.seconds:
            yield _("{place}: there is a price for seconds, but none are expected.").format(place=place)
        if ware.seconds_price is not None and ware.seconds_price >= ware.price:
            yield _("{place}: a second costs as much as a good piece, or more.").format(place=place)


def _rising_demand(plan: Plan) -> Iterator[str]:
    for ware in plan.wares:
        shares = [point.share for point in ware.demand]
        if shares != sorted(shares, reverse=True):
            yield _("wares → {code} → demand: more would sell at a higher price; is that meant?").format(
                code=ware.code
            )


def _fees_above_prices(plan: Plan) -> Iterator[str]:
    goods: Iterable[Ware | Donated] = (*plan.wares, *plan.donated)
    for good in goods:
        for way in plan.payments:
            if way.fee(good.price) > good.price:
                yield _("{code}: paid by {way}, the fee is more than the price.").format(
                    code=good.code, way=way.name
                )


def _keys_without_effect(plan: Plan) -> Iterator[str]:
    kiln = plan.kiln
    if kiln and kiln.fuel == "electric" and kiln.burner_efficiency is not None:
        yield _("kiln → burner_efficiency: not used, as the kiln is electric.")
    for firing in plan.firings:
        if kiln and kiln.has_walls and firing.on_share_given is not None:
            yield _("firings → {name} → on_share: not used, as the kiln's walls are given.").format(
                name=firing.name
            )


def _percent(share: Decimal) -> str:
    return f"{plain(share * 100)} %"
