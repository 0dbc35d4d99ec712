"""What each piece must fetch for the target, said in sentences."""

from collections.abc import Iterator, Sequence

from babel.lists import format_list

from salebook.base.words import _
from salebook.forecast.must_fetch import MustFetch
from salebook.plan.model import Plan
from salebook.plan.money import rounded

MOST_LISTED = 3
"""The prices of more wares than these are better read in a table."""


def must_fetch_sentences(plan: Plan, found: Sequence[MustFetch]) -> tuple[str, ...]:
    """Say at which prices of one's own the target is reached: if all sell, as planned, and to be sure.

    Nothing where nothing is asked.
    """
    if not found:
        return ()
    all_sell, as_planned, sure = found
    goal = plan.sale.format_money(plan.sale.target)
    if all_sell.change is None:
        return (_("No price of your own pieces makes {goal}, even if all sell.").format(goal=goal),)
    return tuple(
        text.format(goal=goal, prices=prices_text(plan, one), percent=rounded(plan.sale.confidence * 100, 0))
        for one, text in zip(found, _texts(as_planned, sure), strict=True)
    )


def _texts(as_planned: MustFetch, sure: MustFetch) -> Iterator[str]:
    yield _("To reach {goal} each piece must fetch, if all sell: {prices}.")
    yield (
        _("If as many sell as the plan says, no price makes it.")
        if as_planned.change is None
        else _(
            "If as many sell as the plan says: {prices}, at which the plan does not say how many would buy."
        )
        if as_planned.is_guessed
        else _("If as many sell as the plan says: {prices}.")
    )
    yield (
        _("There is no price at which it is as sure as {percent} %.")
        if sure.change is None
        else _("To be {percent} % sure: {prices}, at which the plan does not say how many would buy.")
        if sure.is_guessed
        else _("To be {percent} % sure: {prices}.")
    )


def prices_text(plan: Plan, found: MustFetch) -> str:
    """Say the price of each ware, such as "Mug £20.50 and Bowl £26.50"; of many, by how much they change."""
    if found.change is None:
        return ""
    if len(plan.wares) > MOST_LISTED:
        text = _("prices {change} % higher") if found.change > 0 else _("prices {change} % lower")
        return text.format(change=abs(found.change))
    if len(plan.wares) == 1:
        return plan.sale.format_money(found.prices.firsts[plan.wares[0].code])
    prices = [(ware.name, plan.sale.format_money(found.prices.firsts[ware.code])) for ware in plan.wares]
    text = _("{name} {price}")
    return format_list(
        [text.format(name=name, price=price) for name, price in prices], locale=plan.sale.locale
    )
