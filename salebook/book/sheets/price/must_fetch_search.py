"""What each piece must fetch as the workbook finds it: prices tried in order, then halved between."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from typing import Final

from salebook.base.words import _
from salebook.book.sheets.live_chance import Case
from salebook.book.sheets.price.chances import Source, as_planned, case_of
from salebook.book.sheets.price.ladder import LadderRow, goods_at
from salebook.forecast.must_fetch import (
    HALVINGS,
    LOW,
    RUNGS,
    TENTHS,
    Assuming,
    Halving,
    between,
    change_of,
    halvings,
    highest_tried,
)
from salebook.plan.model import Outlook, Ware
from salebook.plan.money import ZERO
from salebook.pricing.chance import TOLERANCE
from salebook.pricing.demand import expected_sold, highest_known
from salebook.pricing.good import Good
from salebook.pricing.ladder import prices_at
from salebook.pricing.outcome import enough_for, other_income, reaches
from salebook.reckoning import Reckoning

KEYS: Final[Mapping[Assuming, str]] = {"all sell": "all", "as planned": "planned", "sure": "sure"}
"""What formulas call what is assumed."""

TIMES: Final[Mapping[str, int]] = {"all": HALVINGS, "planned": HALVINGS, "sure": 11}
"""How often the workbook halves: each chance takes a hundred cells, and far above it is a guess anyhow."""


@dataclass(frozen=True, kw_only=True)
class OwnWare:
    """The n-th ware, whose firsts and seconds are the goods at 2n - 1 and 2n."""

    ware: Ware
    n: int
    count: int

    @property
    def known(self) -> Decimal:
        """The highest price at which the plan says what sells."""
        return highest_known(self.ware)

    @property
    def tenths(self) -> Decimal:
        """The same in tenths of a per cent of the plan's price; 0 where there is none of the ware."""
        return self.known / self.ware.price * TENTHS if self.count else ZERO


@dataclass(frozen=True, kw_only=True)
class Tried:
    """Everything for sale at prices tried."""

    key: str
    """What formulas call them."""
    n: int
    """Their number in the list, or between two of it."""
    assuming: str = ""
    """What was assumed where they were tried between two; empty in the list."""
    on_ladder: bool = False
    tenths: int
    goods: tuple[Good, ...]
    """Each ware's firsts and seconds, and then what is there already."""
    beside: Decimal
    """What comes in beside pieces, less the costs."""
    case: Case

    @property
    def rung(self) -> int:
        """Their number on the ladder."""
        return self.n - len(LOW)

    @property
    def if_all(self) -> Decimal:
        """The net if all sell."""
        return sum((good.count * good.contribution for good in self.goods), self.beside)

    @property
    def net(self) -> Decimal:
        """The net to be expected."""
        return sum((good.expected_sold * good.contribution for good in self.goods), self.beside)

    @property
    def chance(self) -> float:
        """The chance of the target, by the curve."""
        return self.case.reckoned.chance

    def comes_to(self, assuming: str) -> Decimal | float:
        """Return what is compared: the net, or the chance."""
        if assuming == "sure":
            return self.chance
        return self.if_all if assuming == "all" else self.net


@dataclass(frozen=True, kw_only=True)
class Halved:
    """Prices tried between two, and whether they are enough."""

    tried: Tried
    halving: Halving

    @property
    def comes_to(self) -> Decimal | float:
        """What is compared."""
        return self.tried.comes_to(self.tried.assuming)


@dataclass(frozen=True, kw_only=True)
class Found:
    """The smallest price that is enough on one assumption."""

    assuming: str
    first: int
    """The first price in the list that is enough, counted from 1; 0 where none is."""
    lower: int
    upper: int
    halved: tuple[Halved, ...]
    is_missed: bool
    """Whether the plan's prices miss the target, so that others are asked for."""

    @property
    def tenths(self) -> int:
        """The price; 0 where none is enough."""
        return between(self.halved[-1].halving)[1]

    @property
    def state(self) -> int:
        """1 where a price was found, 2 where none does, 0 where none is asked for."""
        return (1 if self.first else 2) if self.is_missed else 0


@dataclass(frozen=True, kw_only=True)
class Priced:
    """The firsts and seconds of a ware at prices tried."""

    tried: Tried
    own: OwnWare
    outlooks: Sequence[Outlook]

    @property
    def first(self) -> Good:
        """The firsts."""
        return self.tried.goods[2 * self.own.n - 2]

    @property
    def second(self) -> Good:
        """The seconds."""
        return self.tried.goods[2 * self.own.n - 1]

    @property
    def sells(self) -> Decimal:
        """The share that sells over all kinds of day."""
        return expected_sold(count=1, sure=0, share=self.first.share, outlooks=self.outlooks)

    @property
    def if_all(self) -> Decimal:
        """What both bring in if all sell."""
        return sum((good.count * good.contribution for good in (self.first, self.second)), ZERO)

    @property
    def net(self) -> Decimal:
        """What both can be expected to bring in."""
        return sum((good.expected_sold * good.contribution for good in (self.first, self.second)), ZERO)


