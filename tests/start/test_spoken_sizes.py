"""Sizes, shrinkage and power are read as people say them."""

from decimal import Decimal

import pytest

from salebook.base.errors import UnfitError
from salebook.start.spoken_sizes import (
    format_percent,
    kilowatts_in,
    length_in,
    mass_in,
    round_shelf_in,
    shrinkage_in,
    size_in,
    two_lengths_in,
)


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("11 x 9.5 cm", ("110", "95")),
        ("110 mm x 9.5 cm", ("110", "95")),
        ("14 cm by 9 cm", ("140", "90")),
        ("4 1/2 in x 3 3/4 in", ("114.3", "95.25")),
        ("9 × 12 cm", ("90", "120")),
    ],
)
def test_two_lengths_stay_in_the_order_in_which_they_were_said(
    text: str, millimetres: tuple[str, str]
) -> None:
    assert tuple(map(Decimal, millimetres)) == tuple(length.mm for length in two_lengths_in(text, "two"))


@pytest.mark.parametrize("text", ["", "11 cm", "11 x 9", "1 x 2 x 3 cm", "a x b", "0 x 5 cm"])
def test_what_is_not_two_lengths_is_told(text: str) -> None:
    with pytest.raises(UnfitError, match="two of them"):
        two_lengths_in(text, "two of them")


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("5in tall 4in wide", ("5", "4")),
        ("5 in tall, 4 in wide", ("5", "4")),
        ("4in wide and 5in tall", ("5", "4")),
        ("width 4 in, height 5 in", ("5", "4")),
        ("height 5 in width 4 in", ("5", "4")),
        ("five inches tall, four wide", ("5", "4")),
        ('5" tall 4" wide', ("5", "4")),
        ("1 foot by 8 inches", ("12", "8")),
        ("1 ft 2 in tall, 8 in wide", ("14", "8")),
        ("4,5 in wide 5 in tall", ("5", "4.5")),
        ("4 1/2 in x 3 3/4 in", ("4.5", "3.75")),
    ],
)
def test_a_size_is_a_height_and_a_width_in_this_order_or_by_name(text: str, inches: tuple[str, str]) -> None:
    assert tuple(map(Decimal, inches)) == tuple(side.mm / Decimal("25.4") for side in size_in(text, "two"))


@pytest.mark.parametrize(
    "text",
    [
        "",
        "tall",
        "5in tall",
        "5 tall 4 wide",
        "4 inches tall and 3 and a half wide",
        "5in tall 4in wide 3in deep",
    ],
)
def test_what_is_no_size_is_told(text: str) -> None:
    with pytest.raises(UnfitError, match="two of them"):
        size_in(text, "two of them")


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("2 foot", "24"),
        ("two feet", "24"),
        ("2 ft 3 in", "27"),
        ("2' 3\"", "27"),
        ("18 inches", "18"),
        ("1.5 feet", "18"),
        ("1 1/2 feet", "18"),
    ],
)
def test_feet_are_put_into_inches(text: str, inches: str) -> None:
    assert length_in(text).to_text() == f"{inches} in"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("ten ounces", "10 oz"),
        ("one pound four ounces", "20 oz"),
        ("a pound", "1 lb"),
        ("about 450 g", "450 g"),
    ],
)
def test_a_mass_may_be_said_in_words(text: str, said: str) -> None:
    assert said == mass_in(text).to_text()


@pytest.mark.parametrize(
    "text", ["round 46 cm", "46 cm", "46 cm across", "46 cm round", "Round, 46 cm".lower()]
)
def test_a_round_shelf_is_known_by_one_length(text: str) -> None:
    across = round_shelf_in(text)
    assert across is not None
    assert across.mm == 460


def test_a_shelf_of_two_lengths_is_not_round() -> None:
    assert round_shelf_in("40 x 45 cm") is None


@pytest.mark.parametrize(
    ("text", "share"),
    [
        ("12 %", "0.12"),
        ("12", "0.12"),
        ("12.5 per cent", "0.125"),
        ("0.12", "0.12"),
        ("0.5 %", "0.005"),
        ("10 cm becomes 8.8 cm", "0.12"),
        ("10 to 8.8", "0.12"),
        ("5 in -> 4 1/2 in", "0.1"),
        ("0", "0"),
    ],
)
def test_shrinkage_is_read_in_per_cent_as_a_share_and_from_a_test_bar(text: str, share: str) -> None:
    assert Decimal(share) == shrinkage_in(text)


@pytest.mark.parametrize("text", ["", "some", "-3", "50 %", "8.8 cm becomes 10 cm", "x becomes y"])
def test_what_is_no_shrinkage_is_told(text: str) -> None:
    with pytest.raises(UnfitError, match="a share from 0 to 40 %"):
        shrinkage_in(text)


@pytest.mark.parametrize("share", ["0", "0.08", "0.125", "0.4"])
def test_a_share_that_was_said_reads_the_same_again(share: str) -> None:
    assert Decimal(share) == shrinkage_in(format_percent(Decimal(share)))


@pytest.mark.parametrize(
    ("text", "kilowatts"), [("7.2 kW", "7.2"), ("7200 W", "7.2"), ("7,2", "7.2"), ("13", "13")]
)
def test_power_is_read_in_kilowatts(text: str, kilowatts: str) -> None:
    assert Decimal(kilowatts) == kilowatts_in(text)


@pytest.mark.parametrize("text", ["", "strong", "0", "1 W", "20000 kW"])
def test_what_is_no_kilns_power_is_told(text: str) -> None:
    with pytest.raises(UnfitError, match="the power on the plate"):
        kilowatts_in(text)
