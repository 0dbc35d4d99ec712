from datetime import date, datetime, time
from decimal import Decimal
from typing import Any

import pytest
from pydantic import TypeAdapter

from salebook.base.errors import UnfitError
from salebook.plan import fields
from salebook.plan.fields import clock, clock_minutes, clock_start, day, name, temperature
from salebook.plan.model import Demand, EnergyRate, Footprint, Ware
from salebook.plan.quantities import Length, Mass
from tests.support.sound_plan import SOUND, changed, faults_with, plan_with


def read(field: Any, value: object) -> Any:
    return TypeAdapter(field).validate_python(value)


@pytest.mark.parametrize(
    ("field", "least", "most"),
    [
        (fields.Wanted, 1, 10_000),
        (fields.PositiveCount, 1, 1_000),
        (fields.Parts, 1, 1_000_000),
        (fields.Confidence, Decimal("0.5"), Decimal("0.999")),
        (fields.Loss, 0, Decimal("0.95")),
        (fields.Shrinkage, 0, Decimal("0.4")),
        (fields.Waste, 0, 2),
        (fields.DryFraction, Decimal("0.5"), 1),
        (fields.Share, 0, 1),
        (fields.HeatingRate, 1, 2000),
        (fields.Minutes, 0, 2880),
        (fields.Factor, 0, 10),
        (fields.Percent, 0, 100),
    ],
)
def test_a_number_may_be_at_either_end_of_its_range_and_not_beyond(field: Any, least: Any, most: Any) -> None:
    assert (least, most) == (read(field, least), read(field, most))
    for outside in (least - Decimal("0.001"), most + Decimal("0.001")):
        with pytest.raises(ValueError, match="from"):
            read(field, outside)


@pytest.mark.parametrize(
    "value",
    [
        True,
        False,
        None,
        [],
        {},
        "",
        "twelve",
        "£12",
        "1,000",
        Decimal("nan"),
        Decimal("inf"),
        Decimal("sNaN"),
        float("nan"),
        float("-inf"),
        10**400,
        Decimal("1e999999"),
        Decimal("1e-999999"),
        Decimal("0.1234567890123456"),
        date(2027, 6, 12),
        -1,
        object(),
    ],
)
def test_what_is_no_amount_of_money_is_refused(value: object) -> None:
    with pytest.raises(ValueError, match=r"expected|amount|number|digits"):
        read(fields.Money, value)


@pytest.mark.parametrize(
    "value", [12, 12.0, Decimal(12), Decimal("1.2E1"), "12", "12.0", "12,0", Decimal("12." + "0" * 99)]
)
def test_money_is_read_from_a_number_or_a_text(value: object) -> None:
    assert Decimal(12) == read(fields.Money, value)


def test_a_word_in_place_of_a_number_is_told_which_number_fits() -> None:
    with pytest.raises(ValueError, match="a whole number from 1 to 10 000"):
        read(fields.Wanted, "lots")
    with pytest.raises(ValueError, match="reads one way only"):
        read(fields.Wanted, "1,000")


def test_money_from_a_spreadsheet_is_the_number_that_it_shows() -> None:
    assert str(read(fields.Money, 0.1)) == "0.1"


@pytest.mark.parametrize(
    ("field", "text", "number"),
    [
        (fields.Share, "90 %", "0.9"),
        (fields.Shrinkage, "12,5%", "0.125"),
        (fields.Factor, "115 %", "1.15"),
        (fields.Percent, "1.75 %", "1.75"),
    ],
)
def test_a_share_may_be_said_in_per_cent_and_a_per_cent_with_its_sign(
    field: Any, text: str, number: str
) -> None:
    assert read(field, text) == Decimal(number)


def test_a_share_in_per_cent_is_no_finer_than_other_numbers() -> None:
    with pytest.raises(ValueError, match="a share from 0 to 1"):
        read(fields.Share, "0." + "0" * 30 + "1 %")


@pytest.mark.parametrize("field", [fields.Money, fields.Wanted, fields.Rate])
def test_nothing_else_is_said_in_per_cent(field: Any) -> None:
    with pytest.raises(ValueError, match=r"amount|number"):
        read(field, "50 %")


