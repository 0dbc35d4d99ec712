"""The words on a label: what each piece's label has to say."""

from collections.abc import Iterable, Iterator, Mapping

from salebook.base.words import _
from salebook.event.register import Piece
from salebook.making.clay import Sizes
from salebook.plan.model import Sale, Ware
from salebook.pricing.good import Grade
from salebook.pricing.promise import Promise, promise_of
from salebook.prints.labels.layout import Wording
from salebook.prints.wording import fired_size, list_price, listed
from salebook.reckoning import Reckoning
from salebook.say.price import about


def wordings_of(reckoning: Reckoning, pieces: Iterable[Piece]) -> Iterator[Wording]:
    """Yield a label for each piece; for a ware that is not numbered one each, all with its code."""
    sizes = {each.ware.code: each for each in reckoning.studio.sizes}
    promises = _promises(reckoning)
    for piece in pieces:
        wording = _wording(piece, reckoning.plan.sale, sizes, promises)
        yield from (wording for _number in range(piece.count))


def _wording(
    piece: Piece, sale: Sale, sizes: Mapping[str, Sizes], promises: Mapping[tuple[str, Grade], str]
) -> Wording:
    second = piece.planned_grade == "second" and not piece.giver
    given = _("given by {giver}").format(giver=piece.giver)
    details = (
        fired_size(sizes.get(piece.source.stem), sale.locale),
        piece.source.care,
        promises.get((piece.code, grade_of(piece)), "") if piece.agreed_price is None else "",
        "" if piece.giver else sale.maker,
    )
    return Wording(
        number=piece.number,
        name=piece.name,
        price=sale.format_money(piece.agreed_price or list_price(piece.source, second=second)),
        note=given if piece.giver else _("second") if second else "",
        details=tuple(detail for detail in details if detail),
    )


def grade_of(piece: Piece) -> Grade:
    """Return which of its code's goods a piece is."""
    if piece.giver:
        return "donated"
    return piece.planned_grade if isinstance(piece.source, Ware) else "carried"


def promise_on_labels(reckoning: Reckoning) -> Promise | None:
    """Return what the labels promise; None where the plan does not ask for it."""
    plan = reckoning.plan
    return promise_of(reckoning.advice.goods, plan, reckoning.costs) if plan.labels.promise else None


def _promises(reckoning: Reckoning) -> dict[tuple[str, Grade], str]:
    """Return what each label promises, by code and grade."""
    plan, promise = reckoning.plan, promise_on_labels(reckoning)
    groups = listed([group.name for group in plan.beneficiaries], plan.sale.locale)
    says = _("At least {sum} of this goes to {groups}")
    return {
        (each.good.code, each.good.grade): says.format(sum=about(each.sum, plan.sale), groups=groups)
        for each in (promise.sums if promise else ())
        if each.sum
    }
