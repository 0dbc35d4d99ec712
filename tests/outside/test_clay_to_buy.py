"""Clay with waste, in whole bags, against worked examples of a trade that buys in the same way.

No textbook of pottery with a worked purchase was found. Flooring is ordered with a share of waste and comes
in whole boxes: a square foot stands for a kilogram here. Sources beside each line.
"""

from decimal import Decimal

import pytest

from salebook.making.studio import plan_studio
from tests.support.sound_plan import plan_with

NO_LOSS = dict.fromkeys(("throwing", "drying", "biscuit", "glaze"), Decimal(0))


@pytest.mark.parametrize(
    ("used", "waste", "pack", "ordered", "packs"),
    [
        pytest.param(
            120, "0.10", "24", "132", 6, id="laminatefloorings.net, Measuring for laminate flooring"
        ),
        pytest.param(180, "0.08", "20", "194.4", 10, id="constructioncalchq.com, How to estimate flooring"),
        pytest.param(540, "0.05", "45", "567", 13, id="algebra.com, question 1197556"),
    ],
)
def test_what_is_used_and_wasted_is_bought_in_whole_packs(
    used: int, waste: str, pack: str, ordered: str, packs: int
) -> None:
    plan = plan_with(
        (("wares", 0, "wanted"), used),
        (("wares", 0, "ball"), "1 kg"),
        (("wares", 0, "losses"), NO_LOSS),
        (("wares", 0, "seconds"), 0),
        (("clays", 0, "waste"), Decimal(waste)),
        (("clays", 0, "pack"), f"{pack} kg"),
    )
    alone = plan.model_copy(update={"wares": plan.wares[:1]})
    need = plan_studio(alone).clays[0]
    assert (Decimal(ordered), packs) == (need.kg, need.packs)
