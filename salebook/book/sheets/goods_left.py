"""What is left of each good on Progress, and the sale as a whole as it stands."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property, partial
from typing import Any, Final

from salebook.base.words import N_, _
from salebook.book.formulas import sum_of
from salebook.book.sheets.price.demand_lines import share_formula
from salebook.book.sheets.price.grades import grade_label
from salebook.book.sheets.price.sheet import goods_with_all_seconds
from salebook.book.table import Table
from salebook.event.event import Event
from salebook.event.pieces import HELD as HELD_AS
from salebook.forecast.live_standing import (
    live_standing,
    prices_of_rest,
)
from salebook.forecast.standing import state_at
from salebook.forecast.state import Offered, SaleState
from salebook.plan.model import Outlook, Ware
from salebook.plan.tables import table_of
from salebook.pricing.demand import share_on
from salebook.pricing.good import Good
from salebook.reckoning import Reckoning

HELD: Final = '((pieces_status="deposit")+(pieces_status="reserved"))'
OF_CODE: Final = "(pieces_code=[code])"
PRICE: Final = "SUM([from_here.other@1])"
"""What is typed for the rest: a price, or a share of all prices, which stands in rest_share."""


@dataclass(frozen=True, kw_only=True)
class GoodLeft:
    """A good as it stands, now and at the prices for the rest; `n` is its place among the goods of Price."""

    n: int
    good: Good
    ware_number: int
    is_only_ware: bool
    growing: Sequence[int]
    """The costs that grow with each sold one."""
    now: Offered
    then: Offered
    costs: Decimal
    to_make: int
    to_givers: Decimal
    odds: tuple[float, ...]
    """How likely just so many sold are, on each kind of day."""

    @property
    def has_numbers(self) -> bool:
        """Whether each piece has a row of its own on Pieces."""
        return not isinstance(self.good.source, Ware) or self.good.source.numbered

    @property
    def here(self) -> int:
        """Pieces that are there, and nobody has."""
        return self.now.left + self.now.promised

    @property
    def spoken_for(self) -> int:
        """Pieces that the plan says are spoken for."""
        return 0 if self.good.grade == "second" else self.good.source.spoken_for


@dataclass(frozen=True, kw_only=True)
class Ahead:
    """A sale as it stands, and all of its goods."""

    reckoning: Reckoning
    event: Event
    over: Decimal
    now: SaleState
    then: SaleState
    goods: tuple[GoodLeft, ...]

    @property
    def has_other_prices(self) -> bool:
        """Whether other prices were typed for the rest."""
        return bool(prices_of_rest(self.reckoning.plan, self.event).firsts)

    @cached_property
    def likelihoods(self) -> tuple[float, ...]:
        """How likely each kind of day is beside the others, after what has sold."""
        days = enumerate(self.reckoning.plan.outlooks)
        return tuple(float(day.weight) * math.prod(good.odds[n] for good in self.goods) for n, day in days)

    @property
    def fits(self) -> bool:
        """Whether what has sold could come about on any kind of day."""
        return sum(self.likelihoods) > 0

    @property
    def weights(self) -> tuple[float, ...]:
        """How likely each kind of day is; as Plan has it where none of them fits."""
        planned = tuple(float(day.weight) for day in self.reckoning.plan.outlooks)
        return self.likelihoods if self.fits else planned


def ahead_of(reckoning: Reckoning, event: Event) -> Ahead:
    """Return a sale as it stands."""
    plan, standing = reckoning.plan, live_standing(reckoning, event)
    now, then = state_at(standing), state_at(standing, prices_of_rest(plan, event))
    of_now, of_then = ({(good.code, good.grade): good for good in state.goods} for state in (now, then))
    numbers = {ware.code: n for n, ware in enumerate(plan.wares, start=1)}
    to_make = {totals.code: totals.to_make for totals in event.state.piece_totals}

    def left(n: int, good: Good) -> GoodLeft:
        key = (good.code, good.grade)
        held = [p for p in event.state.pieces if p.piece.code == good.code and p.status in HELD_AS]
        return GoodLeft(
            n=n,
            good=good,
            ware_number=numbers.get(good.code, 0),
            is_only_ware=len(plan.wares) == 1,
            growing=[at for at, line in enumerate(reckoning.costs.lines, 1) if good.code in line.codes],
            now=of_now[key],
            then=of_then[key],
            costs=standing.costs.per_piece_sold(good.code, "sale"),
            to_make=0 if good.grade == "second" else to_make[good.code],
            to_givers=sum((p.price * good.keeps for p in held), Decimal(0)),
            odds=tuple(_odds(of_now[key], day, standing.over) for day in plan.outlooks),
        )

    goods = tuple(left(n, good) for n, good in enumerate(goods_with_all_seconds(reckoning), start=1))
    return Ahead(reckoning=reckoning, event=event, over=standing.over, now=now, then=then, goods=goods)


def _odds(good: Offered, day: Outlook, over: Decimal) -> float:
    if not over:
        return 1.0
    sold, free = good.taken, good.taken + good.left
    share = float(share_on(good.share, day.factor) * over)
    if share in {0.0, 1.0}:
        return float(sold == free * share)
    ways = math.lgamma(free + 1) - math.lgamma(sold + 1) - math.lgamma(free - sold + 1)
    return math.exp(ways + sold * math.log(share) + (free - sold) * math.log1p(-share))


def goods_left_table(outlooks: Sequence[Outlook]) -> Table[GoodLeft]:
    """Declare how many of each good there are, what became of them, and what one brings."""
    table: Table[GoodLeft] = Table("left_goods", N_("Progress"))
    for section in ("wares", "donated", "carried", "tally"):
        table.join(section, lambda row: row.good.code)

    def live(key: str, heading: str, style: str, formula: Any, value: Any) -> None:
        table.live(key, heading, f"small {style}", formula, value)

    table.fixed("code", _("Code"), "small text", lambda row: row.good.code)
    table.fixed("grade", _("Grade"), "small text", lambda row: grade_label(row.good.grade))
    live("here", _("Here"), "whole", _here, "here")
    live("sold", _("Sold"), "whole", _sold, "now.sold")
    live("held", _("Held"), "whole", partial(_standing, HELD), "now.held")
    live("spoken_for", _("Spoken for"), "whole", _spoken_for, "spoken_for")
    waiting = "MIN([here],MAX(0,[spoken_for]-[sold]-[held]))"
    live("waiting", _("of them here"), "whole", waiting, "now.promised")
    live("left", _("Free to sell"), "whole", "[here]-[waiting]", "now.left")
    live("taken", _("Taken by buyers"), "whole", "MAX(0,[sold]+[held]-[spoken_for])", "now.taken")
    live(
        "costs",
        _("Costs for each sold"),
        "rate",
        lambda row: sum_of("cost_grows_ahead", row.growing),
        "costs",
    )
    live("to_make", _("Ordered, to make"), "whole", _to_make, "to_make")
    live("to_givers", _("Held: to givers"), "money", _to_givers, "to_givers")
    live("price", _("Price"), "money", _price, "now.price_then")
    live("share", _("Share that sells"), "percent", "[good_shares@#]", "now.share")
    live("brings", _("One brings in"), "rate", _brings("[price]"), "now.brings_then")
    live("price_then", _("Other price"), "money", _price_then, "then.price_then")
    live("share_then", _("Share then"), "percent", _share_then, "then.share_then")
    live("brings_then", _("One brings then"), "rate", _brings("[price_then]"), "then.brings_then")
    for n, day in enumerate(outlooks):
        sold_by_now = f"MIN(1,[share]*[outlook_factors@{n + 1}])*rest_over"
        # Some programs know no BINOMDIST of a chance of 0 or 1.
        odds = f"BINOMDIST([taken],[taken]+[left],{sold_by_now},FALSE)"
        odds = f"IF({sold_by_now}<=0,IF([taken]=0,1,0),IF({sold_by_now}>=1,IF([left]=0,1,0),{odds}))"
        odds = f"IF(OR(rest_over=0,[taken]+[left]=0),1,{odds})"
        heading = _("{day}: how likely so many are").format(day=day.name)
        live(f"odds{n}", heading, "number", odds, partial(_odds_on, n))
    return table


def _odds_on(day: int, row: GoodLeft) -> float:
    return row.odds[day]


def _standing(status: str, row: GoodLeft) -> str:
    if not row.has_numbers:
        return "0"
    of_grade = {"first": '*(pieces_grade<>"second")', "second": '*(pieces_grade="second")'}
    return f"SUMPRODUCT({OF_CODE}{of_grade.get(row.good.grade, '')}*{status})"


def _seconds_there(row: GoodLeft) -> str:
    """Return the formula of the seconds of a ware without numbers: firsts come out of the kiln first."""
    first = row.n if row.good.grade == "first" else row.n - 1
    return f"MAX(0,MIN([good_counts@{first + 1}],[tally.out]-[good_counts@{first}]))"


def _here(row: GoodLeft) -> str:
    if row.has_numbers:
        return _standing('(pieces_status="here")', row)
    there = _seconds_there(row)
    return f"MAX(0,{there if row.good.grade == 'second' else f'[tally.out]-{there}'}-[sold])"


def _sold(row: GoodLeft) -> str:
    if row.has_numbers:
        return _standing('(pieces_status="sold")', row)
    there = _seconds_there(row)
    of_seconds = f"MIN({there},MAX(0,[tally.sold]-([tally.out]-{there})))"
    return of_seconds if row.good.grade == "second" else f"[tally.sold]-{of_seconds}"


def _spoken_for(row: GoodLeft) -> str:
    return "0" if row.good.grade == "second" else f"[{table_of(type(row.good.source))}.spoken_for]"


def _to_make(row: GoodLeft) -> str:
    return "0" if row.good.grade == "second" else "[tally.to_make]"


def _to_givers(row: GoodLeft) -> str:
    if row.good.grade != "donated":
        return "0"
    return f"SUMPRODUCT({OF_CODE}*{HELD},pieces_price)*[good_keeps@#]"


def _price(row: GoodLeft) -> str:
    if row.good.grade != "second":
        return "[good_prices@#]"
    return f"IF([good_prices@#]>0,[good_prices@#],[good_prices@{row.n - 1}])"


def _price_then(row: GoodLeft) -> str:
    if not row.good.is_made:
        return "[price]"
    other = "IF(rest_share>0,CEILING(ROUND([price]*rest_share,9),price_step),[price])"
    if row.is_only_ware:
        other = f"IF({PRICE}>0,{PRICE},[price])" if row.good.grade == "first" else "[price]"
    return f"IF([good_prices@#]>0,{other},[price_then-])" if row.good.grade == "second" else other


def _share_then(row: GoodLeft) -> str:
    if row.good.grade == "second":
        return "[share_then-]"
    has_points = isinstance(row.good.source, Ware) and row.good.source.demand
    return share_formula("[price_then]", row.ware_number) if has_points else "[share]"


def _brings(price: str) -> str:
    return f"{price}*(1-[good_keeps@#])-(fee_share*{price}+fee_fixed)-[costs]"
