"""Money as people say it: "£1,800", "20p", "12 euros"; and what a card firm takes."""

import re
from decimal import Decimal
from typing import Final, NamedTuple

from babel.numbers import get_currency_symbol

from salebook.base.errors import UnfitError
from salebook.base.words import N_, _
from salebook.plan.money import MOST_MONEY, format_money, is_currency, is_finer_than_coins, minor_digits
from salebook.plan.quantities import parse_number, plain
from salebook.start.question import Reader, SoFar
from salebook.start.spoken_numbers import in_digits

SIGNS: Final = {
    "£": "GBP",
    "pound": "GBP",
    "pounds": "GBP",
    "€": "EUR",
    "euro": "EUR",
    "euros": "EUR",
    "fr": "CHF",
    "franc": "CHF",
    "francs": "CHF",
    "¥": "JPY",
    "yen": "JPY",
}
"""Currencies by what people write for them; dollars and crowns are those of the place."""
DOLLARS: Final = ("$", "dollar", "dollars")
CROWNS: Final = ("kr", "krona", "krone", "kroner", "kronor", "crown", "crowns")
CROWN_CURRENCIES: Final = ("SEK", "NOK", "DKK", "ISK", "CZK")
MINOR_UNITS: Final = ("p", "penny", "pence", "c", "ct", "cent", "cents", "rp", "öre", "øre")
MOST_PERCENT: Final = 100
NOTHING: Final = "nothing"


class Money(NamedTuple):
    """An amount in a currency."""

    amount: Decimal
    currency: str

    def to_text(self) -> str:
        """Say the amount such that it reads the same again."""
        return f"{self.currency} {plain(self.amount)}"


_PARTS = re.compile(r"(?P<before>[^\d.,]*)(?P<number>[\d.,' ’]*\d)(?P<after>[^\d]*)")
_FOR_ONE = re.compile(
    r"\s*(?:\b(?:each|apiece)|(?:\b(?:an?|per|for an?)\s+|/\s*)"
    r"(?:bag|pack|piece|unit|kwh|kilowatt[ -]?hour))$",
    re.IGNORECASE,
)
FREE: Final = (N_("nothing"), N_("none"), N_("free"), N_("no"))
"""What people say for no money: in English, as answers are kept, or in their own language."""


def amount_in(text: str, currency: str, *, above_nothing: bool = False, finer: bool = False) -> Decimal:
    """Read an amount in a currency; raises UnfitError, also where another currency is meant."""
    amount, meant = amount_and_currency(text, currency, finer=finer)
    if meant != currency:
        says = _(
            "an amount in {currency}, as the target; for other money go back to the target and name it there"
        )
        raise UnfitError(says.format(currency=currency))
    if above_nothing and not amount:
        raise UnfitError(_("an amount above 0"))
    return amount


def amount_and_currency(text: str, usual: str, *, finer: bool = False) -> Money:
    """Read an amount and its currency, the usual one where none is named; raises UnfitError.

    `finer` lets a rate pass that is finer than the smallest coin.
    """
    text = _FOR_ONE.sub("", in_digits(text))
    if text.lower() in {*FREE, *map(_, FREE)}:
        return Money(Decimal(0), usual)
    expected = _("an amount of money, such as {example}").format(example=f"{_sign(usual)}120")
    parts = _PARTS.fullmatch(text)
    if parts is None:
        raise UnfitError(expected)
    words = [parts["before"].strip(), parts["after"].strip(" .-–")]
    currency, is_minor = _currency_of([word.lower() for word in words if word], usual, expected)
    digits = minor_digits(currency)
    amount = _number(parts["number"], expected, grouped=digits < 3 and not finer)
    amount = amount / 10**digits if is_minor else amount
    if (is_finer_than_coins(amount, currency) and not finer) or amount > MOST_MONEY:
        says = _("an amount with at most {digits} decimal places")
        raise UnfitError(says.format(digits=digits))
    return Money(amount, currency)


