"""Shrinkage against the test method of the trade, and sizes that follow from it.

Source: ASTM C326, Drying and Firing Shrinkages of Ceramic Whiteware Clays: linear shrinkage is a share of the
plastic length. Its scope, its use for the size of moulds and its bars were read; its clauses on calculation
are from memory (a laboratory course in ceramics, MSE 111, activity 8, has the same formulas). The numbers
below are worked from them.
"""

from decimal import Decimal

import pytest

from salebook.making.clay import fired_from, made_from, sizes_of
from salebook.plan.quantities import Length
from tests.support.sound_plan import GONE, plan_with


@pytest.mark.parametrize(
    ("made", "shrinkage", "fired"),
    [
        ("102", "0.12", "89.76"),  # gauge marks of the standard's bars, 102 mm apart
        ("5", "0.10", "4.5"),  # a coil of 5 in fires to 4.5 in (common practice, no source)
        ("100", "0.15", "85"),  # a porcelain body shrinks 15 % (common practice, no source)
    ],
)
def test_the_fired_length_is_the_plastic_length_less_its_share(made: str, shrinkage: str, fired: str) -> None:
    assert fired_from(Decimal(made), Decimal(shrinkage)) == Decimal(fired)


@pytest.mark.parametrize(
    ("fired", "shrinkage", "made"),
    [("250", "0.12", 284.0909), ("88", "0.12", 100), ("300", "0.125", 342.857)],
)
def test_the_making_size_divides_and_does_not_add(fired: str, shrinkage: str, made: float) -> None:
    assert float(made_from(Decimal(fired), Decimal(shrinkage))) == pytest.approx(made, abs=5e-4)


@pytest.mark.parametrize(
    ("linear", "volume"),
    [
        ("0.05", "0.142625"),
        ("0.08", "0.221312"),
        ("0.10", "0.271"),
        ("0.12", "0.318528"),
        ("0.125", "0.330078"),
    ],
)
def test_volume_shrinks_by_the_cube(linear: str, volume: str) -> None:
    assert float(1 - fired_from(Decimal(1), Decimal(linear)) ** 3) == pytest.approx(float(volume), abs=5e-7)


def test_a_mug_for_half_a_litre_is_thrown_for_three_quarters() -> None:
    assert float(500 / fired_from(Decimal(1), Decimal("0.12")) ** 3) == pytest.approx(733.7, abs=0.05)


def test_stages_multiply_and_do_not_add() -> None:
    """6 % in drying and then 6.382979 % of the dry length are 12 % in all, not 12.383 %."""
    dry = fired_from(Decimal(100), Decimal("0.06"))
    assert float(fired_from(dry, Decimal("0.06382979"))) == pytest.approx(88.0, abs=1e-6)


def test_a_ware_shrinks_in_the_kiln_from_its_dry_size_to_its_fired_size() -> None:
    plan = plan_with(
        (("clays", 0, "shrinkage"), Decimal("0.12")), (("clays", 0, "drying_shrinkage"), Decimal("0.06"))
    )
    sizes = sizes_of(plan.wares[0], plan.clays[0])
    assert sizes.kiln_height_mm is not None
    assert sizes.fired_height_mm is not None
    assert float(1 - sizes.fired_height_mm / sizes.kiln_height_mm) == pytest.approx(0.06382979, abs=1e-8)


def test_a_plan_in_inches_is_the_same_pot() -> None:
    """The inch is exactly 25.4 mm (NIST Handbook 44, Appendix C)."""
    plan = plan_with((("wares", 0, "made_height"), GONE), (("wares", 0, "fired_height"), "4 1/2 in"))
    made = sizes_of(plan.wares[0], plan.clays[0]).made_height_mm
    assert made is not None
    assert float(made) == pytest.approx(float(Length.parse("4.5 in").mm) / 0.88)
