"""The price to ask for one piece where nobody knows: what makes the target, as far as one can tell."""

from decimal import Decimal
from typing import Any, Final

from salebook.plan.money import ZERO, rounded_up_to_step
from salebook.plan.quantities import plain
from salebook.plan.studio import Ware
from salebook.start.choices import BUYERS, CARD, TAKINGS
from salebook.start.question import SoFar
from salebook.start.spoken_money import money_for

SELLS: Final[Decimal] = Ware.model_fields["sells"].default
USUAL: Final = "16"
"""Where the number goes by the target, and so by the price (judgement)."""


def price_to_ask(so_far: SoFar) -> str:
    """Return the smallest price on the step at which the target can be expected.

    Off each goes what the card firm takes on average, off all of them what the takings pay for. Where it is
    not known how many are offered, it is a usual price.
    """
    number = _said(so_far, "number")
    if not number:
        return money_for(USUAL, so_far.currency)
    percent, fixed = _fees(so_far)
    each = (so_far["target"].amount + _costs(so_far)) / (number * SELLS)
    step = Decimal(money_for("0.50", so_far.currency))
    return plain(rounded_up_to_step((each + fixed) / (1 - percent / 100), step))


def _said(so_far: SoFar, key: str) -> Any:
    return so_far[key] if so_far.was_asked(key) else None


def _costs(so_far: SoFar) -> Decimal:
    hall = ZERO if _said(so_far, "hall_paid") not in {None, TAKINGS} else _said(so_far, "hall") or ZERO
    return Decimal(hall + (_said(so_far, "firing_cost") or ZERO))


def _fees(so_far: SoFar) -> tuple[Decimal, Decimal]:
    """Return per cent and money that go for fees on average."""
    if _said(so_far, "ways") != CARD or not so_far.was_asked("fee"):
        return ZERO, ZERO
    by_card = Decimal(_said(so_far, "cards") or 0) / BUYERS
    percent, fixed = so_far["fee"]
    return percent * by_card, fixed * by_card