class Search:
    """The search on each assumption; goods, rungs and cases of chances are those of the sheet."""

    def __init__(
        self,
        reckoning: Reckoning,
        goods: Sequence[Good],
        rungs: Sequence[LadderRow],
        cases: Mapping[str, Case],
    ) -> None:
        self.reckoning, self._goods = reckoning, goods
        self._on_ladder = [cases[str(n)] for n, _row in enumerate(rungs, start=1)]
        self.wares = tuple(
            OwnWare(ware=ware, n=n, count=goods[2 * n - 2].count + goods[2 * n - 1].count)
            for n, ware in enumerate(reckoning.plan.wares, start=1)
        )
        self.given = range(2 * len(self.wares) + 1, len(goods) + 1)
        """The places of pieces that others give among the goods."""

    @cached_property
    def tried(self) -> tuple[Tried, ...]:
        """The prices tried one after the other."""
        known = max((ware.tenths for ware in self.wares), default=ZERO)
        listed = enumerate((*LOW, *RUNGS, *highest_tried(known)), start=1)
        return tuple(self._at(tenths, n) for n, tenths in listed)

    @cached_property
    def found(self) -> Mapping[str, Found]:
        """What was found on each assumption."""
        return {assuming: self._found(assuming) for assuming in KEYS.values()}

    @property
    def halved(self) -> Iterator[Halved]:
        """All that was tried between two prices of the list."""
        for found in self.found.values():
            yield from found.halved

    @property
    def priced(self) -> Iterator[Priced]:
        """Each ware at all prices tried, those on the ladder apart."""
        for tried in (*self._away, *(halved.tried for halved in self.halved)):
            for own in self.wares:
                yield Priced(tried=tried, own=own, outlooks=self.reckoning.plan.outlooks)

    @property
    def cases(self) -> Iterator[Case]:
        """The cases of chances that the search takes, those of the ladder apart."""
        yield from (tried.case for tried in (*self._away, *(one.tried for one in self.found["sure"].halved)))

    @property
    def _away(self) -> Iterator[Tried]:
        return (tried for tried in self.tried if not tried.on_ladder)

    def _at(self, tenths: int, n: int, assuming: str = "") -> Tried:
        reckoning, key = self.reckoning, f"{assuming or 'tried'}{n}"
        there = goods_at(reckoning, prices_at(reckoning.plan, change_of(tenths)))
        goods = tuple(there[good.code, good.grade] for good in self._goods)
        on_ladder = not assuming and 0 < n - len(LOW) <= len(RUNGS)
        return Tried(
            key=key,
            n=n,
            assuming=assuming,
            on_ladder=on_ladder,
            tenths=tenths,
            goods=goods,
            beside=other_income(reckoning.plan) - reckoning.costs.fixed("sale"),
            case=self._on_ladder[n - len(LOW) - 1]
            if on_ladder
            else case_of(reckoning, key, _("tried: {n}").format(n=key), goods, tuple(_sources(key, goods))),
        )

    def is_enough(self, tried: Tried, assuming: str) -> bool:
        """Whether prices do on one assumption."""
        sale = self.reckoning.plan.sale
        least = enough_for(sale.confidence) if assuming == "sure" else sale.target - TOLERANCE
        return tried.comes_to(assuming) >= least

    def _found(self, assuming: str) -> Found:
        tried = self.tried if any(ware.count for ware in self.wares) else ()
        first = next((n for n, one in enumerate(tried, start=1) if self.is_enough(one, assuming)), 0)
        lower, upper = (0, 0, *(one.tenths for one in tried))[first : first + 2] if first else (0, 0)
        steps = halvings(
            *(lower, upper, lambda tenths: self.is_enough(self._at(tenths, 0, assuming), assuming)),
            TIMES[assuming],
        )
        target = self.reckoning.advice.target
        return Found(
            assuming=assuming,
            first=first,
            lower=lower,
            upper=upper,
            halved=tuple(
                Halved(tried=self._at(step.tenths, n, assuming), halving=step)
                for n, step in enumerate(steps, start=1)
            ),
            is_missed=not reaches(target.expected_net, target.amount),
        )


def _sources(key: str, goods: Sequence[Good]) -> Iterator[Source]:
    for n, good in enumerate(goods, start=1):
        at, brings = f"@{key}_{good.code}]", "second" if good.grade == "second" else "brings"
        own = f"[fetch_priced.{brings}{at}", f"[fetch_priced.share{at}"
        yield own if good.is_made else as_planned(n)
