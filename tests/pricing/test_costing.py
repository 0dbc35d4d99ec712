from collections.abc import Mapping
from decimal import Decimal
from typing import Any, get_args

import pytest

from salebook.making.clay import clay_needs
from salebook.making.firing import FiringNeed
from salebook.making.hours import HoursNeed
from salebook.making.loading import Loading
from salebook.making.losses import Run
from salebook.making.studio import Studio
from salebook.plan.model import Plan
from salebook.pricing.costing import KIND_WORDS, CostLine, Costs, Kind, cost_lines

PLAN: Mapping[str, Any] = {
    "format": 1,
    "sale": {"title": "Open studio", "maker": "Millrace", "days": ["2027-05-08"], "target": "1"},
    "beneficiaries": [{"name": "Village library"}],
    "clays": [{"name": "buff", "pack": "12.5 kg", "pack_price": "15.40", "shrinkage": "0.12"}],
    "wares": [
        {"code": "MUG", "name": "Mug", "wanted": 10, "price": "20", "clay": "buff", "ball": "400 g"},
        {"code": "JUG", "name": "Jug", "wanted": 4, "price": "40", "clay": "buff", "ball": "1 kg"},
    ],
    "donated": [{"code": "SPN", "name": "Spoon", "maker": "A neighbour", "price": "14", "count": 5}],
    "firings": [{"name": "glaze", "stage": "glaze", "steps": [{"rate": 100, "to": 1220}], "met_by": "sale"}],
}
NUMBERS = {"MUG": (14, 13, 12, 11), "JUG": (7, 6, 5, 4)}


def a_material(per: str, **keys: Any) -> Mapping[str, Any]:
    usual = {
        "name": "stuff",
        "amount": "3",
        "unit": "g",
        "per": per,
        "pack_amount": "10",
        "pack_price": "2.50",
    }
    return usual | keys


def a_plan(**tables: Any) -> Plan:
    return Plan.model_validate({**PLAN, **tables})


def a_studio(plan: Plan, *, hours: str = "0") -> Studio:
    runs = tuple(a_run(plan, code) for code in NUMBERS)
    firing = FiringNeed(
        firing=plan.firings[0],
        loads=2,
        ware_kg=9.0,
        hours=9.0,
        kwh=45.0,
        peak_kw=6.0,
        parts=(),
        cost_of_load=7.316,
        cost=Decimal("14.63"),
        correction=1.0,
        basis="walls",
    )
    return Studio(
        runs=runs,
        clays=tuple(clay_needs(plan, runs)),
        sizes=(),
        loadings=(a_loading(plan),),
        firings=(firing,),
        hours=HoursNeed(lines=(), total=Decimal(0), value=Decimal(hours)),
    )


def a_loading(plan: Plan) -> Loading:
    return Loading(stage=plan.firings[0].stage, per_shelf={}, loads=(), lower_bound=1, to_fire=2)


def a_run(plan: Plan, code: str) -> Run:
    ware = next(ware for ware in plan.wares if ware.code == code)
    started, to_biscuit, to_glaze, for_sale = NUMBERS[code]
    return Run(
        ware=ware,
        surviving_share=Decimal(1),
        good_share=Decimal(1),
        started=started,
        to_biscuit=to_biscuit,
        to_glaze=to_glaze,
        seconds=for_sale - ware.wanted,
        for_sale=for_sale,
        batches=2,
        chance_of_enough=0.9,
    )


def line_of(plan: Plan, name: str) -> CostLine:
    return next(line for line in cost_lines(plan, a_studio(plan)).lines if line.name == name)


def test_lines_stand_by_kind_and_in_plan_order() -> None:
    plan = a_plan(
        materials=[a_material("sale", name="tape"), a_material("sale", name="bags")],
        overheads=[{"name": "hall", "amount": "40"}, {"name": "posters", "amount": "8"}],
    )

    assert [(line.name, line.kind) for line in cost_lines(plan, a_studio(plan)).lines] == [
        ("buff", "clay"),
        ("glaze", "firing"),
        ("tape", "material"),
        ("bags", "material"),
        ("hall", "overhead"),
        ("posters", "overhead"),
    ]


@pytest.mark.parametrize(
    ("per", "wares", "count"),
    [
        ("piece started", [], 21),
        ("piece started", ["MUG"], 14),
        ("piece glazed", [], 17),
        ("piece glazed", ["JUG"], 5),
        ("piece finished", [], 15),
        ("piece sold", [], 20),
        ("piece sold", ["MUG"], 11),
        ("batch", [], 4),
        ("load", [], 2),
        ("sale", [], 1),
    ],
)
def test_a_material_is_used_by_the_amount_for_each(per: str, wares: list[str], count: int) -> None:
    plan = a_plan(
        materials=[a_material(per, wares=wares, pack_amount="1", pack_price="1", whole_packs=False)]
    )

    assert 3 * count == line_of(plan, "stuff").total


