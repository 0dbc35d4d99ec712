"""The price advice said in sentences, the one that matters most first."""

from collections.abc import Iterator
from decimal import Decimal

from babel.numbers import get_decimal_symbol

from salebook.base.words import _
from salebook.plan.model import Plan, Sale
from salebook.plan.money import rounded
from salebook.pricing.advice import Advice
from salebook.pricing.demand import is_guessed
from salebook.pricing.ladder import as_good_as_best
from salebook.pricing.target import Target
from salebook.pricing.warnings import NEARLY_ALL
from salebook.reckoning import Reckoning


def price_sentences(reckoning: Reckoning) -> tuple[str, ...]:
    """Say what the plan's prices bring, how likely the target is and what other prices would do.

    Where the target takes nearly every piece, or more than there are, that comes first. Where it is too late
    to make them all, what they would bring is said with an if.
    """
    plan, advice = reckoning.plan, reckoning.advice
    too_late = reckoning.days.is_too_late
    expected, to_reach = _expected(plan.sale, advice, too_late=too_late), _to_reach(plan, advice)
    first = (to_reach, expected) if _is_hard(advice.target) else (expected, to_reach)
    return (*first, *_best_prices(plan, advice), *_sure_prices(plan, advice))


def in_words(chance: float) -> str:
    """Say a chance from 0 to 1 as people do, such as "about 6 in 10"."""
    if chance < 0.05:
        return _("less than 1 in 20")
    if chance > 0.95:
        return _("more than 19 in 20")
    return _("about {tenths} in 10").format(tenths=max(1, min(9, round(chance * 10))))


def about(amount: Decimal, sale: Sale) -> str:
    """Say an amount in whole units of the sale's currency, such as "£805"."""
    written = sale.format_money(rounded(amount, 0))
    return (
        written.replace(get_decimal_symbol(sale.locale) + "0" * sale.digits, "", 1)
        if sale.digits
        else written
    )


def changed(change: int) -> str:
    """Say a change of prices in per cent, such as "10 % higher"."""
    if change == 0:
        return _("as they are")
    return (_("{change} % higher") if change > 0 else _("{change} % lower")).format(change=abs(change))


def _is_hard(target: Target) -> bool:
    return target.pieces_needed is None or target.pieces_needed >= NEARLY_ALL * target.for_sale


def _expected(sale: Sale, advice: Advice, *, too_late: bool) -> str:
    target = advice.target
    text = _expected_text(loses=target.expected_net < 0, too_late=too_late)
    net, sold = about(abs(target.expected_net), sale), rounded(target.expected_sold, 0)
    return text.format(net=net, sold=sold, pieces=target.for_sale)


def _expected_text(*, loses: bool, too_late: bool) -> str:
    if loses and too_late:
        return _(
            "Even if all could be made in time, expect to lose about {net} at the prices in the plan, "
            "with about {sold} of {pieces} pieces sold."
        )
    if loses:
        return _(
            "At the prices in the plan expect to lose about {net}, with about {sold} of {pieces} pieces sold."
        )
    if too_late:
        return _(
            "If all could be made in time, you could expect about {net} for the groups at the prices in the "
            "plan, with about {sold} of {pieces} pieces sold."
        )
    return _(
        "At the prices in the plan you can expect about {net} for the groups, "
        "with about {sold} of {pieces} pieces sold."
    )


def _to_reach(plan: Plan, advice: Advice) -> str:
    sale, target = plan.sale, advice.target
    change = _known(plan, advice, target.lowest_change) or 0
    return _reach_text(target, change).format(
        goal=sale.format_money(sale.target),
        needed=target.pieces_needed,
        pieces=target.for_sale,
        changed=changed(change),
        likely=in_words(target.chance),
        percent=round(target.chance * 100),
    )


