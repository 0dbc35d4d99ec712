"""Small sales for the tests: a plan by its keys, and a studio in which nothing is lost."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from salebook.making.hours import HoursNeed
from salebook.making.losses import Run
from salebook.making.studio import Studio
from salebook.plan.model import Plan, Ware
from salebook.pricing.advice import Advice, advise
from salebook.pricing.costing import Costs, cost_lines
from salebook.pricing.good import Good, goods_of

Keys = Mapping[str, Any]


def a_ware(code: str = "MUG", **keys: Any) -> Keys:
    """A ware's keys: ten pieces at 20.00 unless told otherwise."""
    usual = {"name": code.title(), "wanted": 10, "price": "20", "clay": "clay", "ball": "400 g"}
    return {"code": code, **usual, **keys}


def given(code: str = "D1", **keys: Any) -> Keys:
    """Donated pieces' keys: one piece at 40.00 unless told otherwise."""
    return {"code": code, "name": code, "maker": "A neighbour", "price": "40", **keys}


def a_plan(*, target: str = "100", sale: Keys | None = None, **tables: Any) -> Plan:
    """A plan with one group and one clay that costs nothing; `tables` are the plan's own."""
    clay = {"name": "clay", "pack": "10 kg", "pack_price": "0", "shrinkage": "0.1"}
    usual: dict[str, Any] = {
        "format": 1,
        "sale": {
            "title": "Open studio",
            "maker": "Millrace studio",
            "days": ["2027-05-08"],
            "target": target,
            **(sale or {}),
        },
        "beneficiaries": [{"name": "Village library"}],
        "clays": [clay],
    }
    return Plan.model_validate(usual | tables)


def a_run(ware: Ware, seconds: int = 0) -> Run:
    """A ware's way through a studio in which no piece is lost."""
    sold_seconds = 0 if ware.seconds_price is None else seconds
    started = ware.wanted + seconds
    return Run(
        ware=ware,
        surviving_share=Decimal(1),
        good_share=Decimal(1),
        started=started,
        to_biscuit=started,
        to_glaze=started,
        seconds=seconds,
        for_sale=ware.wanted + sold_seconds,
        batches=1,
        chance_of_enough=1.0,
    )


def a_studio(plan: Plan, *, seconds: Mapping[str, int] | None = None, hours: str = "0") -> Studio:
    """A studio that loses nothing and fires nothing; `hours` is what the work is worth."""
    runs = tuple(a_run(ware, (seconds or {}).get(ware.code, 0)) for ware in plan.wares)
    need = HoursNeed(lines=(), total=Decimal(0), value=Decimal(hours))
    return Studio(runs=runs, clays=(), sizes=(), loadings=(), firings=(), hours=need)


def costed(plan: Plan, studio: Studio | None = None) -> tuple[tuple[Good, ...], Costs]:
    """What a plan has for sale, and its costs."""
    studio = studio or a_studio(plan)
    costs = cost_lines(plan, studio)
    return goods_of(plan, studio.runs, costs), costs


def advice_on(plan: Plan, studio: Studio | None = None) -> Advice:
    """The advice on a plan."""
    studio = studio or a_studio(plan)
    return advise(plan, studio, cost_lines(plan, studio))


def for_each_sold(cost: str, *codes: str, met_by: str = "sale") -> Keys:
    """A material's keys: what each piece sold of some wares costs."""
    return {
        "name": f"for each {' '.join(codes) or 'piece'}",
        "amount": 1,
        "per": "piece sold",
        "wares": list(codes),
        "pack_amount": 1,
        "pack_price": cost,
        "met_by": met_by,
    }


def a_fixed_cost(amount: str, *, met_by: str = "sale") -> Keys:
    """An overhead's keys."""
    return {"name": "hall", "amount": amount, "met_by": met_by}
