from decimal import Decimal

from salebook.pricing.good import Prices, contribution_on, goods_of
from tests.support.priced_sales import a_fixed_cost, a_plan, a_studio, a_ware, costed, for_each_sold, given

WARES = [
    a_ware("VASE", wanted=24, price="18", demand=[["12", "0.95"], ["24", "0.35"]]),
    a_ware("POT", wanted=20, price="26", seconds="0.1", seconds_price="15", sells="0.7", spoken_for=3),
]


def test_goods_stand_in_plan_order_each_wares_seconds_after_its_firsts() -> None:
    plan = a_plan(wares=WARES, donated=[given("SPN", count=5)])
    goods, _costs = costed(plan, a_studio(plan, seconds={"VASE": 1, "POT": 2}))

    assert [(good.code, good.grade, good.count) for good in goods] == [
        ("VASE", "first", 24),
        ("POT", "first", 20),
        ("POT", "second", 2),
        ("SPN", "donated", 5),
    ]


def test_seconds_sell_like_their_ware_at_a_price_of_their_own() -> None:
    plan = a_plan(wares=WARES)
    goods, _costs = costed(plan, a_studio(plan, seconds={"POT": 2}))
    first, second = goods[1:]

    assert (first.share, Decimal(15), 0) == (second.share, second.price, second.sure)


def test_what_a_piece_brings_is_its_price_less_keeps_fee_and_costs() -> None:
    plan = a_plan(
        donated=[given("SPN", price="14", keeps="0.25", count=5)],
        payments=[{"name": "card", "percent": "1.69", "fixed": "0.10"}],
        materials=[for_each_sold("0.28"), for_each_sold("0.40", met_by="maker")],
    )
    goods, costs = costed(plan)

    assert Decimal("14") * Decimal("0.75") - Decimal("0.3366") - Decimal("0.28") == goods[0].contribution
    assert goods[0].contribution == contribution_on(goods[0], costs, "sale")
    assert goods[0].contribution - Decimal("0.40") == contribution_on(goods[0], costs, "spent")
    assert goods[0].contribution - Decimal("0.40") == contribution_on(goods[0], costs, "full")


def test_a_fixed_cost_is_no_part_of_what_a_piece_brings() -> None:
    goods, _costs = costed(a_plan(wares=[a_ware()], overheads=[a_fixed_cost("500")]))

    assert Decimal(20) == goods[0].contribution


def test_at_another_price_another_share_sells_and_seconds_follow() -> None:
    plan = a_plan(
        wares=[a_ware("VASE", price="12", seconds_price="6", demand=[["12", "0.9"], ["24", "0.3"]])]
    )
    studio = a_studio(plan, seconds={"VASE": 4})
    _goods, costs = costed(plan, studio)
    dearer = Prices(firsts={"VASE": Decimal(18)}, seconds={"VASE": Decimal(9)})
    first, second = goods_of(plan, studio.runs, costs, dearer)

    assert [(Decimal(18), Decimal("0.6")), (Decimal(9), Decimal("0.6"))] == [
        (first.price, first.share),
        (second.price, second.share),
    ]


def test_no_more_pieces_are_sure_to_sell_than_there_are() -> None:
    goods, _costs = costed(a_plan(wares=[a_ware(wanted=5, spoken_for=9)]))

    assert (5, Decimal(5)) == (goods[0].sure, goods[0].expected_sold)


def test_pieces_spoken_for_are_sold_beside_the_share_of_the_others() -> None:
    goods, _costs = costed(a_plan(wares=[a_ware(wanted=20, spoken_for=3, sells="0.7")]))

    assert 3 + 17 * Decimal("0.7") == goods[0].expected_sold
