from decimal import Decimal

import pytest

from salebook.making.firing_done import (
    FiringDone,
    FiringSeen,
    firings_differ,
    firings_seen,
    stages_seen,
)
from salebook.making.studio import plan_studio
from salebook.making.studio_tally import StudioCount
from salebook.plan.model import Kiln, Plan, Stage
from tests.support.sound_plan import Place, plan_with

TWO_LOADS: dict[Stage, int] = {"biscuit": 2, "glaze": 3}
FLAT: tuple[Place, object] = (
    ("energy", "rates"),
    [{"from": "00:00", "to": "24:00", "price": Decimal("0.2")}],
)
GAS: list[tuple[Place, object]] = [
    (("kiln", "fuel"), "gas"),
    (("kiln", "burner_efficiency"), Decimal("0.25")),
]


def kiln_with(*changes: tuple[Place, object]) -> Kiln:
    kiln = plan_with(*changes).kiln
    assert kiln is not None
    return kiln


def done(firing: str, before: str = "", after: str = "") -> FiringDone:
    read = [Decimal(reading) if reading else None for reading in (before, after)]
    return FiringDone(firing=firing, before=read[0], after=read[1])


def seen_with(*lines: FiringDone) -> tuple[Plan, tuple[FiringSeen, ...]]:
    plan = plan_with(FLAT)
    return plan, firings_seen(plan, plan_studio(plan, loads=TWO_LOADS).firings, lines)


@pytest.mark.parametrize(
    ("changes", "readings", "kwh"),
    [
        ([], ("20417.3", "20471.9"), Decimal("54.6")),
        ([], ("20417.3", ""), None),
        ([], ("20471.9", "20417.3"), None),
        ([*GAS, (("kiln", "gas_kwh"), Decimal(11))], ("812.5", "830.5"), Decimal(198)),
        ([*GAS, (("kiln", "gas_kwh"), Decimal(14))], ("46.5", "32"), Decimal(203)),
        (GAS, ("812.5", "830.5"), None),
    ],
    ids=["electric", "no reading after", "running back", "a gas meter", "a bottle", "gas of unknown energy"],
)
def test_a_firing_took_what_the_meter_went_on_or_the_bottle_lost(
    changes: list[tuple[Place, object]], readings: tuple[str, str], kwh: Decimal | None
) -> None:
    assert done("biscuit", *readings).kwh(kiln_with(*changes)) == kwh


def test_loads_without_a_reading_and_those_to_come_count_by_the_mean_of_those_with_one() -> None:
    """50 and 60 kWh have a mean of 55; at 0.20 a load costs 11: three are done, none is left of two."""
    lines = (done("Biscuit", "100", "150"), done("biscuit", "150", "210"), done("biscuit"), done("lustre"))
    _plan, (biscuit, glaze) = seen_with(*lines)
    assert [biscuit.mean_kwh, len(biscuit.done), biscuit.left] == [pytest.approx(55), 3, 0]
    assert [biscuit.so_far, biscuit.ahead, biscuit.in_all] == [33, 0, 33]
    assert [glaze.mean_kwh, glaze.left, glaze.so_far] == [None, 3, 0]
    assert glaze.in_all == glaze.need.cost


@pytest.mark.parametrize(
    ("biscuit", "glaze", "differs"),
    [
        ([(20, 1), (9, 1)], [(17, 2)], False),
        ([(20, 1), (8, 1)], [(17, 2)], True),
        ([(20, 1), (9, 1)], [(16, 3)], True),
        ([(20, 1), (9, 1)], [(17, 9)], True),
        ([(20, 1), (None, None)], [], False),
        ([], [], False),
    ],
    ids=["alike", "biscuit", "glaze", "more lost than broken", "a load not counted", "none done"],
)
def test_what_came_out_is_set_against_the_tally_where_both_counted_all(
    biscuit: list[tuple[int | None, int | None]], glaze: list[tuple[int | None, int | None]], differs: bool
) -> None:
    codes = [ware.code for ware in plan_with().wares]
    first = StudioCount(biscuit=29, good=15, seconds=2, broken=4)
    others = StudioCount(biscuit=0, good=0, broken=0)
    counts = {code: first if n == 0 else others for n, code in enumerate(codes)}
    lines = [
        FiringDone(firing=firing, came_out=out, lost=lost)
        for firing, of_it in (("biscuit", biscuit), ("glaze", glaze))
        for out, lost in of_it
    ]
    plan, seen = seen_with(*lines)
    assert firings_differ(plan, stages_seen(plan, seen, counts), counts) is differs
    assert firings_differ(plan, stages_seen(plan, seen, {}), {}) is False
