"""From the answers to the text of a plan file, with a comment wherever something was only assumed."""

import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Final

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
from salebook.start.toml_lines import comments, line, quoted
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

RISE_C, RATE_BELOW, RATE_ABOVE, SOAK_MIN = 600, 100, 150, 15
"""A usual schedule: slow to 600 °C, then faster to the top and a short soak (common practice, no source)."""
GAS_KW, BURNER = "10", "0.2"
"""For gas, until they are known: heat to the chamber, and the share of the fuel's heat that gets there."""


def plan_text(questions: Sequence[Question], so_far: SoFar, *, example: bool = False) -> str:
    """Return the plan that the answers make.

    Above each value that nobody knew a comment says what was assumed and why; with `example`, that it is one.
    """
    text = _Text(so_far=so_far, reasons={one.key: one.because for one in questions}, example=example)
    blocks = (
        text.head(),
        text.sale(),
        *text.groups(),
        text.clay(),
        text.ware(),
        *(text.kiln() if has_kiln(so_far) else ()),
        *text.overheads(),
        *text.payments(),
        text.outlooks(),
    )
    return "\n\n".join("\n".join(block) for block in blocks) + "\n"


def code_of(name: str) -> str:
    """Return a code made of a name's first letters: "Pouring jug" is POU."""
    bare = unicodedata.normalize("NFKD", name).upper()
    letters = re.sub(r"[^A-Z0-9]", "", bare)
    return re.sub(r"^[0-9]+", "", letters)[:LONGEST_CODE] or "P"


