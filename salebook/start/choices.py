"""Answers in fixed words, and what else people say for them."""

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Final

from salebook.base.words import _
from salebook.plan.fields import UnfitError, name
from salebook.plan.money import minor_digits
from salebook.plan.quantities import plain
from salebook.start.question import SoFar

AND: Final = re.compile(r"\band\b|[&+]", re.IGNORECASE)

AS_IT_TAKES: Final = "as many as it takes"
AS_FIT: Final = "as many as fit"
EQUALLY: Final = "equally"
NOTHING: Final = "nothing"
NO_KILN: Final = "no kiln"
GAS: Final = "gas"

ME, TAKINGS, SPONSOR = "me", "the takings", "a sponsor"
PAYERS: Final[Mapping[str, tuple[str, ...]]] = {
    ME: ("i", "myself", "we", "us", "maker", "the maker", "i do", "we do", "i pay"),
    TAKINGS: ("takings", "sale", "the sale", "the groups", "groups", "from the takings"),
    SPONSOR: ("sponsor", "sponsors", "somebody else", "someone else", "given", "it is given"),
}

BUYERS: Final = 10
"""Of so many buyers it is asked how many pay by card."""

CASH, CARD = "cash only", "cash and card"
WAYS: Final[Mapping[str, tuple[str, ...]]] = {
    CASH: ("cash", "only cash", "no", "no card", "no cards"),
    CARD: ("card", "cards", "both", "yes", "card and cash", "cash and cards", "cash, card"),
}


def name_in(text: str) -> str:
    """Return a name, which is not empty; raises UnfitError."""
    if not text.strip():
        raise UnfitError(_("a name"))
    return name(text)


def one_of(text: str, choices: Mapping[str, tuple[str, ...]]) -> str:
    """Return the choice that a text says in its own or in other words; raises UnfitError."""
    said = text.strip().lower().rstrip(".")
    for choice, others in choices.items():
        if said == choice or said in others:
            return choice
    quoted = [f'"{choice}"' for choice in choices]
    says = _("{some} or {last}")
    raise UnfitError(says.format(some=", ".join(quoted[:-1]), last=quoted[-1]))


def has_kiln(so_far: SoFar) -> bool:
    """Whether the maker fires the pieces in a kiln of their own, as far as one knows."""
    return not so_far.was_asked("shelf") or bool(so_far["shelf"])


def money_for(amount: str, currency: str) -> str:
    """Return an example's amount in a currency's own size: a hundred times as much without minor units."""
    return plain(Decimal(amount) * (1 if minor_digits(currency) else 100))
