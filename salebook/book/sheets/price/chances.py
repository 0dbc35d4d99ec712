"""The chance of the target on the sheet Price: at the plan's prices, at those tried, and on each rung."""

from collections.abc import Iterator, Sequence
from functools import partial

from salebook.base.words import N_, _
from salebook.book.sheets.live_chance import Case, CasePieces, Live, LiveChances
from salebook.book.sheets.price.grades import grade_label
from salebook.book.sheets.price.ladder import LadderRow
from salebook.plan.model import Plan
from salebook.pricing.demand import share_on
from salebook.pricing.good import Good
from salebook.pricing.outcome import to_earn
from salebook.reckoning import Reckoning

SECTION = "chances"
PLANNED, TRIED = "plan", "try"


def price_chances(plan: Plan) -> LiveChances:
    """Return the tables of the sheet's chances."""
    return LiveChances(section=SECTION, sheet=N_("Price"), days=[str(day.name) for day in plan.outlooks])


def price_cases(reckoning: Reckoning, goods: Sequence[Good], rungs: Sequence[LadderRow]) -> tuple[Case, ...]:
    """Return the cases; `goods` holds for each ware its firsts and its seconds, and then the others."""
    case = partial(case_of, reckoning)
    found = [case(PLANNED, _("on Plan"), goods, [as_planned(n) for n, _good in enumerate(goods, 1)])]
    if reckoning.plan.wares:
        found.append(case(TRIED, _("tried"), goods, list(_tried(goods))))
    for n, row in enumerate(rungs, start=1):
        there = [row.at(good) if good.is_made else good for good in goods]
        found.append(case(str(n), f"{row.rung.change} %", there, list(_on_rung(n, goods))))
    return tuple(found)


Source = tuple[str, str]
"""The formulas of what one brings in and of the share that sells."""


def as_planned(n: int) -> Source:
    """Return those of the n-th good at the plan's prices."""
    return f"[good_contributions@{n}]", f"[good_shares@{n}]"


def _tried(goods: Sequence[Good]) -> Iterator[Source]:
    for n, good in enumerate(goods, start=1):
        brings, share = as_planned(n)
        if good.is_made:
            share = f"[try_it.share@{good.code}]"
        yield f"[try_it.brings@{good.code}]" if good.grade == "first" else brings, share


def _on_rung(rung: int, goods: Sequence[Good]) -> Iterator[Source]:
    for n, good in enumerate(goods, start=1):
        brings = f"[ladder.brings.{good.code}.{good.grade}@{rung}]"
        share = f"[ladder.share.{good.code}.first@{rung}]"
        yield (brings, share) if good.is_made else as_planned(n)


def case_of(
    reckoning: Reckoning, key: str, name: str, goods: Sequence[Good], formulas: Sequence[Source]
) -> Case:
    """Return a case of goods at some prices; for each of them stands where its figures come from."""
    plan = reckoning.plan
    days = enumerate(plan.outlooks, start=1)
    return Case(
        key=key,
        name=name,
        to_bring=Live("to_earn", to_earn(plan, reckoning.costs)),
        pieces=tuple(
            _pieces(plan, good, n, brings, share)
            for n, (good, (brings, share)) in enumerate(zip(goods, formulas, strict=True), start=1)
        ),
        weights=tuple(Live(f"[outlook_weights@{n}]", day.weight) for n, day in days),
    )


def _pieces(plan: Plan, good: Good, n: int, brings: str, share: str) -> CasePieces:
    return CasePieces(
        name=f"{good.code} {grade_label(good.grade)}",
        left=Live(f"[good_counts@{n}]-[good_sure@{n}]", good.count - good.sure),
        sure=Live(f"[good_sure@{n}]", good.sure),
        brings=Live(brings, good.contribution),
        sells=tuple(
            Live(f"MIN(1,{share}*[outlook_factors@{day}])", share_on(good.share, outlook.factor))
            for day, outlook in enumerate(plan.outlooks, start=1)
        ),
    )