class _Text:
    """The blocks of one plan."""

    def __init__(self, *, so_far: SoFar, reasons: Mapping[str, str], example: bool) -> None:
        self.so_far = so_far
        self.reasons = reasons
        self.example = example

    def head(self) -> Iterator[str]:
        """Write what stands above everything."""
        yield from comments(
            _(
                "A plan for salebook. Change what you like in any text editor: salebook check says whether "
                "it is sound, salebook price what it comes to. Lines that begin with # are notes for people."
            )
        )
        yield "format = 1"

    def sale(self) -> Iterator[str]:
        """Write [sale]."""
        currency = self.so_far.currency
        yield "[sale]"
        yield from self._said("title", "title", quoted(self.so_far["title"]))
        yield from self._said("maker", "maker", quoted(self.so_far["maker"]))
        yield from self._said("days", "days", f"[{self.so_far['days']}]")
        yield line("locale", quoted(self._locale()), _("how amounts and dates are written"))
        yield line("currency", quoted(currency))
        yield from self._said(
            "target", "target", self.so_far["target"].split()[1], _("what the groups are to receive together")
        )
        if self.so_far["number"] == AS_IT_TAKES:
            yield line("confidence", "0.9", _("how sure the target shall be"))

    def groups(self) -> Iterator[Iterator[str]]:
        """Write [[beneficiaries]], once for each group."""
        names = groups_of(self.so_far)
        parts = self.so_far["parts"] if self.so_far.was_asked("parts") else EQUALLY
        each = ["1"] * len(names) if parts == EQUALLY else parts.split(", ")
        for place, (name, part) in enumerate(zip(names, each, strict=True)):
            yield self._group(name, part, first=place == 0, shared=len(names) > 1)

    def clay(self) -> Iterator[str]:
        """Write [[clays]]."""
        pack, price = self.so_far["bag"].split(" at ")
        share = shrinkage_in(self.so_far["shrinkage"])
        yield "[[clays]]"
        yield from self._said("clay", "name", quoted(self.so_far["clay"]))
        yield from self._said("bag", "pack", quoted(pack), _("a bag"))
        yield line("pack_price", price)
        yield from self._said("shrinkage", "shrinkage", plain(share), _("from wet to fired"))
        yield from self._said("clay_paid", "met_by", quoted(MET_BY[self.so_far["clay_paid"]]), _payers())

    def ware(self) -> Iterator[str]:
        """Write [[wares]]."""
        tall, wide = size_of(self.so_far)
        name = self.so_far["piece"]
        yield from comments(_("For another kind of piece write this block again, with a code of its own."))
        yield "[[wares]]"
        yield line("code", quoted(code_of(name)), _("begins the number of each piece"))
        yield from self._said("piece", "name", quoted(name[:1].upper() + name[1:]))
        yield from self._number()
        yield from self._said("price", "price", self.so_far["price"])
        yield line("clay", quoted(self.so_far["clay"]))
        yield from self._said("ball", "ball", quoted(self.so_far["ball"]), _("clay weighed out for one"))
        yield from self._said("size", "made_height", quoted(tall.said()), _("as thrown"))
        yield line("made_diameter", quoted(wide.said()), _("as thrown, lip and handle included"))
        yield from self._unasked(
            "losses",
            _usual_losses(),
            _("share lost at each stage (common practice): keep a tally of one batch"),
        )
        yield from self._unasked("demand", self._demand(), _("[price, share that sells]: ask ten people"))

    def kiln(self) -> Iterator[Iterator[str]]:
        """Write [kiln], [[firings]] and [energy]."""
        yield self._kiln()
        yield self._firing("biscuit")
        yield self._firing("glaze")
        yield self._energy()

    def overheads(self) -> Iterator[Iterator[str]]:
        """Write [[overheads]] where something costs something."""
        if self.so_far.was_asked("firing_cost") and self.so_far["firing_cost"] != NOTHING:
            yield self._overhead("firing_cost", _("firing"), "sale")
        if self.so_far["hall"] != NOTHING:
            yield self._overhead("hall", _("hall"), MET_BY[self.so_far["hall_paid"]], payer="hall_paid")
        elif not self.so_far.answers["hall"].known:
            yield iter(self._guessed("hall"))

    def payments(self) -> Iterator[Iterator[str]]:
        """Write [[payments]]."""
        cards = Decimal(self.so_far["cards"]) / BUYERS if self.so_far["ways"] == CARD else Decimal(0)
        yield self._cash(1 - cards)
        if self.so_far["ways"] == CARD:
            yield self._card(cards)

    def outlooks(self) -> Iterator[str]:
        """Write [[outlooks]]: live in an example, else as a comment to take the marks from."""
        mark = "" if self.example else "# "
        says = _("How the day may go: without these each piece is taken to sell or not by itself.")
        yield from comments(says)
        for name, weight, factor in (("quiet", 1, "0.7"), ("usual", 2, "1"), ("busy", 1, "1.15")):
            yield f"{mark}[[outlooks]]"
            yield f"{mark}name = {quoted(name)}"
            yield f"{mark}weight = {weight}"
            yield f"{mark}factor = {factor}"

    def _said(self, key: str, plan_key: str, value: str, comment: str = "") -> Iterator[str]:
        """Write the answer to a question under its key of the plan."""
        yield from self._guessed(key)
        yield line(plan_key, value, comment)

    def _guessed(self, key: str) -> Iterator[str]:
        if not self.so_far.answers[key].known:
            says = _("Example: {value} ({because}).") if self.example else _("Assumed: {value} ({because}).")
            yield from comments(says.format(value=self.so_far[key], because=self.reasons[key]))

    def _unasked(self, plan_key: str, value: str, comment: str) -> Iterator[str]:
        """Write a key that no question asks for: live in an example, else to take the mark from."""
        yield ("" if self.example else "# ") + line(plan_key, value, comment)

    def _locale(self) -> str:
        home, currency = self.so_far.home, self.so_far.currency
        return home.locale if currency == home.currency else LOCALES.get(currency, "en_GB")

    def _group(self, name: str, part: str, *, first: bool, shared: bool) -> Iterator[str]:
        yield "[[beneficiaries]]"
        if first:
            yield from self._guessed("groups")
        yield line("name", quoted(name))
        if shared:
            if first:
                yield from self._guessed("parts")
            yield line("parts", part)
        yield "# agreed = 2027-03-01  # " + _("the day the group agreed to its name, the parts and the costs")

    def _number(self) -> Iterator[str]:
        number = self.so_far["number"]
        yield from self._guessed("number")
        if number == AS_IT_TAKES:
            yield "# wanted = 40  # " + _("good pieces wanted; left out, as many as the target takes")
        else:
            yield line("wanted", number, _("good pieces wanted for the sale"))

    def _demand(self) -> str:
        price, currency = Decimal(self.so_far["price"]), self.so_far.currency
        step = Decimal(money_for("0.50", currency))
        points = [(max(step, _on_step(price * by, step)), share) for by, share in _DEMAND]
        return "[" + ", ".join(f"[{plain(at)}, {share}]" for at, share in points) + "]"

    def _kiln(self) -> Iterator[str]:
        shelf = shelf_of(self.so_far)
        yield "[kiln]"
        yield from self._power()
        yield from self._guessed("shelf")
        if len(shelf) == 1:
            yield line("shelf", f'{{ shape = "round", diameter = {quoted(shelf[0].said())} }}')
        else:
            sides = f"width = {quoted(shelf[0].said())}, depth = {quoted(shelf[1].said())}"
            yield line("shelf", f'{{ shape = "rectangle", {sides} }}')
        yield from self._said("inside", "usable_height", quoted(self.so_far["inside"]))
        yield from self._shelves()

    def _power(self) -> Iterator[str]:
        if self.so_far["power"] != GAS:
            yield from self._said("power", "rated_kw", self.so_far["power"].split()[0], _("on its plate"))
            return
        yield line("fuel", quoted(GAS))
        yield from comments(
            _("Assumed: the two below are rough. Read the gas meter before and after a firing.")
        )
        yield line("rated_kw", GAS_KW, _("heat to the chamber"))
        yield line("burner_efficiency", BURNER, _("share of the heat in the gas that gets there"))

    def _shelves(self) -> Iterator[str]:
        if self.so_far["shelves"] == AS_FIT:
            yield from self._guessed("shelves")
            yield "# shelves = 4"
        else:
            yield from self._said("shelves", "shelves", self.so_far["shelves"])

    def _firing(self, stage: str) -> Iterator[str]:
        top = self.so_far[stage]
        yield "[[firings]]"
        yield line("name", quoted(stage))
        yield line("stage", quoted(stage))
        yield from self._guessed(stage)
        yield line("steps", f"[{', '.join(_steps(top))}]", _("°C an hour, top, minutes held"))
        yield from self._said("firing_paid", "met_by", quoted(MET_BY[self.so_far["firing_paid"]]), _payers())

    def _energy(self) -> Iterator[str]:
        yield "[energy]"
        rate = f'{{ from = "00:00", to = "24:00", price = {plain(rate_of(self.so_far["energy"]))} }}'
        yield from self._said("energy", "rates", f"[{rate}]", _("price of one kilowatt hour"))

    def _overhead(self, key: str, name: str, met_by: str, *, payer: str = "") -> Iterator[str]:
        yield "[[overheads]]"
        yield line("name", quoted(name))
        yield from self._said(key, "amount", self.so_far[key])
        if payer:
            yield from self._guessed(payer)
        yield line("met_by", quoted(met_by), _payers())

    def _cash(self, share: Decimal) -> Iterator[str]:
        yield "[[payments]]"
        yield from self._guessed("ways")
        yield line("name", quoted("cash"))
        yield line("cash", "true")
        yield line("share", plain(share), _("of the sales expected"))

    def _card(self, share: Decimal) -> Iterator[str]:
        percent, fixed = fee_in(self.so_far["fee"], self.so_far.currency)
        yield "[[payments]]"
        yield line("name", quoted("card"))
        yield from self._said("fee", "percent", plain(percent), _("of the amount"))
        yield line("fixed", plain(fixed), _("for each payment"))
        yield from self._said("cards", "share", plain(share), _("of the sales expected"))


_DEMAND: Final = (
    (Decimal("0.8"), "0.95"),
    (Decimal(1), "0.85"),
    (Decimal("1.25"), "0.6"),
    (Decimal("1.6"), "0.25"),
)
"""How an example's demand falls as the price rises by so much (invented)."""


def _on_step(price: Decimal, step: Decimal) -> Decimal:
    return round(price / step) * step


def _usual_losses() -> str:
    return "{ " + ", ".join(f"{stage} = {share}" for stage, share in USUAL_LOSSES) + " }"


def _payers() -> str:
    return _("who pays: maker, sale (the takings) or sponsor")


def _steps(top: str) -> Iterator[str]:
    reads = Temperature.parse(top)
    to = plain(reads.amount) if reads.unit == "C" else quoted(top)
    if reads.celsius <= RISE_C:
        yield f"{{ rate = {RATE_BELOW}, to = {to}, hold = {SOAK_MIN} }}"
        return
    yield f"{{ rate = {RATE_BELOW}, to = {RISE_C} }}"
    yield f"{{ rate = {RATE_ABOVE}, to = {to}, hold = {SOAK_MIN} }}"
