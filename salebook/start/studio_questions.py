"""The questions on the studio: clay, shrinkage, sizes, kiln and firings."""

import re
from collections.abc import Sequence
from decimal import Decimal
from typing import Final, NamedTuple

from salebook.base.errors import UnfitError
from salebook.base.words import _
from salebook.plan import fields
from salebook.plan.quantities import Length, Mass, Temperature, plain
from salebook.start.choices import AS_FIT, GAS, NO_KILN, has_kiln, money_for, name_in
from salebook.start.energy_price import Rate, rate_in, usual_band
from salebook.start.question import Doubt, Question, SoFar
from salebook.start.spoken_money import amount_in
from salebook.start.spoken_numbers import in_digits, number_in
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

CLAYS: Final = {
    "earthenware": ("8 %", 1080),
    "terracotta": ("8 %", 1080),
    "porcelain": ("14 %", 1280),
    "stoneware": ("12 %", 1240),
}
"""Usual shrinkage and top of the glaze firing (°C) by what a clay is called (common practice, no source)."""
USUAL_CLAY: Final = "stoneware"

BALL_G, TALL_MM, WIDE_MM = 450, 110, 95
"""A mug as thrown, from which the size of other pieces is guessed (common practice, no source)."""
MOST_SHELVES: Final = 1000
MOST_SIZE_MM: Final = 2000
"""Larger than any piece for a table (judgement)."""
LEAST_INSIDE_MM, LEAST_SHELF_MM, ROOM_MM = 600, 460, 60
"""A small kiln, and the room left beside and above a larger piece (judgement)."""
ELECTRICITY_RATE, GAS_RATE = "0.27", "0.08"
"""Examples of what a kilowatt hour costs (invented)."""
LEAST_TOP: Final = 500
"""°C below which clay does not become ware that lasts (common practice, no source)."""


A_BAG: Final = re.compile(r"\b(?:(?:an?|per|each)\s+)?bags?(?:\s+of)?\b\s*|\ban?\s+(?=\d)", re.IGNORECASE)
BETWEEN_MASS_AND_PRICE: Final = re.compile(
    r"\s*(?:\b(?:at|for|costs?|is)\b|[@;]|,\s|\s[-–]\s|\s(?=[£€$¥]))\s*", re.IGNORECASE
)
WEIGHS: Final = re.compile(r"\d\s*(?:k?g|kilo\w*|gram\w*|lbs?|oz|pounds?|ounces?)\b", re.IGNORECASE)


def about_the_studio() -> tuple[Question, ...]:
    """Return the questions on clay, piece, kiln and firings."""
    return (*_clay(), _shrinkage(), _size(), *_kiln(), *_firings())


def _clay() -> tuple[Question, ...]:
    return (
        Question(
            key="clay",
            asks=lambda _so_far: _("Which clay is it made of?"),
            such_as=lambda _so_far: _("stoneware"),
            read=lambda text, _so_far: name_in(text),
            assumed=lambda _so_far: USUAL_CLAY,
            because=_("look at the bag"),
        ),
        Question(
            key="bag",
            asks=lambda _so_far: _("How much clay is in a bag, and what does a bag cost?"),
            such_as=lambda so_far: _("12.5 kg at {price}").format(price=money_for("15", so_far.currency)),
            read=_read_bag,
            words=lambda bag: f"{bag.mass.to_text()} at {plain(bag.price)}",
            assumed=lambda so_far: f"12.5 kg at {money_for('15', so_far.currency)}",
            because=_("look at the last bill"),
        ),
        Question(
            key="ball",
            asks=lambda so_far: _("How much clay do you weigh out for one ({piece})?").format(
                piece=so_far["piece"]
            ),
            such_as=lambda _so_far: _('450 g, or "1 lb 2 oz"'),
            read=lambda text, _so_far: mass_in(text),
            words=Mass.to_text,
            in_words=_mass_in_words,
            assumed=lambda _so_far: f"{BALL_G} g",
            because=_("weigh out the next one"),
        ),
    )


def _shrinkage() -> Question:
    return Question(
        key="shrinkage",
        asks=lambda _so_far: _("How much does the clay shrink, from wet to fired?"),
        such_as=lambda _so_far: _('12 %, or "10 cm becomes 8.8 cm"'),
        read=lambda text, _so_far: shrinkage_in(text),
        words=format_percent,
        assumed=lambda so_far: _usual_of_clay(so_far)[0],
        because=_("usual for such a clay, by common practice: mark 10 cm on a test bar, fire it and measure"),
        offered=lambda so_far: _usual_of_clay(so_far)[0],
    )


