from contextlib import suppress
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.base.errors import UnfitError
from salebook.plan.quantities import (
    GRAMS_PER,
    MILLIMETRES_PER,
    Length,
    Mass,
    Temperature,
    parse_minutes,
    parse_number,
    parse_percent,
    parse_two_lengths,
    plain,
)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("283 g", "283 g"),
        ("12.5 kg", "12.5 kg"),
        ("12,5 kg", "12.5 kg"),
        ("0,125 kg", "0.125 kg"),
        ("12.50 kg", "12.5 kg"),
        (".5 kg", "0.5 kg"),
        ("10oz", "10 oz"),
        ("  10   oz. ", "10 oz"),
        ("10\N{NO-BREAK SPACE}oz", "10 oz"),
        ("10 OZ", "10 oz"),
        ("3 lbs", "3 lb"),
        ("2 pounds", "2 lb"),
        ("1 pound 4 ounces", "20 oz"),
        ("500 grams", "500 g"),
        ("2 kilos", "2 kg"),
        ("1 lb 4 oz", "20 oz"),
        ("1lb4oz", "20 oz"),
        ("1 lb, 4 oz", "20 oz"),
        ("1 kg 200 g", "1200 g"),
        ("1 200 g", "1200 g"),
        ("1\N{NARROW NO-BREAK SPACE}200 g", "1200 g"),
        ("1’200 g", "1200 g"),
        ("1,000,000 g", "1000000 g"),
        ("1,000.5 g", "1000.5 g"),
        ("1.000,5 g", "1000.5 g"),
        ("½ lb", "0.5 lb"),
        ("1½ lb", "1.5 lb"),
        ("1 ½ lb", "1.5 lb"),
        ("1 1/2 lb", "1.5 lb"),
        ("1-1/2 lb", "1.5 lb"),
        ("3/4 lb", "0.75 lb"),
        ("3⁄4 lb", "0.75 lb"),
        ("1 lb 4 ½ oz", "20.5 oz"),
        ("⅓ lb", "0.333333333333333 lb"),
        ("⅛ oz", "0.125 oz"),
    ],
)
def test_a_mass_is_read_as_people_write_it(text: str, said: str) -> None:
    assert said == Mass.parse(text).to_text()


@pytest.mark.parametrize(
    "text",
    [
        "",
        "12",
        "oz",
        "12 cm",
        "12 stone",
        "-5 g",
        "4 oz 1 lb",
        "4 oz 4 oz",
        "1 lb 4",
        "1/0 lb",
        "1//2 lb",
        "1.2.3 g",
        "1,5,5 g",
        "1e3 g",
        "١٢ g",
        "12 g or so",
        "nan g",
        "9" * 5000 + " g",
    ],
)
def test_what_is_no_mass_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(ValueError, match=r'"1 lb 4 oz"|digits'):
        Mass.parse(text)


@pytest.mark.parametrize("text", ["1,000 g", "12,500 kg", "1 lb 1,000 oz"])
def test_a_comma_that_may_group_thousands_is_never_guessed_at(text: str) -> None:
    with pytest.raises(ValueError, match=r"reads one way only: 1000 or 1\.000, not 1,000"):
        Mass.parse(text)


def test_more_than_fifteen_digits_are_refused_and_not_rounded() -> None:
    with pytest.raises(ValueError, match="at most 15 digits"):
        Mass.parse("1.234567890123456 kg")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("160 mm", "160 mm"),
        ("16 cm", "16 cm"),
        ("1.2 m", "1.2 m"),
        ("1 m 20 cm", "120 cm"),
        ("6 1/4 in", "6.25 in"),
        ('6 1/4"', "6.25 in"),
        ("6¼″", "6.25 in"),
        ("5′ 3″", "63 in"),
        ("6 inches", "6 in"),
        ("1 inch", "1 in"),
        ("3''", "3 in"),
        ("160MM", "160 mm"),
        ("16 centimetres", "16 cm"),
        ("6'", "72 in"),
        ("1 1/2 feet", "18 in"),
        ("2 ft 3 in", "27 in"),
        ("2' 3\"", "27 in"),
        ("2 foot 3", "27 in"),
    ],
)
def test_a_length_is_read_as_people_write_it(text: str, said: str) -> None:
    assert said == Length.parse(text).to_text()


