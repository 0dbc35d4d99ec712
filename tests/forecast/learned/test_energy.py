"""What the meter said of firings sets the next plan's estimates right."""

from decimal import Decimal
from typing import Any

from salebook.forecast.learned.energy import energy_seen, firing_after, kiln_after
from salebook.making.firing_done import FiringDone
from salebook.plan.model import Calibration
from tests.support.past_sale import harbour, past

BISCUIT, GLAZE = harbour().plan.firings


def done(firing: str, *kwh: str) -> list[FiringDone]:
    return [FiringDone(firing=firing, before=Decimal(100), after=100 + Decimal(used)) for used in kwh]


def seen_of(*firings: FiringDone) -> Any:
    forecast = past(firings_done=firings)
    return energy_seen(forecast.reckoning, forecast.event)


def test_the_firing_that_was_metered_most_becomes_the_calibration() -> None:
    energy = seen_of(*done(BISCUIT.name, "50", "53"), *done(GLAZE.name, "81"), FiringDone(firing=GLAZE.name))
    assert [(each.after, each.is_calibration) for each in energy] == [
        (Decimal("51.5"), True),
        (Decimal("81.0"), False),
    ]
    kiln = harbour().plan.kiln
    assert kiln is not None
    assert kiln_after(kiln, energy).calibration == Calibration(
        firing=BISCUIT.name, metered_kwh=Decimal("51.5")
    )
    assert firing_after(BISCUIT, energy) == BISCUIT
    assert firing_after(GLAZE, energy).metered_kwh == 81


def test_a_meter_of_before_is_not_left_beside_the_new_one() -> None:
    metered = BISCUIT.model_copy(update={"metered_kwh": Decimal(60)})
    assert firing_after(metered, seen_of(*done(BISCUIT.name, "50"))).metered_kwh == 50


def test_firings_that_nobody_metered_say_nothing() -> None:
    kiln = harbour().plan.kiln
    assert kiln is not None
    assert seen_of(FiringDone(firing=BISCUIT.name, came_out=20)) == ()
    assert kiln_after(kiln, ()) == kiln
    assert firing_after(GLAZE, ()) == GLAZE


def test_a_meter_that_hardly_moved_says_nothing() -> None:
    assert seen_of(*done(BISCUIT.name, "0.01"), *done(GLAZE.name, "0")) == ()
