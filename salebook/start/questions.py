"""The questions: a dozen that are asked first, and the rest."""

from collections.abc import Callable
from decimal import Decimal
from typing import Final

from salebook.base.words import N_, _
from salebook.plan.quantities import Length, plain
from salebook.start.choices import (
    AS_FIT,
    AS_IT_TAKES,
    CARD,
    CASH,
    ME,
    NAME,
    NUMBER,
    OF_TEN,
    PAYER,
    PIECE,
    SHELVES,
    TAKINGS,
    WAY,
    has_kiln,
)
from salebook.start.energy_price import GAS, RATE
from salebook.start.groups import EQUALLY, GROUPS, PARTS
from salebook.start.price_to_ask import price_to_ask
from salebook.start.question import Question, SoFar, word
from salebook.start.spoken_days import DAYS, saturday_in
from salebook.start.spoken_hours import HOURS, NOT_YET
from salebook.start.spoken_money import COST, FEE, NOTHING, PRICE, TARGET, money_for
from salebook.start.spoken_sizes import (
    BAG,
    BALL,
    HEIGHT,
    MOST_SIZE_MM,
    POWER,
    SHELF,
    SHRINKAGE,
    SIZE,
    TOP,
    two_lengths_in,
)

WEEKS_AHEAD: Final = 12
"""Until the sale, where nobody knows the day: time to throw, dry, fire and fire again (judgement)."""
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
LEAST_INSIDE_MM, LEAST_SHELF_MM, ROOM_MM = 600, 460, 60
"""A small kiln, and the room left beside and above a larger piece (judgement)."""
ELECTRICITY_RATE, GAS_RATE = "0.27", "0.08"
"""Examples of what a kilowatt hour costs (invented)."""


def _money(amount: str, says: str = "{amount}") -> Callable[[SoFar], str]:
    """Return what says an example's amount, in the size of the currency."""
    return lambda so_far: _(says).format(amount=money_for(amount, so_far.currency), currency=so_far.currency)


def _usual_of_clay(so_far: SoFar) -> tuple[str, int]:
    name = so_far["clay"].lower()
    return next((usual for clay, usual in CLAYS.items() if clay in name), CLAYS[USUAL_CLAY])


def _usual_size(so_far: SoFar) -> str:
    """Guess a piece's size as a mug's, grown in all directions as its clay is more."""
    grown = (float(so_far["ball"].g) / BALL_G) ** (1 / 3)
    tall, wide = (min(max(10, 5 * round(size * grown / 5)), MOST_SIZE_MM) for size in (TALL_MM, WIDE_MM))
    return f"{tall} mm x {wide} mm"


def _roomy(least_mm: int, side: int, so_far: SoFar) -> str:
    """Return how large a small kiln is, in one direction, in which a piece as thrown has room."""
    sides = so_far["size"] if so_far.was_asked("size") else two_lengths_in(_usual_size(so_far), "")
    piece: Length = sides[side]
    return f"{plain(max(Decimal(least_mm), piece.mm + ROOM_MM) / 10)} cm"


def _such_as_rate(so_far: SoFar) -> str:
    says = _(
        '{price}; your electricity bill says it. For gas add the word, such as "{gas} gas"; for bottles '
        "divide the price of one by the kg of gas in it, and by 13 (about what a kilogram gives; common "
        "practice, no source)"
    )
    price, gas = (money_for(rate, so_far.currency) for rate in (ELECTRICITY_RATE, GAS_RATE))
    return says.format(price=price, gas=gas)


def _usual_rate(so_far: SoFar) -> str:
    if so_far.was_asked("power") and so_far["power"] is None:
        return f"{money_for(GAS_RATE, so_far.currency)} {GAS}"
    return money_for(ELECTRICITY_RATE, so_far.currency)


def _takes_cards(so_far: SoFar) -> bool:
    return bool(so_far["ways"] == CARD)


def _as_for_the_clay(so_far: SoFar) -> str:
    return str(so_far["clay_paid"]) if so_far.was_asked("clay_paid") else ME


