"""The questions on the studio: clay, shrinkage, sizes, kiln and firings."""

import re
from decimal import Decimal
from typing import Final

from salebook.plan import fields
from salebook.plan.fields import UnfitError
from salebook.plan.quantities import Length, Temperature, plain
from salebook.start.choices import AS_FIT, GAS, NO_KILN, money_for, name_in
from salebook.start.question import Question, SoFar
from salebook.start.spoken_money import amount_in
from salebook.start.spoken_sizes import (
    kilowatts_in,
    round_shelf_in,
    said_percent,
    shrinkage_in,
    two_lengths_in,
)
from salebook.words import _

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
MOST_SIZE_MM: Final = 2000
"""Larger than any piece for a table (judgement)."""
LEAST_INSIDE_MM, LEAST_SHELF_MM, ROOM_MM = 600, 460, 60
"""A small kiln, and the room left beside and above a larger piece (judgement)."""
ELECTRICITY_RATE, GAS_RATE = "0.27", "0.08"
"""Examples of what a kilowatt hour costs (invented)."""
LEAST_TOP: Final = 500
"""°C below which clay does not become ware that lasts (common practice, no source)."""


def about_the_studio() -> tuple[Question, ...]:
    """Return the questions on clay, piece, kiln and firings."""
    return (*_clay(), _shrinkage(), _size(), *_kiln(), *_firings())


def has_kiln(so_far: SoFar) -> bool:
    """Whether the maker fires the pieces in a kiln of their own."""
    return so_far["shelf"] != NO_KILN


def _clay() -> tuple[Question, ...]:
    return (
        Question(
            key="clay",
            part=6,
            asks=lambda _so_far: _("Which clay is it made of?"),
            such_as=lambda _so_far: _("stoneware"),
            read=lambda text, _so_far: name_in(text),
            assumed=lambda _so_far: USUAL_CLAY,
            because=_("look at the bag"),
        ),
        Question(
            key="bag",
            part=6,
            asks=lambda _so_far: _("How much is in a bag of it, and what does a bag cost?"),
            such_as=lambda so_far: _("12.5 kg at {price}").format(price=money_for("15", so_far.currency)),
            read=_read_bag,
            assumed=lambda so_far: f"12.5 kg at {money_for('15', so_far.currency)}",
            because=_("look at the last bill"),
        ),
        Question(
            key="ball",
            part=6,
            asks=lambda so_far: _("How much clay do you weigh out for one ({piece})?").format(
                piece=so_far["piece"]
            ),
            such_as=lambda _so_far: _('450 g, or "1 lb 2 oz"'),
            read=lambda text, _so_far: fields.mass(text).said(),
            assumed=lambda _so_far: f"{BALL_G} g",
            because=_("weigh out the next one"),
        ),
    )


def _shrinkage() -> Question:
    return Question(
        key="shrinkage",
        part=7,
        asks=lambda _so_far: _("How much does the clay shrink, from wet to fired?"),
        such_as=lambda _so_far: _('12 %, or "10 cm becomes 8.8 cm"'),
        read=lambda text, _so_far: said_percent(shrinkage_in(text)),
        assumed=lambda so_far: _usual_of_clay(so_far)[0],
        because=_("usual for such a clay, by common practice: mark 10 cm on a test bar, fire it and measure"),
        offered=lambda so_far: _usual_of_clay(so_far)[0],
    )


def _size() -> Question:
    return Question(
        key="size",
        part=8,
        asks=lambda _so_far: _("How tall and how wide is one as you throw it, by your stick?"),
        such_as=lambda _so_far: _('11 x 9.5 cm, or "4 1/2 in x 3 3/4 in"'),
        read=_read_size,
        assumed=_usual_size,
        because=_("guessed from the clay in it: measure one that is just thrown, lip and handle included"),
    )


def _kiln() -> tuple[Question, ...]:
    return (
        Question(
            key="shelf",
            part=9,
            asks=lambda _so_far: _("What are the shelves of your kiln?"),
            such_as=lambda _so_far: _('"round 46 cm" or "40 x 45 cm"; "no kiln" where others fire for you'),
            read=_read_shelf,
            assumed=lambda so_far: f"round {plain(_roomy(LEAST_SHELF_MM, size_of(so_far)[1]) / 10)} cm",
            because=_("a small round kiln: measure a shelf"),
        ),
        Question(
            key="inside",
            part=9,
            asks=lambda _so_far: _("How high is it inside, from the lowest shelf to the lid?"),
            such_as=lambda _so_far: _("60 cm"),
            read=lambda text, _so_far: fields.length(text).said(),
            assumed=lambda so_far: f"{plain(_roomy(LEAST_INSIDE_MM, size_of(so_far)[0]) / 10)} cm",
            because=_("a small kiln: measure it inside"),
            concerns=has_kiln,
        ),
        Question(
            key="shelves",
            part=9,
            asks=lambda _so_far: _("How many shelves do you have for it?"),
            such_as=lambda _so_far: "4",
            read=_read_shelves,
            assumed=lambda _so_far: AS_FIT,
            because=_("as many shelves are taken as there is room for"),
            concerns=has_kiln,
        ),
        Question(
            key="power",
            part=9,
            asks=lambda _so_far: _("What power does its plate say?"),
            such_as=lambda _so_far: _('7.2 kW, or "gas"'),
            read=_read_power,
            assumed=lambda _so_far: "7.2 kW",
            because=_("a small electric kiln: read its plate"),
            concerns=has_kiln,
        ),
    )


