"""What is asked of the next sale: only what changes, with what was before as the answer that Enter takes."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache
from typing import Any, Final

from salebook.base.errors import FaultyPlanError
from salebook.base.words import N_, _
from salebook.forecast.learned.sold import wares_and_donated
from salebook.plan.model import Donated, Plan, Ware
from salebook.plan.quantities import plain
from salebook.start.choices import MOST_WANTED, NAME
from salebook.start.locale_defaults import LocaleDefaults
from salebook.start.next_plan import Wishes, days_next, proposed_prices, title_next, with_wishes
from salebook.start.question import Question, Reader, Said, SoFar, word
from salebook.start.spoken_days import DAYS
from salebook.start.spoken_money import PRICE, TARGET, Money, amount_in
from salebook.start.spoken_numbers import number_in

NONE: Final = N_("none")
MOST_GIVEN: Final = 1000


@dataclass(frozen=True, kw_only=True)
class NextQuestions:
    """The questions on a plan in which all that was learned stands already."""

    plan: Plan
    defaults: LocaleDefaults

    def all(self) -> tuple[Question, ...]:
        """Return the questions in order."""
        return (
            self._days(),
            self._title(),
            self._target(),
            *(_how_many(good, self._left(good.code)) for good in wares_and_donated(self.plan)),
            *(self._price(ware) for ware in self.plan.wares),
        )

    def wishes(self, so_far: SoFar) -> Wishes:
        """Return what the answers say."""
        return Wishes(
            title=so_far["title"],
            days=so_far["days"],
            target=so_far["target"].amount,
            counts=dict(self._said("count", so_far)),
            prices=dict(self._said("price", so_far)),
        )

    def _left(self, code: str) -> int:
        """Return how many pieces of a ware are carried along."""
        return sum(left.count for left in self.plan.carried if left.stem == code)

    def _said(self, what: str, so_far: SoFar) -> Iterator[tuple[str, Any]]:
        for good in wares_and_donated(self.plan):
            if so_far.was_asked(key := f"{what} {good.code}"):
                yield good.code, so_far[key]

    def _days(self) -> Question:
        days = days_next(self.plan.sale.days, self.defaults.today)
        return _asked(
            "days",
            DAYS,
            N_("On which day is it, or on which days?"),
            DAYS.words(days),
            N_("the weekdays of last time"),
        )

    def _title(self) -> Question:
        title, before = self.plan.sale.title, self.plan.sale.days[0].year

        def same(so_far: SoFar) -> str:
            return title_next(title, before, so_far["days"][0].year)

        return _asked("title", NAME, N_("What is the sale called?"), same, N_("as last time"))

    def _target(self) -> Question:
        sale = self.plan.sale
        reader = Reader(
            read=lambda text, _so_far: _read_target(text, sale.currency),
            words=TARGET.words,
            in_words=TARGET.in_words,
        )
        before = Money(sale.target, sale.currency).to_text()
        return _asked(
            "target", reader, N_("How much are the groups to receive together?"), before, N_("as last time")
        )

    def _price(self, ware: Ware) -> Question:
        def asks(_so_far: SoFar) -> str:
            says = _("What shall each of them cost ({name})? Last time: {price}.")
            return says.format(name=ware.name, price=self.plan.sale.format_money(ware.price))

        return _asked(
            f"price {ware.code}",
            PRICE,
            asks,
            lambda so_far: plain(self._proposed(so_far).get(ware.code, ware.price)),
            N_("as last time, or more where the target takes that"),
            concerns=lambda so_far: bool(so_far[f"count {ware.code}"]),
        )

    def _proposed(self, so_far: SoFar) -> Mapping[str, Decimal]:
        counts = tuple(self._said("count", so_far))
        return _proposed(self.plan, so_far["target"].amount, counts)


@lru_cache(maxsize=4)
def _proposed(plan: Plan, target: Decimal, counts: tuple[tuple[str, int], ...]) -> Mapping[str, Decimal]:
    """Return the prices to propose for a target and so many of each; none where that is no sound plan."""
    sale = plan.sale
    wishes = Wishes(title=sale.title, days=sale.days, target=target, counts=dict(counts), prices={})
    try:
        return proposed_prices(with_wishes(plan, wishes))
    except FaultyPlanError:
        return {}


def _how_many(good: Ware | Donated, left: int) -> Question:
    before = good.wanted if isinstance(good, Ware) else good.count
    most = MOST_WANTED if isinstance(good, Ware) else MOST_GIVEN

    def asks(_so_far: SoFar) -> str:
        if isinstance(good, Donated):
            says = _("How many are given again ({name}, by {maker})?")
            return says.format(name=good.name, maker=good.maker)
        says = _("How many new ones do you want on the table ({name})?")
        if left:
            says = _("How many new ones do you want on the table ({name})? Beside {left} that are left over.")
        return says.format(name=good.name, left=left)

    reader = Reader(read=lambda text, _so_far: _read_count(text, most))
    such_as = _('{before}, or "{none}"').format(before=before, none=_(NONE))
    question = _asked(f"count {good.code}", reader, asks, str(before), N_("as last time"))
    return replace(question, such_as=word(such_as))


def _asked(
    key: str,
    reader: Reader,
    asks: Said,
    before: Said,
    because: str,
    *,
    concerns: Callable[[SoFar], bool] = lambda _so_far: True,
) -> Question:
    """Return a question of which Enter takes what was before."""
    same = before if callable(before) else word(before)
    return Question(
        key=key,
        reader=reader,
        asks=asks,
        such_as=same,
        assumed=same,
        because=because,
        offered=same,
        concerns=concerns,
    )


def _read_target(text: str, currency: str) -> Money:
    return Money(amount_in(text, currency, above_nothing=True), currency)


def _read_count(text: str, most: int) -> int:
    said = text.strip().lower()
    return 0 if said in {NONE, _(NONE)} else number_in(text, 0, most)