_DOZEN: Final = (
    Question(
        key="maker",
        reader=NAME,
        asks=N_("Who makes the pieces? The name as it shall stand on the labels."),
        such_as=N_("Quince Yard pots"),
        assumed=N_("The potter"),
        because=N_("put the name that buyers shall read"),
    ),
    Question(
        key="days",
        reader=DAYS,
        asks=N_("On which day is it, or on which days?"),
        such_as=N_('12 June 2027, or "12 and 13 June 2027"'),
        assumed=lambda so_far: saturday_in(WEEKS_AHEAD, so_far.defaults.today).isoformat(),
        because=N_("a Saturday twelve weeks ahead"),
    ),
    Question(
        key="groups",
        reader=GROUPS,
        asks=N_("Which groups is it for?"),
        such_as=N_("Village library, Youth choir"),
        assumed=N_("A good cause"),
        because=N_("put the name of the group, and ask it first"),
    ),
    Question(
        key="target",
        reader=TARGET,
        asks=N_("How much are they to receive together?"),
        such_as=lambda so_far: f"{money_for('600', so_far.defaults.currency)} {so_far.defaults.currency}",
        assumed=lambda so_far: f"{so_far.defaults.currency} {money_for('300', so_far.defaults.currency)}",
        because=N_("ask the groups what it is for, and what that costs"),
    ),
    Question(
        key="piece",
        reader=PIECE,
        asks=N_("What do you make for it? One kind of piece is enough to begin with."),
        such_as=N_("mug"),
        assumed=N_("mug"),
        because=N_("what most potters make first"),
    ),
    Question(
        key="number",
        reader=NUMBER,
        asks=N_("How many finished ones do you want on the table ({piece})?"),
        such_as=word("40"),
        assumed=word(AS_IT_TAKES),
        because=N_("what makes the target likely enough, where you can make so many"),
    ),
    Question(
        key="price",
        reader=PRICE,
        asks=N_("What shall each of them cost ({piece})?"),
        such_as=_money("16", "{amount} {currency}"),
        assumed=price_to_ask,
        because=N_("what makes the target if nine in ten sell; look at what such a piece costs near you"),
    ),
    Question(
        key="clay",
        reader=NAME,
        asks=N_("Which clay is it made of?"),
        such_as=N_("stoneware"),
        assumed=word(USUAL_CLAY),
        because=N_("look at the bag"),
    ),
    Question(
        key="ball",
        reader=BALL,
        asks=N_("How much clay do you weigh out for one ({piece})?"),
        such_as=N_('450 g, or "1 lb 2 oz"'),
        assumed=word(f"{BALL_G} g"),
        because=N_("weigh out the next one"),
    ),
    Question(
        key="shelf",
        reader=SHELF,
        asks=N_("What are the shelves of your kiln?"),
        such_as=N_('"round 46 cm" or "40 x 45 cm"; "no kiln" where others fire for you'),
        assumed=lambda so_far: f"round {_roomy(LEAST_SHELF_MM, 1, so_far)}",
        because=N_("a small round kiln: measure a shelf"),
    ),
    Question(
        key="energy",
        reader=RATE,
        asks=N_("What does one kilowatt hour cost for your kiln?"),
        such_as=_such_as_rate,
        assumed=_usual_rate,
        because=N_("look at the last energy bill"),
        concerns=has_kiln,
    ),
    Question(
        key="firing_cost",
        reader=COST,
        asks=N_("What will firing cost, all of it? It comes off the takings."),
        such_as=_money("24", N_('{amount}, or "nothing"')),
        assumed=_money("24"),
        because=N_("ask whoever fires for you"),
        concerns=lambda so_far: not has_kiln(so_far),
    ),
    Question(
        key="hall",
        reader=COST,
        asks=N_("What does the hall or the table cost?"),
        such_as=_money("35", N_('{amount}, or "nothing"')),
        assumed=word(NOTHING),
        because=N_("no cost of a hall or a table is taken off"),
    ),
)
"""Those without which a first plan says little: with a kiln at home energy, without one firing_cost."""

_WHO_PAYS: Final = N_('"me", "the takings" or "a sponsor"')