def _firings() -> tuple[Question, ...]:
    return (
        Question(
            key="biscuit",
            part=10,
            asks=lambda _so_far: _("How hot does your biscuit firing become?"),
            such_as=lambda _so_far: _('1000 °C, or "1832 °F"'),
            read=_read_top,
            assumed=lambda _so_far: "1000 °C",
            because=_("common practice: look at your firing book"),
            concerns=has_kiln,
        ),
        Question(
            key="glaze",
            part=10,
            asks=lambda _so_far: _("And the glaze firing?"),
            such_as=lambda _so_far: _('1240 °C, or "2264 °F"'),
            read=_read_top,
            assumed=lambda so_far: f"{_usual_of_clay(so_far)[1]} °C",
            because=_("common practice for such a clay: the bags of clay and glaze say it"),
            concerns=has_kiln,
        ),
        Question(
            key="energy",
            part=10,
            asks=_asks_rate,
            such_as=_such_as_rate,
            read=_read_rate,
            assumed=lambda so_far: money_for(_usual_rate(so_far), so_far.currency),
            because=_("look at the last energy bill"),
            concerns=has_kiln,
        ),
    )


def size_of(so_far: SoFar) -> tuple[Length, Length]:
    """Return the height and the width of a piece as thrown."""
    return two_lengths_in(so_far["size"], "")


def shelf_of(so_far: SoFar) -> tuple[Length, ...]:
    """Return a round shelf's diameter, or a rectangular one's width and depth."""
    across = round_shelf_in(so_far["shelf"])
    return two_lengths_in(so_far["shelf"], "") if across is None else (across,)


def _usual_of_clay(so_far: SoFar) -> tuple[str, int]:
    name = so_far["clay"].lower()
    return next((usual for word, usual in CLAYS.items() if word in name), CLAYS[USUAL_CLAY])


def _usual_size(so_far: SoFar) -> str:
    """Guess a piece's size as a mug's, grown in all directions as its clay is more."""
    grown = (float(fields.mass(so_far["ball"]).g) / BALL_G) ** (1 / 3)
    tall, wide = (max(10, 5 * round(size * grown / 5)) for size in (TALL_MM, WIDE_MM))
    return f"{tall} mm x {wide} mm"


def _roomy(least_mm: int, piece: Length) -> Decimal:
    return max(Decimal(least_mm), piece.mm + ROOM_MM)


def _read_bag(text: str, so_far: SoFar) -> str:
    for word in (" at ", " for ", " costs ", " cost ", "@", ";", ", "):
        mass, found, price = text.partition(word)
        if found:
            return f"{fields.mass(mass).said()} at {plain(amount_in(price, so_far.currency))}"
    says = _('the mass and the price with "at" between, such as "12.5 kg at {price}"')
    raise UnfitError(says.format(price=money_for("15", so_far.currency)))


def _read_size(text: str, _so_far: SoFar) -> str:
    expected = _('the height, "x" and the width, with their unit, such as "11 x 9.5 cm"')
    tall, wide = two_lengths_in(text, expected)
    if max(tall.mm, wide.mm) > MOST_SIZE_MM:
        raise UnfitError(_("a piece that fits in a kiln: at most 2 m high and wide"))
    return f"{tall.said()} x {wide.said()}"


def _read_shelf(text: str, _so_far: SoFar) -> str:
    if text.strip().lower() in {NO_KILN, "none", "no", "no kiln of my own"}:
        return NO_KILN
    expected = _(
        '"round" and how far across, or width "x" depth, with the unit, such as "round 46 cm" or "40 x 45 cm"'
    )
    try:
        across = round_shelf_in(text)
    except UnfitError as trouble:
        raise UnfitError(expected) from trouble
    if across is not None:
        return f"round {across.said()}"
    width, depth = two_lengths_in(text, expected)
    return f"{width.said()} x {depth.said()}"


def _read_shelves(text: str, _so_far: SoFar) -> str:
    if text.strip().lower() == AS_FIT:
        return AS_FIT
    return str(fields.Number(1, 1_000, whole=True)(text))


def _read_power(text: str, _so_far: SoFar) -> str:
    return GAS if text.strip().lower() == GAS else f"{plain(kilowatts_in(text))} kW"


def _read_top(text: str, _so_far: SoFar) -> str:
    if re.search(r"\bcones?\b|\u25b3", text, re.IGNORECASE):
        raise UnfitError(
            _(
                "a temperature, which a cone is not: look up the end temperature on the controller of the "
                'kiln, or in the chart of the maker of the cone, such as 1000 or "1832 °F"'
            )
        )
    top: Temperature = fields.temperature(text)
    if top.celsius < LEAST_TOP:
        raise UnfitError(_('a temperature from 500 to 1 400 °C, such as 1000 or "1832 °F"'))
    return top.said()


def _usual_rate(so_far: SoFar) -> str:
    return GAS_RATE if so_far["power"] == GAS else ELECTRICITY_RATE


def _asks_rate(so_far: SoFar) -> str:
    if so_far["power"] == GAS:
        return _("What does one kilowatt hour of gas cost?")
    return _("What does one kilowatt hour of electricity cost?")


def _such_as_rate(so_far: SoFar) -> str:
    says = _("{price}; your electricity bill says it")
    if so_far["power"] == GAS:
        says = _(
            "{price}; your gas bill says it. For bottles divide the price of one by the kg of gas in it, and "
            "by 13 (about what a kilogram gives; common practice, no source)"
        )
    return says.format(price=money_for(_usual_rate(so_far), so_far.currency))


def _read_rate(text: str, so_far: SoFar) -> str:
    """Read the price of a kWh, which may be finer than the smallest coin."""
    return plain(amount_in(text, so_far.currency, finer=True))