def test_whole_packs_are_bought_unless_told_otherwise() -> None:
    whole, loose = (
        line_of(a_plan(materials=[a_material("piece started", whole_packs=whole)]), "stuff")
        for whole in (True, False)
    )

    # 21 × 3 g of 10 g packs at 2.50
    assert (Decimal(7), "pack", Decimal("17.50")) == (whole.quantity, whole.unit, whole.total)
    assert (Decimal("6.3"), "pack", Decimal("15.75")) == (loose.quantity, loose.unit, loose.total)


@pytest.mark.parametrize("whole_packs", [True, False])
def test_what_each_piece_sold_takes_is_paid_by_the_amount_and_grows(whole_packs: bool) -> None:
    line = line_of(a_plan(materials=[a_material("piece sold", whole_packs=whole_packs)]), "stuff")

    assert (Decimal(20), Decimal("0.75"), Decimal("15.00"), Decimal("0.75")) == (
        line.quantity,
        line.unit_cost,
        line.total,
        line.per_piece_sold,
    )
    assert line.grows
    assert line.codes == ("MUG", "JUG", "SPN")


def test_only_what_each_piece_sold_takes_grows() -> None:
    plan = a_plan(materials=[a_material("piece started")], overheads=[{"name": "hall", "amount": "40"}])

    assert not any(line.grows for line in cost_lines(plan, a_studio(plan)).lines)


def test_what_does_not_grow_costs_nothing_for_a_piece_sold() -> None:
    plan = a_plan(materials=[a_material("batch")], overheads=[{"name": "hall", "amount": "40"}])

    assert [0, 0, 0, 0] == [line.per_piece_sold for line in cost_lines(plan, a_studio(plan)).lines]


def test_an_overhead_is_paid_once_for_the_sale() -> None:
    line = line_of(a_plan(overheads=[{"name": "hall", "amount": "40"}]), "hall")

    assert (Decimal(1), "sale", Decimal(40), Decimal(40)) == (
        line.quantity,
        line.unit,
        line.unit_cost,
        line.total,
    )


def test_there_is_a_word_for_every_kind_of_cost() -> None:
    assert get_args(Kind) == tuple(KIND_WORDS)


def test_donated_pieces_are_wrapped_only_where_no_ware_is_named() -> None:
    plan = a_plan(materials=[a_material("piece sold", name="bag"), a_material("piece sold", wares=["JUG"])])
    costs = cost_lines(plan, a_studio(plan))

    assert [Decimal("0.75"), Decimal("1.50"), Decimal("0.75")] == [
        costs.per_piece_sold(code, "spent") for code in ("MUG", "JUG", "SPN")
    ]


def test_clay_is_bought_by_the_bag_or_by_mass() -> None:
    by_bag = line_of(a_plan(), "buff")
    by_mass = line_of(a_plan(clays=[{**PLAN["clays"][0], "whole_packs": False}]), "buff")

    # (14 × 0.4 + 7 × 1) × 1.1 = 13.86 kg
    assert (Decimal(2), "bag", Decimal("30.80")) == (by_bag.quantity, by_bag.unit, by_bag.total)
    assert (Decimal("13.86"), "kg", Decimal("17.08")) == (by_mass.quantity, by_mass.unit, by_mass.total)
    assert Decimal("1.232") == by_mass.unit_cost


def test_a_firing_costs_all_its_loads() -> None:
    line = line_of(a_plan(), "glaze")

    assert (Decimal(2), "kiln load", Decimal("7.316"), Decimal("14.63"), "sale") == (
        line.quantity,
        line.unit,
        line.unit_cost,
        line.total,
        line.met_by,
    )


def costs_met_by_all() -> Costs:
    plan = a_plan(
        overheads=[
            {"name": "hall", "amount": "40", "met_by": "sale"},
            {"name": "posters", "amount": "8", "met_by": "sponsor"},
        ],
        materials=[
            a_material("piece sold", name="bag", met_by="sale"),
            a_material("piece sold", name="tag", met_by="sponsor"),
        ],
    )
    return cost_lines(plan, a_studio(plan, hours="142.20"))


def test_who_meets_what_adds_up_to_all() -> None:
    costs = costs_met_by_all()

    assert (Decimal("30.80"), Decimal("69.63"), Decimal("23.00")) == (
        costs.met_by("maker"),
        costs.met_by("sale"),
        costs.met_by("sponsor"),
    )
    assert Decimal("123.43") == costs.total


@pytest.mark.parametrize(("basis", "fixed"), [("sale", "54.63"), ("spent", "93.43"), ("full", "235.63")])
def test_fixed_costs_leave_out_what_grows_and_take_in_the_hours_last(basis: Any, fixed: str) -> None:
    assert Decimal(fixed) == costs_met_by_all().fixed(basis)


@pytest.mark.parametrize(("basis", "each"), [("sale", "0.75"), ("spent", "1.50"), ("full", "1.50")])
def test_what_a_sold_piece_costs_depends_on_the_basis(basis: Any, each: str) -> None:
    assert Decimal(each) == costs_met_by_all().per_piece_sold("MUG", basis)