def _size() -> Question:
    return Question(
        key="size",
        asks=lambda _so_far: _("How tall and how wide is one as you throw it, by your stick?"),
        such_as=lambda _so_far: _('11 x 9.5 cm, or "4 1/2 in x 3 3/4 in"'),
        read=_read_size,
        words=lambda size: " x ".join(side.to_text() for side in size),
        assumed=_usual_size,
        because=_("guessed from the clay in it: measure one that is just thrown, lip and handle included"),
    )


def _kiln() -> tuple[Question, ...]:
    return (
        Question(
            key="shelf",
            asks=lambda _so_far: _("What are the shelves of your kiln?"),
            such_as=lambda _so_far: _('"round 46 cm" or "40 x 45 cm"; "no kiln" where others fire for you'),
            read=_read_shelf,
            words=_words_of_shelf,
            assumed=lambda so_far: f"round {plain(_roomy(LEAST_SHELF_MM, size_of(so_far)[1]) / 10)} cm",
            because=_("a small round kiln: measure a shelf"),
        ),
        Question(
            key="inside",
            asks=lambda _so_far: _("How high is it inside, from the lowest shelf to the lid?"),
            such_as=lambda _so_far: _("60 cm"),
            read=lambda text, _so_far: length_in(text),
            words=Length.to_text,
            assumed=lambda so_far: f"{plain(_roomy(LEAST_INSIDE_MM, size_of(so_far)[0]) / 10)} cm",
            because=_("a small kiln: measure it inside"),
            concerns=has_kiln,
        ),
        Question(
            key="shelves",
            asks=lambda _so_far: _("How many shelves do you have for it?"),
            such_as=lambda _so_far: "4",
            read=_read_shelves,
            words=lambda shelves: AS_FIT if shelves is None else str(shelves),
            assumed=lambda _so_far: AS_FIT,
            because=_("as many shelves are taken as there is room for"),
            concerns=has_kiln,
        ),
        Question(
            key="power",
            asks=lambda _so_far: _("What power does its plate say?"),
            such_as=lambda _so_far: _('7.2 kW, or "gas"'),
            read=_read_power,
            words=lambda power: GAS if power is None else f"{plain(power)} kW",
            assumed=lambda so_far: GAS if so_far["energy"].gas else "7.2 kW",
            because=_("a small electric kiln, or gas where its price was said: read the plate"),
            concerns=has_kiln,
        ),
    )


def _firings() -> tuple[Question, ...]:
    return (
        Question(
            key="biscuit",
            asks=lambda _so_far: _("How hot does your biscuit firing become?"),
            such_as=lambda _so_far: _('1000 °C, or "1832 °F"'),
            read=_read_top,
            words=Temperature.to_text,
            assumed=lambda _so_far: "1000 °C",
            because=_("common practice: look at your firing book"),
            concerns=has_kiln,
        ),
        Question(
            key="glaze",
            asks=lambda _so_far: _("How hot does your glaze firing become?"),
            such_as=lambda _so_far: _('1240 °C, or "2264 °F"'),
            read=_read_top,
            words=Temperature.to_text,
            assumed=lambda so_far: f"{_usual_of_clay(so_far)[1]} °C",
            because=_("common practice for such a clay: the bags of clay and glaze say it"),
            concerns=has_kiln,
        ),
        Question(
            key="energy",
            asks=lambda _so_far: _("What does one kilowatt hour cost for your kiln?"),
            such_as=_such_as_rate,
            read=lambda text, so_far: rate_in(text, so_far.currency),
            assumed=_usual_rate,
            because=_("look at the last energy bill"),
            in_words=_rate_in_words,
            words=Rate.to_text,
            doubts=_doubts_of_rate,
            concerns=has_kiln,
        ),
    )


def size_of(so_far: SoFar) -> tuple[Length, Length]:
    """Return the height and the width of a piece as thrown, the usual ones until they are said."""
    tall, wide = so_far["size"] if so_far.was_asked("size") else two_lengths_in(_usual_size(so_far), "")
    return tall, wide


def _usual_of_clay(so_far: SoFar) -> tuple[str, int]:
    name = so_far["clay"].lower()
    return next((usual for word, usual in CLAYS.items() if word in name), CLAYS[USUAL_CLAY])


def _usual_size(so_far: SoFar) -> str:
    """Guess a piece's size as a mug's, grown in all directions as its clay is more."""
    grown = (float(so_far["ball"].g) / BALL_G) ** (1 / 3)
    tall, wide = (min(max(10, 5 * round(size * grown / 5)), MOST_SIZE_MM) for size in (TALL_MM, WIDE_MM))
    return f"{tall} mm x {wide} mm"


def _roomy(least_mm: int, piece: Length) -> Decimal:
    return max(Decimal(least_mm), piece.mm + ROOM_MM)


class Bag(NamedTuple):
    """What is in a bag of clay, and what it costs."""

    mass: Mass
    price: Decimal


