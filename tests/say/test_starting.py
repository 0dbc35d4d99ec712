from decimal import Decimal

from salebook.making.losses import run_of
from salebook.plan.model import Plan
from salebook.say.starting import starting_sentences
from tests.support.counted_plan import counted_vase
from tests.support.sound_plan import plan_with


def sentences(plan: Plan) -> list[str]:
    return list(starting_sentences([run_of(ware, plan) for ware in plan.wares]))


def test_how_sure_the_number_is_stands_beside_what_was_counted() -> None:
    assert sentences(plan_with(*counted_vase())) == [
        "Bud vase: 52 to start: 91 in 100 that 36 are good. Losses counted on earlier sales: "
        "in throwing 0 of 47, in drying 1 of 46, in the biscuit firing 1 of 45, in the glaze firing 5 of 44, "
        "seconds 4 of 39."
    ]


def test_pieces_that_stand_for_fewer_are_said_to_a_tenth() -> None:
    (said,) = sentences(plan_with(*counted_vase(glaze=[Decimal("1.567"), Decimal("13.793")])))
    assert said.endswith("Losses counted on earlier sales: in the glaze firing 1.6 of 13.8.")


def test_nothing_is_said_where_nothing_was_counted() -> None:
    assert sentences(plan_with()) == []
