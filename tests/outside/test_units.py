"""Masses and lengths against published values, and against a library for units that we did not write."""

from decimal import Decimal
from fractions import Fraction
from functools import cache

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.plan.quantities import GRAMS_PER, MILLIMETRES_PER, Length, Mass, Temperature

PINT_NAMES = {"g": "gram", "kg": "kilogram", "oz": "ounce", "lb": "pound"}
PINT_LENGTHS = {"mm": "millimeter", "cm": "centimeter", "m": "meter", "in": "inch"}


@cache
def registry() -> "pint.UnitRegistry[Fraction]":
    """Return pint's units, which take a while to be read."""
    return pint.UnitRegistry(non_int_type=Fraction)


def test_the_pound_and_the_ounce_are_those_of_the_table_of_units() -> None:
    """Getty Research Institute, Art & Architecture Thesaurus, 300379254: 16 ounces, exactly 0.45359237 kg.

    NIST Handbook 44, Appendix C, General Tables of Units, has the same (its digits from memory).
    """
    assert Decimal("453.59237") == Mass.parse("1 lb").g
    assert Decimal("28.349523125") == Mass.parse("1 oz").g


def test_a_pound_is_seven_thousand_grains() -> None:
    """The same, 300379254; 1 grain = 64.798 91 mg exactly: pint's own unit file, default_en.txt."""
    assert 7000 * Decimal("0.06479891") == Mass.parse("1 lb").g


def test_the_rounded_factors_in_print_are_ours_to_seven_digits() -> None:
    """NIST SP 811 (2008), Appendix B.8: lb 4.535 924 E-01 kg, oz 2.834 952 E-02 kg (digits from memory)."""
    assert Decimal("0.4535924") == round(Mass.parse("1 lb").kg, 7)
    assert Decimal("0.02834952") == round(Mass.parse("1 oz").kg, 8)


def test_an_army_course_rounds_to_the_same_grams() -> None:
    """U.S. Army Medical Department, course MD0900, Basic Mathematics: 1 oz is 28.35 g, 1 lb is 454 g."""
    assert Decimal("28.35") == round(Mass.parse("1 oz").g, 2)
    assert round(Mass.parse("1 lb").g) == 454


@pytest.mark.parametrize(
    ("said", "grams"),
    [
        ("25 lb", "11339.80925"),
        ("50 lb", "22679.6185"),
        ("1 lb 6 oz", "623.68950875"),
        ("10 oz", "283.49523125"),
    ],
)
def test_masses_worked_out_from_the_exact_pound(said: str, grams: str) -> None:
    """Worked by hand from the exact pound; 10 oz is a small jug's ball (common practice, no source)."""
    assert Decimal(grams) == Mass.parse(said).g


def test_metric_packs_in_pounds() -> None:
    """Worked from the exact pound: 10 kg and 12.5 kg of clay in pounds."""
    assert Decimal("22.0462262185") == round(Mass.parse("10 kg").oz / 16, 10)
    assert Decimal("27.557782773") == round(Mass.parse("12.5 kg").oz / 16, 9)


@given(st.integers(1, 10**6), st.sampled_from(list(PINT_NAMES.items())))
def test_masses_are_those_of_pint(thousandths: int, unit: tuple[str, str]) -> None:
    """General-purpose units library pint, reckoning in exact fractions."""
    ours = Mass(Decimal(thousandths) / 1000, unit[0])
    theirs = registry().Quantity(Fraction(thousandths, 1000), unit[1]).to("gram").magnitude
    assert theirs == Fraction(ours.g)


@given(st.integers(1, 10**6), st.sampled_from(list(PINT_LENGTHS.items())))
def test_lengths_are_those_of_pint(thousandths: int, unit: tuple[str, str]) -> None:
    """General-purpose units library pint, reckoning in exact fractions."""
    ours = Length(Decimal(thousandths) / 1000, unit[0])
    theirs = registry().Quantity(Fraction(thousandths, 1000), unit[1]).to("millimeter").magnitude
    assert theirs == Fraction(ours.mm)


def test_every_unit_is_compared_with_pint() -> None:
    assert [*PINT_NAMES, *PINT_LENGTHS] == [*GRAMS_PER, *MILLIMETRES_PER]


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"), [("32 F", 0), ("212 F", 100), ("1832 F", 1000), ("-40 F", -40)]
)
def test_fahrenheit_by_its_definition(fahrenheit: str, celsius: int) -> None:
    """NIST SP 811 (2008), Appendix B.8: t/°C = (t/°F - 32)/1.8 (from memory)."""
    assert celsius == Temperature.parse(fahrenheit).celsius


@pytest.mark.parametrize(("fahrenheit", "celsius"), [("1945 °F", 1063), ("2232 °F", 1222)])
def test_the_ends_of_firings_are_those_that_a_manual_prints_on_both_scales(
    fahrenheit: str, celsius: int
) -> None:
    """Cones 04 and 6, to a whole degree: 700 Series kiln controller, Bartlett Instrument, appendix A."""
    assert celsius == round(Temperature.parse(fahrenheit).celsius)
