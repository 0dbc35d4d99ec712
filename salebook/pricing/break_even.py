"""How many pieces, at the planned mix, pay back what was put in."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Generic, TypeVar

from salebook.base.rounding import ceil
from salebook.pricing.costing import Basis, Costs
from salebook.pricing.good import Good, contribution_on

Figure = TypeVar("Figure")


@dataclass(frozen=True, kw_only=True)
class ByBasis(Generic[Figure]):
    """A figure on each basis."""

    sale: Figure
    spent: Figure
    full: Figure

    @classmethod
    def of(cls, figure: Callable[[Basis], Figure]) -> "ByBasis[Figure]":
        """Return what a figure is on each basis."""
        return cls(sale=figure("sale"), spent=figure("spent"), full=figure("full"))


def exact_pieces_to_earn(amount: Decimal, mean_contribution: Decimal) -> Fraction | None:
    """Return the pieces whose contributions make an amount, unrounded; at least 0.

    None where pieces bring nothing. The break-even in units of cost-volume-profit analysis: fixed costs ÷
    contribution margin for each unit (OpenStax, Principles of Accounting 2, section 3.2).
    """
    if mean_contribution <= 0:
        return Fraction(0) if amount <= 0 else None
    return max(Fraction(0), Fraction(amount) / Fraction(mean_contribution))


def pieces_to_earn(amount: Decimal, mean_contribution: Decimal) -> int | None:
    """Return the whole pieces whose contributions make an amount; None where pieces bring nothing."""
    exact = exact_pieces_to_earn(amount, mean_contribution)
    return None if exact is None else ceil(exact)


def mean_contribution(goods: Sequence[Good], costs: Costs, basis: Basis) -> Decimal:
    """Return what one piece brings on a basis over everything for sale; 0 where nothing is for sale."""
    return mean((good.count, contribution_on(good, costs, basis)) for good in goods)


def mean(counted: Iterable[tuple[int, Decimal]]) -> Decimal:
    """Return the mean of amounts, each counted so many times; 0 of none."""
    total, count = Decimal(0), 0
    for times, amount in counted:
        total, count = total + times * amount, count + times
    return total / count if count else Decimal(0)


def break_even(goods: Sequence[Good], costs: Costs) -> ByBasis[int | None]:
    """Return the pieces at the planned mix that pay back each basis; None where pieces bring nothing."""

    def pieces_on(basis: Basis) -> int | None:
        brings = mean_contribution(goods, costs, basis)
        return pieces_to_earn(costs.fixed(basis), brings) if brings > 0 else None

    return ByBasis.of(pieces_on)


def piece_cost(goods: Sequence[Good], costs: Costs) -> ByBasis[Decimal]:
    """Return what one piece costs in the mix: its part of the fixed costs, its fee, its costs as sold.

    On each basis, unrounded.
    """
    pieces = sum(good.count for good in goods)

    def cost_on(basis: Basis) -> Decimal:
        fixed = costs.fixed(basis) / pieces if pieces else Decimal(0)
        return fixed + mean((good.count, good.fee + costs.per_piece_sold(good.code, basis)) for good in goods)

    return ByBasis.of(cost_on)