def test_a_price_is_above_zero() -> None:
    with pytest.raises(ValueError, match="above 0"):
        read(fields.Price, 0)


@pytest.mark.parametrize(
    "value", ["a\nb", "tab\there", "\x00", "\x7f", "\x85", "\u2028", "\ufffe", "\ufdd0", "\U0001ffff"]
)
def test_a_name_holds_nothing_that_cannot_be_printed(value: str) -> None:
    with pytest.raises(UnfitError, match="can be printed"):
        name(f"x{value}x")


@pytest.mark.parametrize("value", ["", "   ", 5, None, ["a"], True])
def test_a_name_is_a_text_that_is_not_empty(value: object) -> None:
    with pytest.raises(UnfitError, match="not empty"):
        name(value)


@pytest.mark.parametrize("value", ["=1+1", "+44", "-5 off", "@shop", "<b>&", "日本", "אב", "x" * 200])
def test_a_name_may_be_any_line_of_text(value: str) -> None:
    assert value == name(f" {value} ")


def test_a_text_has_at_most_two_hundred_characters() -> None:
    with pytest.raises(UnfitError, match="at most 200 characters"):
        name("x" * 40_000)


@pytest.mark.parametrize("value", ["A", "LAN", "D1", "ABC123"])
def test_a_code_is_capital_letters_and_digits(value: str) -> None:
    assert value == read(fields.Code, value)


@pytest.mark.parametrize("value", ["", "lan", "1D", "ABCDEFG", "A-1", "É", "Ａ", 12])
def test_anything_else_is_no_code(value: object) -> None:
    with pytest.raises(ValueError, match="1 to 6 capital letters"):
        read(fields.Code, value)


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (date(2027, 6, 12), date(2027, 6, 12)),
        ("2027-06-12", date(2027, 6, 12)),
        (datetime(2027, 6, 12), date(2027, 6, 12)),
        ("12 June 2027", date(2027, 6, 12)),
        ("2027/6/12", date(2027, 6, 12)),
        ("20/6/2027", date(2027, 6, 20)),
    ],
)
def test_a_date_may_be_a_date_or_a_text(value: object, expected: date) -> None:
    assert expected == day(value)


@pytest.mark.parametrize(
    "value",
    [
        "12/06/2027",
        "12 June",
        datetime(2027, 6, 12, 9),
        "20270612",
        "2027-02-30",
        "2027-W23-6",
        date(1899, 1, 1),
        date(9999, 1, 1),
        2027,
        None,
    ],
)
def test_anything_else_is_no_date(value: object) -> None:
    with pytest.raises(UnfitError, match="year-month-day"):
        day(value)


def test_the_days_of_a_sale_are_put_in_order_and_stand_once() -> None:
    assert (date(2027, 6, 12), date(2027, 6, 13)) == read(fields.Days, ["2027-06-13", "2027-06-12"])
    with pytest.raises(ValueError, match="each date once"):
        read(fields.Days, ["2027-06-12", date(2027, 6, 12)])
    with pytest.raises(ValueError, match="one or more dates"):
        read(fields.Days, [])


@pytest.mark.parametrize(
    ("value", "minutes"),
    [
        ("00:00", 0),
        ("7:30", 450),
        ("07:30", 450),
        ("07:30:00", 450),
        (time(7, 30), 450),
        ("24:00", 1440),
        ("7.30", 450),
        ("7:30 pm", 1170),
        (time(7, 30, 15), 450),
    ],
)
def test_a_clock_time_is_read_as_minutes(value: object, minutes: int) -> None:
    assert minutes == clock_minutes(value)


@pytest.mark.parametrize("value", ["24:01", "25:00", "7", "07:60", "13 pm", 1441, 7.5, True, None])
def test_anything_else_is_no_clock_time(value: object) -> None:
    with pytest.raises(UnfitError, match="time of day"):
        clock_minutes(value)


