"""From the answers to the text of a plan file (plan.toml beside this), with a comment at what was assumed."""

import json
import re
import textwrap
import unicodedata
from collections.abc import Iterator, Sequence
from decimal import Decimal
from functools import lru_cache
from importlib.resources import files
from typing import Final

from jinja2 import Environment, StrictUndefined, Template

from salebook import start
from salebook.plan.model import USUAL_LOSSES
from salebook.plan.quantities import Temperature, plain
from salebook.start.choices import (
    AS_FIT,
    AS_IT_TAKES,
    CARD,
    EQUALLY,
    GAS,
    ME,
    NOTHING,
    SPONSOR,
    TAKINGS,
    has_kiln,
    money_for,
)
from salebook.start.energy_price import rate_of
from salebook.start.groups import groups_of
from salebook.start.question import Question, SoFar
from salebook.start.sale_questions import BUYERS
from salebook.start.spoken_money import fee_in
from salebook.start.spoken_sizes import shrinkage_in
from salebook.start.studio_questions import shelf_of, size_of
from salebook.words import _

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
WIDTH: Final = 100
DELETE: Final = "\x7f"

RISE_C, RATE_BELOW, RATE_ABOVE, SOAK_MIN = 600, 100, 150, 15
"""A usual schedule: slow to 600 °C, then faster to the top and a short soak (common practice, no source)."""

_DEMAND: Final = (
    (Decimal("0.8"), "0.95"),
    (Decimal(1), "0.85"),
    (Decimal("1.25"), "0.6"),
    (Decimal("1.6"), "0.25"),
)
"""How an example's demand falls as the price rises by so much (invented)."""


def plan_text(questions: Sequence[Question], so_far: SoFar, *, example: bool = False) -> str:
    """Return the plan that the answers make.

    Above each value that nobody knew a comment says what was assumed and why; with `example`, that it is one.
    """
    said = {key: answer.text for key, answer in so_far.answers.items()}
    reasons = {question.key: question.because for question in questions}

    def guess(key: str) -> str:
        if so_far.answers[key].known:
            return ""
        says = _("Example: {value} ({because}).") if example else _("Assumed: {value} ({because}).")
        return _comment(says.format(value=said[key], because=reasons[key]))

    return _template().render(
        said=said,
        guess=guess,
        mark="" if example else "# ",
        payers=_("who pays: maker, sale (the takings) or sponsor"),
        met_by={key: MET_BY[text] for key, text in said.items() if text in MET_BY},
        **_sale(so_far),
        **_ware(so_far),
        **(_kiln(so_far) if has_kiln(so_far) else {"shelf": ()}),
        **_payments(so_far),
    )


def code_of(name: str) -> str:
    """Return a code made of a name's first letters: "Pouring jug" is POU."""
    bare = unicodedata.normalize("NFKD", name).upper()
    letters = re.sub(r"[^A-Z0-9]", "", bare)
    return re.sub(r"^[0-9]+", "", letters)[:LONGEST_CODE] or "P"


@lru_cache
def _template() -> Template:
    surroundings = Environment(  # noqa: S701  a plan is no page: TOML has its own marks, see _quoted
        undefined=StrictUndefined, trim_blocks=True, keep_trailing_newline=True
    )
    surroundings.filters["quoted"] = _quoted
    surroundings.globals |= {
        **{"_": _, "comment": _comment},
        **{"AS_IT_TAKES": AS_IT_TAKES, "AS_FIT": AS_FIT, "GAS": GAS, "NOTHING": NOTHING},
    }
    return surroundings.from_string((files(start) / "plan.toml").read_text(encoding="utf-8"))


def _comment(text: str) -> str:
    """Write a text as comment lines."""
    return "".join(f"# {line}\n" for line in textwrap.wrap(text, WIDTH))


def _quoted(text: str) -> str:
    """Write a text as TOML does, whatever letters it holds."""
    return json.dumps(text, ensure_ascii=False).replace(DELETE, "\\u007f")


def _sale(so_far: SoFar) -> dict[str, object]:
    names, home, currency = groups_of(so_far), so_far.home, so_far.currency
    parts = so_far["parts"] if so_far.was_asked("parts") else EQUALLY
    each = ["1"] * len(names) if parts == EQUALLY else parts.split(", ")
    return {
        "locale": home.locale if currency == home.currency else LOCALES.get(currency, "en_GB"),
        "currency": currency,
        "target": so_far["target"].split()[1],
        "groups": list(zip(names, each, strict=True)),
    }


def _ware(so_far: SoFar) -> dict[str, object]:
    pack, pack_price = so_far["bag"].split(" at ")
    tall, wide = size_of(so_far)
    name = so_far["piece"]
    return {
        **{"pack": pack, "pack_price": pack_price, "tall": tall.said(), "wide": wide.said()},
        "shrinkage": plain(shrinkage_in(so_far["shrinkage"])),
        "code": code_of(name),
        "ware": name[:1].upper() + name[1:],
        "losses": "{ " + ", ".join(f"{stage} = {share}" for stage, share in USUAL_LOSSES) + " }",
        "demand": _demand(Decimal(so_far["price"]), Decimal(money_for("0.50", so_far.currency))),
    }


def _demand(price: Decimal, step: Decimal) -> str:
    points = [(max(step, round(price * by / step) * step), share) for by, share in _DEMAND]
    return "[" + ", ".join(f"[{plain(at)}, {share}]" for at, share in points) + "]"


def _kiln(so_far: SoFar) -> dict[str, object]:
    return {
        "shelf": [side.said() for side in shelf_of(so_far)],
        "power": so_far["power"].partition(" ")[0],
        "rate": plain(rate_of(so_far["energy"])),
        "steps": {stage: f"[{', '.join(_steps(so_far[stage]))}]" for stage in ("biscuit", "glaze")},
    }


def _payments(so_far: SoFar) -> dict[str, object]:
    takes_cards = so_far["ways"] == CARD
    cards = Decimal(so_far["cards"]) / BUYERS if takes_cards else Decimal(0)
    fee = map(plain, fee_in(so_far["fee"], so_far.currency)) if takes_cards else ()
    return {"cash_share": plain(1 - cards), "card_share": plain(cards), "fee": list(fee)}


def _steps(top: str) -> Iterator[str]:
    reads = Temperature.parse(top)
    to = plain(reads.amount) if reads.unit == "C" else _quoted(top)
    if reads.celsius <= RISE_C:
        yield f"{{ rate = {RATE_BELOW}, to = {to}, hold = {SOAK_MIN} }}"
        return
    yield f"{{ rate = {RATE_BELOW}, to = {RISE_C} }}"
    yield f"{{ rate = {RATE_ABOVE}, to = {to}, hold = {SOAK_MIN} }}"
