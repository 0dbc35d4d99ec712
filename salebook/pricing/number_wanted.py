"""How many pieces of a ware are wanted, where the plan leaves that to the target."""

from bisect import bisect_left
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, TypeVar

from salebook.base.errors import Fault, FaultyPlanError
from salebook.base.words import _
from salebook.making.losses import Run, run_of
from salebook.making.studio import plan_studio
from salebook.plan.fields import grouped
from salebook.plan.keys import Record
from salebook.plan.model import LEFT_TO_THE_TARGET, Plan, Stage, Ware
from salebook.plan.quantities import plain
from salebook.plan.ware_rules import MOST_PIECES as MOST_IN_ALL
from salebook.plan.ware_rules import good_share_of, pieces_to_make
from salebook.pricing.chance_grid import PROVEN
from salebook.pricing.costing import Costs, cost_lines
from salebook.pricing.good import Good, goods_of
from salebook.pricing.outcome import chance_over, is_sure, to_earn

MOST_PIECES = 10_000
"""The most pieces of one ware."""

MOST_WORK = 20_000
"""How long a search may go on, about a second: a good on a kind of day counts 1 in a rough chance."""

WORK_OF_COSTS = 400
WORK_OF_A_PROVEN_CHANCE = 5


AnyRecord = TypeVar("AnyRecord", bound=Record)


def remade(record: AnyRecord, **values: Any) -> AnyRecord:
    """Return a record with some values changed, made anew so that nothing derived from the old ones stays."""
    kept = {name: getattr(record, name) for name in type(record).model_fields}
    return type(record).model_construct(record.model_fields_set, **(kept | values))


def with_wanted(plan: Plan, ware: Ware, number: int) -> Plan:
    """Return a plan in which so many good pieces of a ware are wanted."""
    changed = remade(ware, wanted=number)
    return remade(plan, wares=tuple(changed if one.code == ware.code else one for one in plan.wares))


class _WorkedEnoughError(Exception):
    """A search has done as much as it may."""


@dataclass(kw_only=True)
class _Search:
    """A plan whose ware leaves its number to the target, how its kiln is loaded, and the work done so far.

    Work is counted, not timed, so that a search ends alike on every machine.
    """

    plan: Plan
    ware: Ware
    others: tuple[Run, ...]
    loads: Mapping[Stage, int] | None
    done: int = 0

    @property
    def most(self) -> int:
        """The most pieces of the ware that a sale can hold beside all others."""
        there = sum(source.count for source in self.plan.there)
        others = pieces_to_make((run.ware for run in self.others), self.plan.sale.confidence) + there
        return min(MOST_PIECES, int((MOST_IN_ALL - others) * good_share_of(self.ware)))

    def work(self, more: int) -> None:
        """Count work before it is done; raises _WorkedEnoughError where it would be too much."""
        self.done += more
        if self.done > MOST_WORK:
            raise _WorkedEnoughError

    def wanting(self, number: int) -> Plan:
        """Return the plan with a number of the ware, still marked as not said."""
        return with_wanted(self.plan, self.ware, number)

    def goods(self, number: int, costs: Costs) -> tuple[Good, ...]:
        """Return what is for sale with a number of the ware."""
        plan = self.wanting(number)
        runs = {run.ware.code: run for run in self.others}
        mine = [runs.get(ware.code) or run_of(ware, plan) for ware in plan.wares]
        return goods_of(plan, mine, costs)

    def costs(self, number: int) -> Costs:
        """Return every cost with a number of the ware."""
        self.work(WORK_OF_COSTS)
        plan = self.wanting(number)
        return cost_lines(plan, plan_studio(plan, loads=self.loads))

    def is_enough(self, goods: tuple[Good, ...], costs: Costs) -> bool:
        """Whether goods make the target at these costs as surely as the plan asks."""
        earn, outlooks = to_earn(self.plan, costs), self.plan.outlooks

        def chance(within: float) -> float:
            self.work(len(goods) * len(outlooks) * (WORK_OF_A_PROVEN_CHANCE if within == PROVEN else 1))
            return chance_over(goods, outlooks, earn, within=within)

        return is_sure(chance, self.plan.sale.confidence)

    def may_be_enough(self, number: int, least: int, costs: Costs) -> bool:
        """Whether a number would do at the costs, and with the pieces at a loss, of `least`."""
        code = self.ware.code
        losing = (one for one in self.goods(least, costs) if one.code == code and one.contribution <= 0)
        others = (one for one in self.goods(number, costs) if one.code != code or one.contribution > 0)
        return self.is_enough((*others, *losing), costs)


def with_number_wanted(plan: Plan, *, loads: Mapping[Stage, int] | None = None) -> Plan:
    """Return the plan with the smallest number whose chance of the target reaches the confidence asked for.

    A plan in which every number is said is returned as it is. Raises FaultyPlanError where no number of
    pieces that a sale can hold does it, or none was found in a second or so.
    """
    # Once, before everything else: the workbook's Plan then shows the number.
    ware = next((ware for ware in plan.wares if ware.wanted == LEFT_TO_THE_TARGET), None)
    if ware is None:
        return plan
    others = tuple(run_of(one, plan) for one in plan.wares if one.code != ware.code)
    search = _Search(plan=plan, ware=ware, others=others, loads=loads)
    return search.wanting(_smallest(search, max(1, ware.spoken_for)))


def _smallest(search: _Search, number: int) -> int:
    """Return the smallest number that does, from a number on.

    More pieces never lower the fixed costs, so that no number can do which would not do at the costs of a
    smaller one: all those are passed over at once.
    """
    with suppress(_WorkedEnoughError):
        while number <= search.most:
            costs = search.costs(number)
            if search.is_enough(search.goods(number, costs), costs):
                return number
            number = _next_that_may_do(search, number, costs)
    raise FaultyPlanError([_none_found(search, number)])


def _next_that_may_do(search: _Search, number: int, costs: Costs) -> int:
    """Return the first number above one that may do at its costs; more than there can be, where none may."""
    most = search.most

    def may_do(one: int) -> bool:
        return search.may_be_enough(one, number, costs)

    if number >= most or not may_do(most):
        return most + 1
    return number + 1 + bisect_left(range(number + 1, most), True, key=may_do)


def _none_found(search: _Search, number: int) -> Fault:
    """Say that no number does, or that none below one does and nobody looked further."""
    expected = _(
        "the number of pieces to offer, as none up to {most} makes the target with a chance of {confidence} %"
    )
    if number <= search.most:
        expected = _(
            "the number of pieces to offer, as none up to {most} makes the target with a chance of "
            "{confidence} %; larger ones were not looked at"
        )
    looked_at = min(number - 1, search.most)
    return Fault(
        file=_("plan"),
        place=_("wares → {code} → wanted").format(code=search.ware.code),
        found=_("nothing"),
        expected=expected.format(
            most=grouped(Decimal(looked_at)), confidence=plain(search.plan.sale.confidence * 100)
        ),
        hint=_("a higher price, lower costs or a lower target would help"),
    )
