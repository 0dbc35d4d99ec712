"""How many pieces of a ware are wanted, where the plan leaves that to the target."""

from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from salebook.costing import Costs, cost_lines
from salebook.errors import Fault, FaultyPlan
from salebook.making.losses import Run, run_of
from salebook.making.studio import plan_studio
from salebook.plan.fields import grouped
from salebook.plan.model import LEFT_TO_THE_TARGET, Plan, Stage, Ware
from salebook.plan.quantities import plain
from salebook.plan.ware_rules import MOST_PIECES as MOST_IN_ALL
from salebook.pricing.good import Good, goods_of
from salebook.pricing.ladder import NOISE
from salebook.pricing.outcome import to_earn
from salebook.pricing.outlook import chance_over
from salebook.words import _

MOST_PIECES = 10_000
"""The most pieces of one ware."""


@dataclass(frozen=True, kw_only=True)
class _Search:
    """A plan whose ware leaves its number to the target, and how its kiln is loaded."""

    plan: Plan
    ware: Ware
    others: tuple[Run, ...]
    loads: Mapping[Stage, int] | None

    @property
    def most(self) -> int:
        """The most pieces of the ware that a sale can hold beside all others."""
        others = sum(run.ware.wanted for run in self.others) + sum(one.count for one in self.plan.donated)
        return min(MOST_PIECES, MOST_IN_ALL - others)

    def wanting(self, number: int) -> Plan:
        """Return the plan with a number of the ware, still marked as not said."""
        said = self.ware.model_fields_set
        values = {name: getattr(self.ware, name) for name in Ware.model_fields} | {"wanted": number}
        ware = Ware.model_construct(said, **values)
        wares = tuple(ware if one.code == ware.code else one for one in self.plan.wares)
        kept = {name: getattr(self.plan, name) for name in Plan.model_fields} | {"wares": wares}
        return Plan.model_construct(self.plan.model_fields_set, **kept)

    def goods(self, number: int, costs: Costs) -> tuple[Good, ...]:
        """Return what is for sale with a number of the ware."""
        plan = self.wanting(number)
        runs = {run.ware.code: run for run in self.others}
        mine = [runs.get(ware.code) or run_of(ware, plan) for ware in plan.wares]
        return goods_of(plan, mine, costs)

    def costs(self, number: int) -> Costs:
        """Return every cost with a number of the ware."""
        plan = self.wanting(number)
        return cost_lines(plan, plan_studio(plan, loads=self.loads))

    def is_enough(self, goods: tuple[Good, ...], costs: Costs) -> bool:
        """Whether goods make the target at these costs as surely as the plan asks."""
        chance = chance_over(goods, self.plan.outlooks, to_earn(self.plan, costs))
        return chance >= float(self.plan.sale.confidence) - NOISE

    def may_be_enough(self, number: int, costs: Costs) -> bool:
        """Whether a number would do if it cost no more than this and no piece brought a loss."""
        goods = tuple(good for good in self.goods(number, costs) if good.contribution > 0)
        return self.is_enough(goods, costs)


def with_number_wanted(plan: Plan, *, loads: Mapping[Stage, int] | None = None) -> Plan:
    """Return the plan with the smallest number whose chance of the target reaches the confidence asked for.

    A plan in which every number is said is returned as it is. Raises FaultyPlan where no number of pieces
    up to 10 000 does it.
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
    while number <= search.most:
        costs = search.costs(number)
        first = _first_that_may_do(search, number, costs)
        if first == number and search.is_enough(search.goods(number, costs), costs):
            return number
        number = max(first, number + 1)
    raise FaultyPlan([_none_does(search)])


def _first_that_may_do(search: _Search, number: int, costs: Costs) -> int:
    def may_do(one: int) -> bool:
        return search.may_be_enough(one, costs)

    all_but_the_last = range(number, search.most)
    return number + bisect_left(all_but_the_last, True, key=may_do)


def _none_does(search: _Search) -> Fault:
    expected = _(
        "the number of pieces to offer, as none up to {most} makes the target with a chance of {confidence} %"
    )
    return Fault(
        file=_("plan"),
        place=_("wares → {code} → wanted").format(code=search.ware.code),
        found=_("nothing"),
        expected=expected.format(
            most=grouped(Decimal(search.most)), confidence=plain(search.plan.sale.confidence * 100)
        ),
        hint=_("a higher price, lower costs or a lower target would help"),
    )