def _read_bag(text: str, so_far: SoFar) -> Bag:
    """Read "12.5 kg at 15" or "12.5kg bag, £28.40 each", in either order; raises UnfitError."""
    sides = BETWEEN_MASS_AND_PRICE.split(A_BAG.sub("", in_digits(text)).strip(" ,"), maxsplit=1)
    if len(sides) != 2:
        says = _('the mass and the price with "at" between, such as "12.5 kg at {price}"')
        raise UnfitError(says.format(price=money_for("15", so_far.currency)))
    if not WEIGHS.search(sides[0]):
        sides.reverse()
    return Bag(fields.mass(sides[0]), amount_in(sides[1], so_far.currency))


def _mass_in_words(mass: Mass, _so_far: SoFar) -> str:
    """Say a mass for metric scales too: "283 g (10 oz)"."""
    return mass.to_text_in_both_units() if mass.unit in {"oz", "lb"} else mass.to_text()


def _read_size(text: str, _so_far: SoFar) -> tuple[Length, Length]:
    expected = _('the height, "x" and the width, with their unit, such as "11 x 9.5 cm"')
    tall, wide = size_in(text, expected)
    if max(tall.mm, wide.mm) > MOST_SIZE_MM:
        raise UnfitError(_("a piece that fits in a kiln: at most 2 m high and wide"))
    return tall, wide


def _read_shelf(text: str, _so_far: SoFar) -> tuple[Length, ...]:
    """Read a round shelf's diameter, or a rectangular one's width and depth; none without a kiln."""
    if text.strip().lower() in {NO_KILN, "none", "no", "no kiln of my own"}:
        return ()
    expected = _(
        '"round" and how far across, or width "x" depth, with the unit, such as "round 46 cm" or "40 x 45 cm"'
    )
    try:
        across = round_shelf_in(text)
    except UnfitError as trouble:
        raise UnfitError(expected) from trouble
    return two_lengths_in(text, expected) if across is None else (across,)


def _words_of_shelf(sides: Sequence[Length]) -> str:
    if not sides:
        return NO_KILN
    return ("round " if len(sides) == 1 else "") + " x ".join(side.to_text() for side in sides)


def _read_shelves(text: str, _so_far: SoFar) -> int | None:
    """Read how many there are; None for as many as fit."""
    return None if text.strip().lower() == AS_FIT else number_in(text, 1, MOST_SHELVES)


def _read_power(text: str, _so_far: SoFar) -> Decimal | None:
    """Read kilowatts; None for a kiln with gas."""
    return None if text.strip().lower() == GAS else kilowatts_in(text)


def _read_top(text: str, _so_far: SoFar) -> Temperature:
    if re.search(r"\bcones?\b|\u25b3", text, re.IGNORECASE):
        raise UnfitError(
            _(
                "a temperature, which a cone is not: look up the end temperature on the controller of the "
                'kiln, or in the chart of the maker of the cone, such as 1000 or "1832 °F"'
            )
        )
    top: Temperature = fields.temperature(in_digits(text))
    if top.celsius < LEAST_TOP:
        raise UnfitError(_('a temperature from 500 to 1 400 °C, such as 1000 or "1832 °F"'))
    return top


def _such_as_rate(so_far: SoFar) -> str:
    says = _(
        '{price}; your electricity bill says it. For gas add the word, such as "{gas} gas"; for bottles '
        "divide the price of one by the kg of gas in it, and by 13 (about what a kilogram gives; common "
        "practice, no source)"
    )
    return says.format(
        price=money_for(ELECTRICITY_RATE, so_far.currency), gas=money_for(GAS_RATE, so_far.currency)
    )


def _usual_rate(so_far: SoFar) -> str:
    if so_far.was_asked("power") and so_far["power"] is None:
        return f"{money_for(GAS_RATE, so_far.currency)} {GAS}"
    return money_for(ELECTRICITY_RATE, so_far.currency)


def _rate_in_words(rate: Rate, so_far: SoFar) -> str:
    says = _("{price} {currency} for a kilowatt hour of electricity")
    if rate.gas:
        says = _("{price} {currency} for a kilowatt hour of gas")
    return says.format(price=plain(rate.price), currency=so_far.currency)


def _doubts_of_rate(_said: str, rate: Rate, so_far: SoFar) -> Sequence[Doubt]:
    if not rate.is_far_out(so_far.currency):
        return ()
    least, most = (plain(_short(end)) for end in usual_band(so_far.currency, gas=rate.gas))
    says = _("People pay from about {least} to {most} {currency} for one. Is {price} {currency} meant?")
    price = plain(rate.price)
    return (Doubt(asks=says.format(price=price, least=least, most=most, currency=so_far.currency)),)


def _short(number: Decimal) -> Decimal:
    """Round to two digits that count."""
    return round(number, 1 - number.adjusted())