def _reach_text(target: Target, change: int) -> str:
    if target.pieces_needed is None:
        return _("The target of {goal} is out of reach: at these prices a piece sold brings nothing in.")
    texts = (
        _more_than_all()
        if target.pieces_needed > target.for_sale
        else _nearly_all()
        if _is_hard(target)
        else _so_many()
    )
    return texts[(change > 0) - (change < 0)]


def _more_than_all() -> tuple[str, str, str]:
    """Return what is said where no other prices would do, where higher ones would, and lower ones."""
    return (
        _(
            "To reach {goal} it would take {needed} pieces sold at the prices in the plan, and there are "
            "{pieces}; the chance is {likely} ({percent} %)."
        ),
        _(
            "To reach {goal} it would take {needed} pieces sold at the prices in the plan, and there are "
            "{pieces}, or prices {changed}; the chance is {likely} ({percent} %)."
        ),
        _(
            "To reach {goal} it would take {needed} pieces sold at the prices in the plan, and there are "
            "{pieces} (prices {changed} should still do); the chance is {likely} ({percent} %)."
        ),
    )


def _nearly_all() -> tuple[str, str, str]:
    return (
        _(
            "To reach {goal} you need nearly every piece sold, {needed} of {pieces}; "
            "the chance is {likely} ({percent} %)."
        ),
        _(
            "To reach {goal} you need nearly every piece sold, {needed} of {pieces}, or prices {changed}; "
            "the chance is {likely} ({percent} %)."
        ),
        _(
            "To reach {goal} you need nearly every piece sold, {needed} of {pieces} (prices {changed} should "
            "still do); the chance is {likely} ({percent} %)."
        ),
    )


def _so_many() -> tuple[str, str, str]:
    return (
        _("To reach {goal} you need {needed} of {pieces} pieces sold; the chance is {likely} ({percent} %)."),
        _(
            "To reach {goal} you need {needed} of {pieces} pieces sold, or prices {changed}; "
            "the chance is {likely} ({percent} %)."
        ),
        _(
            "To reach {goal} you need {needed} of {pieces} pieces sold (prices {changed} should still do); "
            "the chance is {likely} ({percent} %)."
        ),
    )


def _known(plan: Plan, advice: Advice, change: int | None) -> int | None:
    """Return a change of prices, or None where the plan does not say how many would sell at them."""
    known = {rung.change for rung in advice.ladder if not is_guessed(plan.wares, rung.prices)}
    return change if change in known else None


def _best_prices(plan: Plan, advice: Advice) -> Iterator[str]:
    rungs = [rung for rung in advice.ladder if not is_guessed(plan.wares, rung.prices)]
    if advice.target.best_change is None or not rungs:
        return
    as_good = as_good_as_best(rungs)
    lowest, highest = as_good[0].change, as_good[-1].change
    net = max(rung.expected_net for rung in as_good)
    if net <= 0:
        return
    text = (
        _("The most can be expected with prices {prices}: about {net}.")
        if lowest == highest
        else _("The most can be expected with prices {prices}: about {net}, anywhere in that range.")
    )
    yield text.format(prices=_between(lowest, highest), net=about(net, plan.sale))


def _between(lowest: int, highest: int) -> str:
    if lowest == highest:
        return changed(lowest)
    if lowest > 0:
        return _("from {lowest} to {highest} % higher").format(lowest=lowest, highest=highest)
    if highest < 0:
        return _("from {highest} to {lowest} % lower").format(lowest=-lowest, highest=-highest)
    return _("from {lowest} to {highest}").format(lowest=changed(lowest), highest=changed(highest))


def _sure_prices(plan: Plan, advice: Advice) -> Iterator[str]:
    sure, wanted = advice.target.sure_change, rounded(plan.sale.confidence * 100, 0)
    if sure is None:
        yield _(
            "Not one of the prices below makes the target as sure as {wanted} %: "
            "try more pieces or a lower target first."
        ).format(wanted=wanted)
    elif _known(plan, advice, sure) and sure > 0:
        yield _("For a chance of {wanted} % prices would have to be {changed}.").format(
            wanted=wanted, changed=changed(sure)
        )
