"""The price list for the table: what there is, what it costs, who gets what, how to pay."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from salebook.base.words import _
from salebook.plan.model import Donated, Plan
from salebook.pricing.good import Good
from salebook.pricing.promise import promise_of
from salebook.prints.page import page_html
from salebook.prints.wording import fired_size, money, part_label
from salebook.reckoning import Reckoning


@dataclass(frozen=True, kw_only=True)
class Offer:
    """One line of the list; `told` is what a buyer should know of it."""

    name: str
    told: tuple[str, ...]
    size: str
    price: str


@dataclass(frozen=True, kw_only=True)
class GroupLine:
    """A group and its share in words."""

    name: str
    registration: str
    part: str


def price_list_html(reckoning: Reckoning, *, templates: Path | None = None) -> str:
    """Return the price list on the plan's paper, A4 or Letter.

    Raises TemplateFaultError for a faulty template, FileError for a folder of templates that is not there.
    """
    plan, goods = reckoning.plan, reckoning.advice.goods
    return page_html(
        "price-list.html",
        plan,
        templates=templates,
        offers=tuple(_offer(good, reckoning) for good in goods if good.grade != "donated"),
        given=tuple(_offer(good, reckoning) for good in goods if good.grade == "donated"),
        groups=tuple(_groups(plan)),
        shared=_shared(reckoning),
        ways=tuple(_ways(plan)),
        promise=_promise(reckoning),
    )


def _offer(good: Good, reckoning: Reckoning) -> Offer:
    sale = reckoning.plan.sale
    sizes = {each.ware.code: each for each in reckoning.studio.sizes}
    return Offer(
        name=good.name,
        told=tuple(_told(good)),
        size=fired_size(sizes.get(good.code), sale),
        price=money(good.price, sale),
    )


def _told(good: Good) -> Iterator[str]:
    if good.grade == "second":
        yield _("seconds, with a small flaw")
    if isinstance(good.source, Donated):
        yield _("given by {giver}").format(giver=good.source.maker)
    if good.keeps:
        yield _("part of the price goes back to the giver")
    if good.source.care and good.grade != "second":
        yield good.source.care


def _groups(plan: Plan) -> Iterator[GroupLine]:
    for group in plan.beneficiaries:
        part = part_label(group, plan.beneficiaries)
        yield GroupLine(name=group.name, registration=group.registration, part=part)


def _shared(reckoning: Reckoning) -> str:
    """Say what comes off before the groups get their parts: only what does in this plan."""
    plan = reckoning.plan
    off = [
        text
        for text, applies in (
            (_("the costs of the sale"), reckoning.costs.met_by("sale") > 0),
            (_("fees for paying"), any(way.percent or way.fixed for way in plan.payments)),
            (_("what goes back to givers"), any(given.keeps for given in plan.donated)),
        )
        if applies
    ]
    if not off:
        return _("Everything that comes in goes to:")
    return _("What comes in, less {costs}, goes to:").format(costs=_and(off))


def _and(texts: list[str]) -> str:
    return texts[0] if len(texts) == 1 else _(" and ").join((", ".join(texts[:-1]), texts[-1]))


def _ways(plan: Plan) -> Iterator[str]:
    for way in plan.payments:
        straight = _("{way} (straight to {group})").format(way=way.name, group=way.paid_to)
        yield straight if way.paid_to else way.name


def _promise(reckoning: Reckoning) -> str:
    """Say when the sums on the labels hold; empty where the labels promise none."""
    plan = reckoning.plan
    if not plan.labels.promise:
        return ""
    promise = promise_of(reckoning.advice.goods, plan, reckoning.costs)
    if not any(promised.sum for promised in promise.sums):
        return ""
    says = _("The sums on the labels hold once {pieces} pieces are sold at their prices.")
    return says.format(pieces=promise.pieces)
