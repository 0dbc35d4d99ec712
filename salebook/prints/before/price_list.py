"""The price list for the table: what there is, what it costs, who gets what, how to pay."""

from collections.abc import Iterable, Iterator

from salebook.base.words import _, chained, ngettext
from salebook.event.register import Piece
from salebook.plan.model import Plan, Ware
from salebook.pricing.good import Grade
from salebook.prints.labels.wordings import grade_of, promise_on_labels
from salebook.prints.render import Printer
from salebook.prints.wording import fired_size
from salebook.reckoning import Reckoning


def price_list_html(printer: Printer, reckoning: Reckoning, pieces: Iterable[Piece] | None = None) -> str:
    """Return the price list on the plan's paper, A4 or Letter; of some `pieces` what there is among these."""
    plan, goods = reckoning.plan, reckoning.advice.goods
    if pieces is not None:
        there = {(piece.code, grade) for piece in pieces for grade in _grades(piece)}
        goods = tuple(good for good in goods if (good.code, good.grade) in there)
    own = [good for good in goods if good.grade != "donated"]
    of_wares = {each.ware.code: each for each in reckoning.studio.sizes}
    sizes = {good.code: of_wares.get(good.source.stem) for good in own}
    return printer.fill(
        "price-list.html",
        own=own,
        given=[good for good in goods if good.grade == "donated"],
        sizes=sizes,
        has_sizes=any(fired_size(each, plan.sale.locale) for each in sizes.values()),
        groups=plan.beneficiaries,
        shared=_shared(reckoning),
        ways=tuple(_ways(plan)),
        promise=_promise(reckoning),
    )


def _grades(piece: Piece) -> tuple[Grade, ...]:
    """Return the grades at whose price a piece may be sold."""
    if not isinstance(piece.source, Ware):
        return (grade_of(piece),)
    if not piece.index:
        return ("first", "second")
    is_priced = piece.source.seconds_price is not None
    return (piece.planned_grade,) if is_priced else ("first",)


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
    return chained(_("{first} and {last}"), filter(None, (", ".join(texts[:-1]), texts[-1])))


def _ways(plan: Plan) -> Iterator[str]:
    for way in plan.payments:
        straight = _("{way} (straight to {group})").format(way=way.name, group=way.paid_to)
        yield straight if way.paid_to else way.name


def _promise(reckoning: Reckoning) -> str:
    """Say when the sums on the labels hold; empty where the labels promise none."""
    promise = promise_on_labels(reckoning)
    if promise is None or not promise.says_sums:
        return ""
    says = ngettext(
        "The sums on the labels hold once {pieces} piece is sold at its price.",
        "The sums on the labels hold once {pieces} pieces are sold at their prices.",
        promise.pieces,
    )
    return says.format(pieces=promise.pieces)
