"""The answer of `salebook price --json`: one reckoning as plain values."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from datetime import date
from decimal import Decimal
from typing import Any

from salebook.forecast.must_fetch import MustFetch, must_fetch
from salebook.forecast.standing import planned_standing
from salebook.making.clay import ClayNeed
from salebook.making.days import Days, Task
from salebook.making.firing import FiringNeed
from salebook.making.losses import Run
from salebook.plan.money import rounded
from salebook.plan.notes import assumptions
from salebook.pricing.ladder import Rung
from salebook.reckoning import Reckoning

JsonObject = dict[str, Any]


def price_json(reckoning: Reckoning) -> JsonObject:
    """Return a reckoning as values that JSON holds: money as text with the currency's digits, counts whole.

    Lists stand in plan order. Hours, kilowatt hours, kilograms, expected pieces and chances are numbers,
    days texts such as "2027-06-12".
    """
    sale, advice = reckoning.plan.sale, reckoning.advice
    digits, studio = sale.digits, reckoning.studio
    return {
        "currency": sale.currency,
        "wares": [_ware(run) for run in studio.runs],
        "clays": [_clay(need, digits) for need in studio.clays],
        "firings": [_firing(need, digits) for need in studio.firings],
        "days": _days(reckoning.days),
        "hours": {"total": float(studio.hours.total), "value": json_money(studio.hours.value, digits)},
        "costs": _costs(reckoning),
        "break_even": asdict(advice.break_even),
        "target": _target(reckoning),
        "must_fetch": must_fetch_json(must_fetch(planned_standing(reckoning)), digits),
        "ladder": [_rung(rung, digits) for rung in advice.ladder],
        "share_out": [
            {"name": share.group.name, "expected": json_money(share.expected, digits)}
            for share in advice.share_out
        ],
        "assumed": list(assumptions(reckoning.plan)),
        "warnings": list(advice.warnings),
    }


def must_fetch_json(found: Sequence[MustFetch], digits: int) -> list[JsonObject]:
    """Return what each piece must fetch on each assumption; no change and no prices where no price does."""
    return [
        {
            "assuming": one.assuming,
            "change": None if one.change is None else float(one.change),
            "prices": json_prices(one.prices.firsts, digits),
            "seconds_prices": json_prices(one.prices.seconds, digits),
            "guessed": one.is_guessed,
        }
        for one in found
    ]


def json_prices(prices: Mapping[str, Decimal], digits: int) -> dict[str, str]:
    """Write prices by code."""
    return {code: json_money(price, digits) for code, price in prices.items()}


def json_money(amount: Decimal, digits: int) -> str:
    """Write an amount with so many digits after the point, halves rounded away from zero; never "-0.00"."""
    written = rounded(amount, digits)
    return format(written if written else abs(written), "f")


def _ware(run: Run) -> JsonObject:
    return {
        "code": run.ware.code,
        "wanted": run.ware.wanted,
        "started": run.started,
        "to_biscuit": run.to_biscuit,
        "to_glaze": run.to_glaze,
        "seconds": run.seconds,
        "for_sale": run.for_sale,
        "batches": run.batches,
        "chance_of_enough": run.chance_of_enough,
    }


def _clay(need: ClayNeed, digits: int) -> JsonObject:
    return {
        "name": need.clay.name,
        "kg": float(need.kg),
        "packs": need.packs,
        "cost": json_money(need.cost, digits),
    }


def _firing(need: FiringNeed, digits: int) -> JsonObject:
    return {
        "name": need.firing.name,
        "loads": need.loads,
        "hours": need.hours,
        "kwh": need.kwh,
        "cost": json_money(need.cost, digits),
        "peak_kw": need.peak_kw,
    }


def _days(days: Days) -> JsonObject:
    soonest = days.earliest or (None,) * len(days.latest)
    return {
        "today": _day(days.today),
        "sale_day": _day(days.sale_day),
        "begin_by": _day(days.begin_by),
        "last_day_to_throw": _day(days.last_day_to_throw),
        "first_firing": _day(days.first_firing),
        "last_firing": _day(days.last_firing),
        "days_in_hand": days.days_in_hand,
        "too_late": days.is_too_late,
        "instead": None
        if days.instead is None
        else {"sale_from": _day(days.instead.sale_from), "wanted": days.instead.wanted},
        "plan": [
            {
                "task": late.kind,
                "firing": late.firing,
                "loads": len(late.lit),
                "latest": _from_to(late),
                "soonest": _from_to(soon) if soon else None,
            }
            for late, soon in zip(days.latest, soonest, strict=True)
        ],
    }


def _from_to(task: Task) -> list[str | None]:
    return [_day(task.first), _day(task.last)]


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _costs(reckoning: Reckoning) -> JsonObject:
    digits, costs = reckoning.plan.sale.digits, reckoning.costs
    return {
        "lines": [
            {
                "name": line.name,
                "kind": line.kind,
                "total": json_money(line.total, digits),
                "met_by": line.met_by,
            }
            for line in costs.lines
        ],
        "met_by": {
            "maker": json_money(costs.met_by("maker"), digits),
            "sale": json_money(costs.met_by("sale"), digits),
            "sponsor": json_money(costs.met_by("sponsor"), digits),
        },
        "total": json_money(costs.total, digits),
    }


def _target(reckoning: Reckoning) -> JsonObject:
    digits, target = reckoning.plan.sale.digits, reckoning.advice.target
    return {
        "amount": json_money(target.amount, digits),
        "pieces_needed": target.pieces_needed,
        "for_sale": target.for_sale,
        "expected_sold": float(target.expected_sold),
        "expected_net": json_money(target.expected_net, digits),
        "chance": target.chance,
        "lowest_change": target.lowest_change,
        "best_change": target.best_change,
        "sure_change": target.sure_change,
    }


def _rung(rung: Rung, digits: int) -> JsonObject:
    return {
        "change": rung.change,
        "expected_sold": float(rung.expected_sold),
        "expected_net": json_money(rung.expected_net, digits),
        "chance": rung.chance,
        "prices": json_prices(rung.prices, digits),
        "seconds_prices": json_prices(rung.seconds_prices, digits),
    }