def test_midnight_at_the_end_of_a_day_is_the_start_of_the_next() -> None:
    assert (0, time(0)) == (clock_start("24:00"), clock("24:00"))
    rate = EnergyRate.model_validate({"from": "24:00", "to": "24:00", "price": 1})
    assert (rate.from_, rate.to) == (0, 1440)


@pytest.mark.parametrize("value", [1401, "2600 F", -21, "1e9", True, "hot", Decimal("1e999999"), None])
def test_no_kiln_has_such_a_temperature(value: object) -> None:
    with pytest.raises(UnfitError, match="temperature"):
        temperature(value)


@pytest.mark.parametrize(
    "text",
    [
        "150 x 110 mm",
        "150x110mm",
        "150 mm x 110 mm",
        "150 mm x 110",
        "15 cm × 110 mm",
        "110 mm by 150 mm",
        "110 X 150 mm",
    ],
)
def test_a_footprint_is_the_widest_by_the_narrowest(text: str) -> None:
    footprint = plan_with((("wares", 0, "footprint"), text)).wares[0].footprint
    expected = Footprint(widest=Length(Decimal(150), "mm"), narrowest=Length(Decimal(110), "mm"))
    assert expected == footprint


def test_a_footprint_may_be_in_inches() -> None:
    footprint = plan_with((("wares", 0, "footprint"), "6 1/4 x 4 in")).wares[0].footprint
    assert footprint is not None
    assert (Length.parse("6.25 in"), Length.parse("4 in")) == (footprint.widest, footprint.narrowest)


@pytest.mark.parametrize("value", ["150 mm", "1 x 2 x 3 mm", "150 x 110", 5, ["150 mm", "110 mm"], "x"])
def test_anything_else_is_no_footprint(value: object) -> None:
    (fault,) = faults_with((("wares", 0, "footprint"), value))
    assert fault.startswith("wares → VASE → footprint: found ")


def test_demand_is_put_in_the_order_of_its_prices() -> None:
    demand = read(Demand, [[28, 0.6], [20, 0.95]])
    assert [point.price for point in demand] == [20, 28]
    with pytest.raises(ValueError, match="each price once"):
        read(Demand, [[28, 0.6], ["28.00", 0.5]])


@pytest.mark.parametrize(
    ("value", "expected"), [(True, True), ("yes", True), ("No", False), ("false", False)]
)
def test_yes_and_no_are_read_as_words_too(value: object, expected: bool) -> None:
    assert expected == read(fields.YesNo, value)


@pytest.mark.parametrize("value", [0, 1, "", "perhaps", None])
def test_anything_else_is_neither_yes_nor_no(value: object) -> None:
    with pytest.raises(ValueError, match="true or false"):
        read(fields.YesNo, value)


def test_currency_and_locale_are_spelt_as_their_standards_do() -> None:
    sale = plan_with((("sale", "currency"), "eur"), (("sale", "locale"), "de-de")).sale
    assert (sale.currency, sale.locale) == ("EUR", "de_DE")


def test_the_step_of_prices_follows_the_currency_where_none_is_given() -> None:
    assert Decimal("0.50") == plan_with().sale.price_step
    whole = [
        (("materials", 0, "pack_price"), 2000),
        (("clays", 0, "pack_price"), 1500),
        (("payments", 1, "fixed"), 10),
    ]
    assert plan_with((("sale", "currency"), "JPY"), *whole).sale.price_step == 50


def test_values_that_are_read_already_pass_as_they_are() -> None:
    ware = plan_with().wares[0]
    again = Ware(**{key: getattr(ware, key) for key in ("code", "name", "wanted", "price", "clay", "ball")})
    assert (Mass(Decimal(12), "oz"), ware.price) == (again.ball, again.price)


def test_clock_times_that_are_minutes_already_pass_as_they_are() -> None:
    rates = plan_with().energy
    assert rates is not None
    again = EnergyRate.model_validate({"from": rates.rates[0].from_, "to": rates.rates[0].to, "price": 1})
    assert (again.from_, again.to) == (30, 450)


def test_the_sound_plan_is_left_as_it_was_by_changes() -> None:
    changed((("sale", "target"), 1))
    assert SOUND["sale"]["target"] == 820