_REST: Final = (
    Question(
        key="title",
        reader=NAME,
        asks=N_("What is the sale called?"),
        such_as=N_("Spring pottery sale"),
        assumed=N_("Pottery sale"),
        because=N_("a name to be going on with"),
    ),
    Question(
        key="open",
        reader=HOURS,
        asks=N_("From when to when is it open on each day?"),
        such_as=N_('"10 to 5", or "not yet"'),
        assumed=word(NOT_YET),
        because=N_("the poster says no hours until the plan does"),
    ),
    Question(
        key="parts",
        reader=PARTS,
        asks=N_("Do they share equally?"),
        such_as=lambda so_far: _('yes, or the parts of each in that order: "{parts}"').format(
            parts=", ".join(["2", *["1"] * (len(so_far["groups"]) - 1)])
        ),
        assumed=word(EQUALLY),
        because=N_("all groups get the same"),
        offered=word(EQUALLY),
        concerns=lambda so_far: len(so_far["groups"]) > 1,
    ),
    Question(
        key="bag",
        reader=BAG,
        asks=N_("How much clay is in a bag, and what does a bag cost?"),
        such_as=_money("15", N_("12.5 kg at {amount}")),
        assumed=lambda so_far: f"12.5 kg at {money_for('15', so_far.currency)}",
        because=N_("look at the last bill"),
    ),
    Question(
        key="shrinkage",
        reader=SHRINKAGE,
        asks=N_("How much does the clay shrink, from wet to fired?"),
        such_as=N_('12 %, or "10 cm becomes 8.8 cm"'),
        assumed=lambda so_far: _usual_of_clay(so_far)[0],
        because=N_(
            "usual for such a clay, by common practice: mark 10 cm on a test bar, fire it and measure"
        ),
        offered=lambda so_far: _usual_of_clay(so_far)[0],
    ),
    Question(
        key="size",
        reader=SIZE,
        asks=N_("How tall and how wide is one as you throw it, by your stick?"),
        such_as=N_('11 x 9.5 cm, or "4 1/2 in x 3 3/4 in"'),
        assumed=_usual_size,
        because=N_("guessed from the clay in it: measure one that is just thrown, lip and handle included"),
    ),
    Question(
        key="inside",
        reader=HEIGHT,
        asks=N_("How high is it inside, from the lowest shelf to the lid?"),
        such_as=N_("60 cm"),
        assumed=lambda so_far: _roomy(LEAST_INSIDE_MM, 0, so_far),
        because=N_("a small kiln: measure it inside"),
        concerns=has_kiln,
    ),
    Question(
        key="shelves",
        reader=SHELVES,
        asks=N_("How many shelves do you have for it?"),
        such_as=word("4"),
        assumed=word(AS_FIT),
        because=N_("as many shelves are taken as there is room for"),
        concerns=has_kiln,
    ),
    Question(
        key="power",
        reader=POWER,
        asks=N_("How many kW? (metal plate on the kiln)"),
        such_as=N_('7.2 kW, or "gas"'),
        assumed=lambda so_far: GAS if so_far["energy"].gas else "7.2 kW",
        because=N_("a small electric kiln, or gas where its price was said: read the plate"),
        concerns=has_kiln,
    ),
    Question(
        key="biscuit",
        reader=TOP,
        asks=N_("How hot does your biscuit firing become?"),
        such_as=N_('1000 °C, or "1832 °F"'),
        assumed=word("1000 °C"),
        because=N_("common practice: look at your firing book"),
        concerns=has_kiln,
    ),
    Question(
        key="glaze",
        reader=TOP,
        asks=N_("How hot does your glaze firing become?"),
        such_as=N_('1240 °C, or "2264 °F"'),
        assumed=lambda so_far: f"{_usual_of_clay(so_far)[1]} °C",
        because=N_("common practice for such a clay: the bags of clay and glaze say it"),
        concerns=has_kiln,
    ),
    Question(
        key="clay_paid",
        reader=PAYER,
        asks=N_("Who pays for the clay?"),
        such_as=_WHO_PAYS,
        assumed=word(ME),
        because=N_("the maker pays for the clay"),
        offered=_as_for_the_clay,
    ),
    Question(
        key="firing_paid",
        reader=PAYER,
        asks=N_("Who pays for the firings?"),
        such_as=_WHO_PAYS,
        assumed=word(ME),
        because=N_("the maker pays for the firings"),
        offered=_as_for_the_clay,
        concerns=has_kiln,
    ),
    Question(
        key="hall_paid",
        reader=PAYER,
        asks=N_("Who pays for the hall or the table?"),
        such_as=_WHO_PAYS,
        assumed=word(TAKINGS),
        because=N_("it comes off the takings"),
        offered=word(TAKINGS),
        concerns=lambda so_far: bool(so_far["hall"]),
    ),
    Question(
        key="ways",
        reader=WAY,
        asks=N_("How can people pay?"),
        such_as=N_('"cash only" or "cash and card"'),
        assumed=word(CASH),
        because=N_("everybody pays in cash"),
    ),
    Question(
        key="fee",
        reader=FEE,
        asks=N_("What does the card firm take of each payment?"),
        such_as=N_('1.69 %, or "1.4 % + 0.20"'),
        assumed=word("1.75 %"),
        because=N_("look at the card firm's terms"),
        concerns=_takes_cards,
    ),
    Question(
        key="cards",
        reader=OF_TEN,
        asks=N_("Of ten buyers, how many pay by card?"),
        such_as=word("6"),
        assumed=word("6"),
        because=N_("six in ten pay by card: ask somebody who sold there before"),
        concerns=_takes_cards,
    ),
)

QUESTIONS: Final = (*_DOZEN, *_REST)
"""All questions in order."""
FIRST: Final = len(_DOZEN)