@pytest.mark.parametrize("text", ["", "160", "160 g", "6' 3 x", "-1 mm", "mm 160", "6 1/4"])
def test_what_is_no_length_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(ValueError, match='"6 1/4 in"'):
        Length.parse(text)


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        ("1832 F", 1000),
        ("1832 °F", 1000),
        ("1832°f", 1000),
        ("1000 °C", 1000),
        ("1000 C", 1000),
        ("1000C", 1000),
        ("1000°", 1000),
        ("1000", 1000),
        ("1000 degrees celsius", 1000),
        ("-4 F", -20),
        ("−4 F", -20),
        ("32 ℉", 0),
    ],
)
def test_a_temperature_is_read_in_either_scale(text: str, celsius: int) -> None:
    assert celsius == Temperature.parse(text).celsius


@pytest.mark.parametrize("text", ["", "F", "1000 K", "cone 6", "1000 °C 5", "--5", "1.2.3 C"])
def test_what_is_no_temperature_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(ValueError, match='"1832 °F"'):
        Temperature.parse(text)


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("45", "45"),
        ("45 min", "45"),
        ("2 h", "120"),
        ("2 h 30 min", "150"),
        ("2h30min", "150"),
        ("1½ hours", "90"),
        ("1,5 h", "90"),
        ("7.5", "7.5"),
    ],
)
def test_a_duration_is_read_in_minutes(text: str, minutes: str) -> None:
    assert Decimal(minutes) == parse_minutes(text)


@pytest.mark.parametrize("text", ["", "2 days", "30 min 2 h", "2:30", "h"])
def test_what_is_no_duration_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(ValueError, match='"2 h 30 min"'):
        parse_minutes(text)


@pytest.mark.parametrize(
    ("text", "number"), [("12", "12"), ("12,5", "12.5"), ("-3.5", "-3.5"), ("+7", "7"), (".5", "0.5")]
)
def test_a_plain_number_may_have_a_decimal_comma(text: str, number: str) -> None:
    assert Decimal(number) == parse_number(text)


@pytest.mark.parametrize("text", ["", "£12", "12 kg", "1e5", "nan", "inf", "1_000", "1,000", "0x10"])
def test_what_is_no_plain_number_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="number"):
        parse_number(text)


@pytest.mark.parametrize(
    ("text", "both"),
    [
        ("12 oz", "340 g (12 oz)"),
        ("1 lb 4 oz", "567 g (1 lb 4 oz)"),
        ("283.5 g", "284 g (10 oz)"),
        ("12.5 kg", "12.5 kg (27 lb 9 oz)"),
        ("5 g", "5 g (0.2 oz)"),
        ("1 lb", "454 g (1 lb)"),
        ("999.6 g", "1 kg (2 lb 3.3 oz)"),
    ],
)
def test_a_mass_is_said_for_either_kind_of_scales(text: str, both: str) -> None:
    assert both == Mass.parse(text).to_text_in_both_units()


def test_masses_that_weigh_the_same_are_equal_whatever_their_unit() -> None:
    assert Mass.parse("1 lb") == Mass.parse("16 oz") == Mass.parse("453.59237 g")
    assert len({Mass.parse("1 kg"), Mass.parse("1000 g")}) == 1
    assert Mass.parse("1 kg") != Length.parse("1 m")


def test_lengths_that_are_as_long_are_equal_whatever_their_unit() -> None:
    assert Length.parse("1 in") == Length.parse("25.4 mm") == Length.parse("2.54 cm")
    assert len({Length.parse("1 m"), Length.parse("100 cm")}) == 1
    assert Length.parse("6 1/4 in") == Length.parse("6.25 in") == Length.parse("158.75 mm")