def fee_in(text: str, currency: str) -> tuple[Decimal, Decimal]:
    """Read "1.69 % + 20p" as the per cent of the amount and the sum for each payment; raises UnfitError."""
    percent, fixed = Decimal(0), Decimal(0)
    for part in re.split(r"\+|&|\bplus\b|\band\b", in_digits(text).lower()):
        share = re.fullmatch(r"\s*([\d.,]+)\s*(?:%|per ?cent|percent)(?:\s+of .*)?\s*", part)
        if share:
            percent += _number(share[1], _fee_words(), grouped=False)
        else:
            fixed += _sum_in(part, currency)
    if percent > MOST_PERCENT:
        raise UnfitError(_fee_words())
    return percent, fixed


def format_fee(percent: Decimal, fixed: Decimal) -> str:
    """Say a fee such that it reads the same again."""
    return f"{plain(percent)} % + {plain(fixed)}" if fixed else f"{plain(percent)} %"


def _sum_in(text: str, currency: str) -> Decimal:
    try:
        return amount_in(text, currency)
    except UnfitError as trouble:
        raise UnfitError(_fee_words()) from trouble


def _fee_words() -> str:
    return _('a part of the amount, a sum for each payment, or both, such as "1.69 % + 0.10"')


def _sign(currency: str) -> str:
    symbol = get_currency_symbol(currency, "en")
    return symbol if len(symbol) == 1 else f"{symbol} "


def _currency_of(words: list[str], usual: str, expected: str) -> tuple[str, bool]:
    """Return the currency that the words beside a number name, and whether they name its minor unit."""
    known = {get_currency_symbol(usual, "en").lower(): usual, **SIGNS}
    if len(words) > 1:
        raise UnfitError(expected)
    word = words[0].rstrip(".") if words else ""
    if word in MINOR_UNITS:
        return usual, True
    if word in {"", *DOLLARS, *CROWNS}:
        return _of_the_place(word, usual), False
    if word in known:
        return known[word], False
    if is_currency(word.upper()):
        return word.upper(), False
    raise UnfitError(expected)


def _of_the_place(word: str, usual: str) -> str:
    """Return the usual currency, or US dollars where "$" is said in a place without dollars of its own.

    Raises UnfitError for crowns in a place without its own.
    """
    if word in CROWNS and usual not in CROWN_CURRENCIES:
        says = _("the currency by its code, since several have crowns: {codes}")
        raise UnfitError(says.format(codes=", ".join(CROWN_CURRENCIES)))
    if word in DOLLARS and not get_currency_symbol(usual, "en").endswith("$"):
        return "USD"
    return usual


def _number(text: str, expected: str, *, grouped: bool) -> Decimal:
    """Read a number; with `grouped` three digits after a comma or a point are thousands."""
    if re.search(r"[.,]\s|\s(?!\d{3}(?!\d))", text):
        raise UnfitError(_("one amount: {expected}").format(expected=expected))
    if grouped:
        return parse_number(text, expected, point="", thousands=".,")
    return parse_number(text, expected)


def money_for(amount: str, currency: str) -> str:
    """Return an example's amount in a currency's own size: a hundred times as much without minor units."""
    return plain(Decimal(amount) * (1 if minor_digits(currency) else 100))


def _read_target(text: str, so_far: SoFar) -> Money:
    target = amount_and_currency(text, so_far.defaults.currency)
    if not target.amount:
        raise UnfitError(_("an amount above 0: it may be a small one, and it can be changed later"))
    return target


def _cost_in_words(cost: Decimal, so_far: SoFar) -> str:
    return format_money(cost, so_far.currency, so_far.defaults.locale) if cost else NOTHING


TARGET: Final = Reader(
    read=_read_target,
    words=Money.to_text,
    in_words=lambda target, so_far: format_money(target.amount, target.currency, so_far.defaults.locale),
)
PRICE: Final = Reader(
    read=lambda text, so_far: amount_in(text, so_far.currency, above_nothing=True),
    words=plain,
    in_words=_cost_in_words,
)
COST: Final = Reader(
    read=lambda text, so_far: amount_in(text, so_far.currency),
    words=lambda cost: plain(cost) if cost else NOTHING,
    in_words=_cost_in_words,
)
FEE: Final = Reader(
    read=lambda text, so_far: fee_in(text, so_far.currency), words=lambda fee: format_fee(*fee)
)
