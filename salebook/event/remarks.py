"""What may need a look on a line of takings, and how that is said in a few words."""

from dataclasses import dataclass
from enum import Enum, unique
from typing import Final

from salebook.base.words import N_, _

FAR_ABOVE: Final = 5
"""An amount of so many times the list price is one digit too many, or has a gift in it."""


@unique
class Remark(Enum):
    """What may need a look; the value is how it is said, to be looked up in the chosen language."""

    NOT_A_NUMBER = N_("not a number")
    WITH_A_MINUS = N_("type it without a minus")
    NO_SUCH_KIND = N_("no such kind")
    WHICH_PIECE = N_("which piece, or kind?")
    WHICH_WARE = N_("which ware?")
    NO_SUCH_PIECE = N_("unknown: write as in {subject}")
    NO_PIECE_HERE = N_("no piece belongs here")
    ONE_NUMBER_ONE_PIECE = N_("one number, one piece")
    GIVEN_BACK_BEFORE = N_("type the refund's sum")
    SOLD_TWICE = N_("sold twice")
    DEPOSIT_IS_PAID = N_("deposit paid: balance?")
    PAID_WITH_THE_ORDER = N_("part paid: how much?")
    GIVEN_AWAY = N_("given away? see Pieces")
    HOW_MUCH = N_("how much?")
    NOTHING_LEFT = N_("nothing left to pay")
    NOTHING_TO_GIVE_BACK = N_("nothing to give back")
    MORE_THAN_PAID = N_("too much given back")
    FAR_ABOVE_PRICE = N_("far above price: gift?")
    NOT_OUT_OF_THE_KILN = N_("not out of the kiln")
    MARKED_AS = N_("marked as {subject}")
    RESERVED_FOR = N_("reserved for {subject}")
    CLAIM_NUMBER = N_("claim number?")
    NO_SUCH_GROUP = N_("no such group")
    NO_SUCH_WAY = N_("no such way to pay")
    HOW_WAS_IT_PAID = N_("how was it paid?")
    PAID_TO_ANOTHER = N_("paid to another group")
    NOT_A_DATE = N_("not a date")


@dataclass(frozen=True)
class LineRemark:
    """A remark on a line; `subject` is the claim number, the mark or the piece that it names."""

    kind: Remark
    subject: str = ""


def say(remark: Remark, subject: str = "") -> str:
    """Return a remark in the chosen language."""
    return _(remark.value).format(subject=subject)


def in_words(remark: LineRemark | None) -> str:
    """Return the remark on a line in the chosen language; empty where there is none."""
    return say(remark.kind, remark.subject) if remark else ""