def test_temperatures_that_are_as_hot_are_equal_whatever_their_scale() -> None:
    assert Temperature.parse("1832 F") == Temperature.parse("1000 C")
    assert len({Temperature.parse("32 F"), Temperature.parse("0 C")}) == 1
    assert Temperature.parse("1832 f").to_text() == "1832 °F"


def test_ounces_are_exact_where_ounces_were_said() -> None:
    assert Decimal(20) == Mass.parse("1 lb 4 oz").oz
    assert Decimal("0.34019427750") == Mass.parse("12 oz").kg


AMOUNTS = st.decimals(min_value="0.001", max_value="99999", places=3)


@given(AMOUNTS, st.sampled_from(sorted(GRAMS_PER)))
def test_a_mass_that_was_said_is_read_back_as_it_was(amount: Decimal, unit: str) -> None:
    mass = Mass(amount, unit)
    again = Mass.parse(mass.to_text())
    assert (mass.amount, mass.unit) == (again.amount, again.unit)


@given(AMOUNTS, st.sampled_from(sorted(MILLIMETRES_PER)))
def test_a_length_that_was_said_is_read_back_as_it_was(amount: Decimal, unit: str) -> None:
    length = Length(amount, unit)
    again = Length.parse(length.to_text())
    assert (length.amount, length.unit) == (again.amount, again.unit)


@given(st.text() | st.text("0123456789.,/½¼ glbozkmin\"'°CF-", max_size=20))
def test_no_text_gives_anything_but_a_quantity_or_a_value_error(text: str) -> None:
    for parse in (Mass.parse, Length.parse, Temperature.parse, parse_minutes, parse_number):
        with suppress(ValueError):
            assert isinstance(parse(text), Mass | Length | Temperature | Decimal)


@given(st.decimals(allow_nan=False, allow_infinity=False, min_value=-1e9, max_value=1e9))
def test_a_plain_number_has_no_exponent_and_keeps_its_value(number: Decimal) -> None:
    assert "E" not in plain(number)
    assert number == Decimal(plain(number))


SPELLINGS = {
    "1 g": "g, gram, grams, gramme, grammes, G",
    "1 kg": "kg, kgs, kilo, kilos, kilogram, kilograms, kilogramme, kilogrammes",
    "1 oz": "oz, ozs, ounce, ounces, oz.",
    "1 lb": "lb, lbs, pound, pounds",
    "1 mm": "mm, millimetre, millimetres, millimeter, millimeters",
    "1 cm": "cm, cms, centimetre, centimetres, centimeter, centimeters",
    "1 m": "m, metre, metres, meter, meters",
    "1 in": "in, ins, inch, inches, \", ″, ”, ''",
}


@pytest.mark.parametrize(("said", "spellings"), SPELLINGS.items())
def test_a_unit_may_be_spelt_in_many_ways(said: str, spellings: str) -> None:
    kind: type[Mass | Length] = Mass if said.split()[1] in GRAMS_PER else Length
    for spelling in spellings.split(", "):
        assert said == kind.parse(f"1 {spelling}").to_text()


@pytest.mark.parametrize("spelling", ["min", "mins", "minute", "minutes"])
def test_minutes_may_be_spelt_in_many_ways(spelling: str) -> None:
    assert parse_minutes(f"2 {spelling}") == 2


@pytest.mark.parametrize("spelling", ["h", "hr", "hrs", "hour", "hours"])
def test_hours_may_be_spelt_in_many_ways(spelling: str) -> None:
    assert parse_minutes(f"2 {spelling}") == 120


@pytest.mark.parametrize(
    "spelling", ["c", "°c", "° c", "ºC", "º C", "℃", "Celsius", "degrees C", "degrees Celsius", "°", "º", ""]
)
def test_degrees_celsius_may_be_spelt_in_many_ways(spelling: str) -> None:
    assert Temperature.parse(f"100 {spelling}").celsius == 100


