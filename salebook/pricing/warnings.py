"""What a person should know before they trust the figures, in plain words."""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from salebook.base.words import _
from salebook.making.firing import FiringNeed
from salebook.making.studio import Studio
from salebook.plan.model import Plan
from salebook.plan.notes import warnings
from salebook.plan.quantities import plain
from salebook.pricing.good import Good
from salebook.pricing.outcome import other_income
from salebook.pricing.target import Target

NEARLY_ALL = Fraction(9, 10)
"""Share of the pieces from which a target is said to need nearly every one."""


def price_warnings(plan: Plan, studio: Studio, goods: Sequence[Good], target: Target) -> tuple[str, ...]:
    """Return every remark on a plan's figures, those on the target first."""
    return (
        *_on_target(plan, target),
        *_on_number_wanted(plan),
        *_on_goods(goods),
        *_on_selling(plan),
        *_on_making(plan),
        *_on_energy(plan, studio.firings),
        *_on_firings(plan, studio.firings),
        *warnings(plan),
    )


def not_known(plan: Plan, studio: Studio) -> tuple[str, ...]:
    """Return the remarks on what the plan does not say, without which the figures are only a guess."""
    return (*_on_selling(plan), *_on_energy(plan, studio.firings))


def _on_target(plan: Plan, target: Target) -> Iterator[str]:
    income = other_income(plan)
    if target.amount <= income:
        yield _(
            "The other income expected ({income}) makes the target of {target} without a piece sold."
        ).format(income=plan.sale.format_money(income), target=plan.sale.format_money(target.amount))
    needed = target.pieces_needed
    if needed is None:
        yield _("Selling pieces at these prices brings nothing, so no number of them makes the target.")
    elif needed > target.for_sale:
        yield _(
            "Even if every piece is sold, these prices do not make the target: it takes {needed} pieces, "
            "and there are {for_sale}."
        ).format(needed=needed, for_sale=target.for_sale)
    elif needed >= NEARLY_ALL * target.for_sale and needed:
        yield _("The target needs nearly every piece sold: {needed} of {for_sale}.").format(
            needed=needed, for_sale=target.for_sale
        )


def _on_number_wanted(plan: Plan) -> Iterator[str]:
    for ware in plan.wares:
        if "wanted" not in ware.model_fields_set:
            yield _(
                "How many of {ware} to offer is not said: {count} is taken, the smallest number that makes "
                "the target with a chance of {confidence} % or more."
            ).format(ware=ware.name, count=ware.wanted, confidence=plain(plan.sale.confidence * 100))


def _on_goods(goods: Iterable[Good]) -> Iterator[str]:
    for good in goods:
        if good.contribution < 0:
            yield _("{piece}: each one sold costs more than it brings.").format(piece=_piece(good))
        elif good.contribution == 0:
            yield _("{piece}: nothing is left of the price for the groups.").format(piece=_piece(good))
        if good.grade != "second" and good.source.spoken_for > good.count:
            yield _(
                "{piece}: more are spoken for than there are, so only {count} are counted as sure."
            ).format(piece=_piece(good), count=good.count)


def _on_selling(plan: Plan) -> Iterator[str]:
    without = [ware.name for ware in plan.wares if not ware.demand]
    if without:
        yield _(
            "How many would sell at each price is not said for {wares}: the same share is taken to sell at "
            "any price, so no best price can be named."
        ).format(wares=", ".join(without))
    if len({outlook.factor for outlook in plan.outlooks if outlook.weight}) == 1:
        yield _(
            "There is only one kind of day in the plan: a wet or an empty day is not reckoned with, so that "
            "the chance of the target is less certain than it looks."
        )


def _on_making(plan: Plan) -> Iterator[str]:
    if plan.wares:
        yield _(
            "How many to start assumes that pieces fail one by one. One bad firing can spoil many at once, "
            "so the numbers are the least to start."
        )


def _on_energy(plan: Plan, needs: Sequence[FiringNeed]) -> Iterator[str]:
    if not needs:
        return
    if plan.energy is None:
        yield _("What energy costs is not said, so the firings are reckoned to cost nothing.")
    if all(need.basis != "meter" and need.correction == 1 for need in needs):
        yield _("No firing was metered: the energy is an estimate until a meter reading is in the plan.")
    if on_share := [need.firing.name for need in needs if need.basis == "on share"]:
        yield _("The energy of {firings} is a rough one: the kiln's wall is not described.").format(
            firings=", ".join(on_share)
        )


def _on_firings(plan: Plan, needs: Sequence[FiringNeed]) -> Iterator[str]:
    if needs and plan.energy is not None:
        yield _("Standing charges for energy are left out.")
    for need in needs:
        if any(part.short_kw > 0 for part in need.parts):
            yield _(
                "The kiln may not keep up with the {firing} firing: part of it needs more power than it has."
            ).format(firing=need.firing.name)


def _piece(good: Good) -> str:
    return _("{name} (second)").format(name=good.name) if good.grade == "second" else good.name
