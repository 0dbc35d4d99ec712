"""From the answers to the text of a plan file (plan.toml beside this), with a comment at what was assumed."""

import re
import unicodedata
from decimal import Decimal
from functools import lru_cache
from importlib.resources import files
from typing import Final

from jinja2 import Environment, StrictUndefined, Template

from salebook import start
from salebook.base.words import _
from salebook.plan.model import USUAL_LOSSES
from salebook.plan.quantities import Temperature, plain
from salebook.start.choices import BUYERS, ME, SPONSOR, TAKINGS
from salebook.start.plan_toml import WHAT_IT_IS, comment_lines, quoted
from salebook.start.question import SoFar
from salebook.start.questions import QUESTIONS
from salebook.start.spoken_money import money_for

LOCALES: Final = {
    "AUD": "en_AU",
    "CAD": "en_CA",
    "CHF": "en_CH",
    "EUR": "en_IE",
    "GBP": "en_GB",
    "NZD": "en_NZ",
    "USD": "en_US",
}
"""How amounts and dates are written where the money is not that of the place; English words, and as in
Britain for any other currency."""
MET_BY: Final = {ME: "maker", TAKINGS: "sale", SPONSOR: "sponsor"}
LONGEST_CODE: Final = 3

RISE_C, RATE_BELOW, RATE_ABOVE, SOAK_MIN = 600, 100, 150, 15
"""A usual schedule: slow to 600 °C, then faster to the top and a short soak (common practice, no source)."""

_DEMAND: Final = (
    (Decimal("0.8"), "0.95"),
    (Decimal(1), "0.85"),
    (Decimal("1.25"), "0.6"),
    (Decimal("1.6"), "0.25"),
)
"""How an example's demand falls as the price rises by so much (invented)."""


def assumed_in(text: str) -> int:
    """Return how many comments of a plan's text say what was assumed."""
    return text.count(_comment(_("Assumed: {value} ({because}).").partition("{")[0]).rstrip())


def plan_text(so_far: SoFar, *, example: bool = False) -> str:
    """Return the plan that the answers make.

    Above each value that nobody knew a comment says what was assumed and why; with `example`, that it is one.
    """
    said = {key: answer.value for key, answer in so_far.answers.items()}
    reasons = {question.key: question.because for question in QUESTIONS}

    def guess(key: str) -> str:
        if so_far.answers[key].known:
            return ""
        says = _("Example: {value} ({because}).") if example else _("Assumed: {value} ({because}).")
        return _comment(says.format(value=so_far.answers[key].words, because=_(reasons[key])))

    return _template().render(
        said=said,
        guess=guess,
        mark="" if example else "# ",
        payers=_("who pays: maker, sale (the takings) or sponsor"),
        locale=_locale(so_far),
        parts=said.get("parts") or [1] * len(said["groups"]),
        code=code_of(said["piece"]),
        losses=USUAL_LOSSES,
        demand=_demand(said["price"], Decimal(money_for("0.50", so_far.currency))),
        cards=Decimal(said.get("cards", 0)) / BUYERS,
    )


def code_of(name: str) -> str:
    """Return a code made of a name's first letters: "Pouring jug" is POU."""
    bare = unicodedata.normalize("NFKD", name).upper()
    letters = re.sub(r"[^A-Z0-9]", "", bare)
    return re.sub(r"^[0-9]+", "", letters)[:LONGEST_CODE] or "P"


@lru_cache
def _template() -> Template:
    surroundings = Environment(  # noqa: S701  a plan is no page: TOML has its own marks, see quoted
        undefined=StrictUndefined, trim_blocks=True, keep_trailing_newline=True
    )
    surroundings.filters |= {"quoted": quoted, "plain": plain, "steps": _steps}
    surroundings.globals |= {"_": _, "comment": _comment, "met_by": MET_BY, "what_it_is": WHAT_IT_IS}
    return surroundings.from_string((files(start) / "plan.toml").read_text(encoding="utf-8"))


def _comment(text: str) -> str:
    """Write a text as comment lines."""
    return "".join(f"{line}\n" for line in comment_lines(text))


def _locale(so_far: SoFar) -> str:
    defaults, currency = so_far.defaults, so_far.currency
    return defaults.locale if currency == defaults.currency else LOCALES.get(currency, "en_GB")


def _demand(price: Decimal, step: Decimal) -> list[tuple[Decimal, str]]:
    return [(max(step, round(price * by / step) * step), share) for by, share in _DEMAND]


def _steps(top: Temperature) -> str:
    to = plain(top.amount) if top.unit == "C" else quoted(top.to_text())
    if top.celsius <= RISE_C:
        return f"[{{ rate = {RATE_BELOW}, to = {to}, hold = {SOAK_MIN} }}]"
    rise = f"{{ rate = {RATE_BELOW}, to = {RISE_C} }}"
    return f"[{rise}, {{ rate = {RATE_ABOVE}, to = {to}, hold = {SOAK_MIN} }}]"