@pytest.mark.parametrize(
    "spelling", ["f", "°F", "° F", "ºF", "º F", "℉", "Fahrenheit", "degrees F", "degrees Fahrenheit"]
)
def test_degrees_fahrenheit_may_be_spelt_in_many_ways(spelling: str) -> None:
    assert Temperature.parse(f"212 {spelling}").celsius == 100


@pytest.mark.parametrize(
    ("text", "metric"),
    [
        ("9.94 g", "9.9 g"),
        ("9.96 g", "10 g"),
        ("10.4 g", "10 g"),
        ("10 g", "10 g"),
        ("999.4 g", "999 g"),
        ("999.6 g", "1 kg"),
        ("1234 g", "1.23 kg"),
    ],
)
def test_grams_are_said_as_finely_as_scales_show_them(text: str, metric: str) -> None:
    assert Mass.parse(text).to_text_in_both_units().partition(" (")[0] == metric


@pytest.mark.parametrize(
    ("text", "pounds"), [("159.5 oz", "9 lb 15.5 oz"), ("160.4 oz", "10 lb"), ("160.6 oz", "10 lb 1 oz")]
)
def test_from_ten_pounds_on_ounces_are_whole(text: str, pounds: str) -> None:
    assert Mass.parse(text).to_text_in_both_units().partition(" (")[2] == f"{pounds})"


def test_a_quantity_equals_no_number() -> None:
    quantities = (Mass.parse("1 g"), Length.parse("1 mm"), Temperature.parse("1 C"))
    assert [quantity == 1 for quantity in quantities] == [False] * 3


def test_fifteen_digits_are_read() -> None:
    assert parse_number("123456789012345") == Decimal(123456789012345)


@pytest.mark.parametrize(
    ("text", "point", "thousands", "number"),
    [
        ("1.234", ".", "", "1.234"),
        ("1.234", ".", ",", "1.234"),
        ("1.234", ",", ".", "1234"),
        ("1,234", ",", ".", "1.234"),
        ("1,234", ".", ",", "1234"),
        ("1.234", "", ".,", "1234"),
        ("1,234", "", ".,", "1234"),
        ("0,275", ".", ",", "0.275"),
        ("12,5", ".", ",", "12.5"),
        ("1 234", ".", "", "1234"),
        ("1'234'567", ".", "", "1234567"),
        ("1,234,567", ".", "", "1234567"),
        ("1.234,50", ".", ",", "1234.50"),
        ("1,234.50", ",", ".", "1234.50"),
        ("1234,567", "", ".,", "1234.567"),
    ],
)
def test_a_mark_before_three_digits_is_what_it_is_said_to_be_and_others_are_plain_to_see(
    text: str, point: str, thousands: str, number: str
) -> None:
    assert parse_number(text, point=point, thousands=thousands) == Decimal(number)


@pytest.mark.parametrize("text", ["1,80,0", "1, 800", "12.", ".", "1 80", "1.234.5", "1.234,567.8", "1'00"])
def test_marks_that_part_no_thousands_are_refused(text: str) -> None:
    with pytest.raises(UnfitError, match="a plain number"):
        parse_number(text, point="", thousands=".,")


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("5 %", (5, True)),
        ("1,69%", (Decimal("1.69"), True)),
        ("2.5 per cent", (Decimal("2.5"), True)),
        ("5", (5, False)),
    ],
)
def test_a_number_may_be_said_in_per_cent(text: str, read: tuple[Decimal, bool]) -> None:
    assert parse_percent(text, "a share") == read


@pytest.mark.parametrize("text", ["%", "5 % %", "5 % of it", "-5 %"])
def test_anything_else_is_not_said_in_per_cent(text: str) -> None:
    with pytest.raises(UnfitError, match="a share"):
        parse_percent(text, "a share")


def test_a_length_without_its_unit_has_that_of_the_other() -> None:
    assert parse_two_lengths("2 ft 3 in x 18") == (Length.parse("27 in"), Length.parse("18 in"))
