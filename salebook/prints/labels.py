"""Price labels, on any sheet of labels that the plan's measures describe."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from salebook.errors import WrongUse
from salebook.event.register import Piece
from salebook.making.clay import Sizes
from salebook.plan.model import Sale
from salebook.pricing.promise import promise_of
from salebook.prints.choice import chosen
from salebook.prints.codes import MODULES, Code, code_of
from salebook.prints.environment import render
from salebook.prints.label_face import Face, Room, Wording, face_of, room_in
from salebook.prints.sheet import Place, Sheet, sheet_of, sheet_remarks
from salebook.prints.wording import fired_size, list_price, listed, money, plan_language, words_language
from salebook.reckoning import Reckoning
from salebook.sentences import about
from salebook.words import _


@dataclass(frozen=True, kw_only=True)
class Label:
    """One label as it is drawn: where, and what stands on it."""

    number: str
    place: Place
    face: Face
    code: Code | None
    has_note: bool


def labels_html(
    reckoning: Reckoning,
    pieces: Iterable[Piece],
    *,
    only: str = "",
    skip: int = 0,
    nudge: tuple[float, float] = (0.0, 0.0),
    outline: bool = False,
    templates: Path | None = None,
) -> str:
    """Return the labels of some pieces as a page to print at 100 %; a piece's `planned_grade` says what it is.

    `only` names some of the pieces ("LAN-003,LAN-007..012"), `skip` labels at the start of the first sheet are
    used already, `nudge` moves all in mm to the right and down, `outline` prints the outlines and a ruler instead.

    Raises FaultyPlan for measures that cannot be, WrongUse for a number that is not there, a `skip` beyond the
    sheet or a nudge off the page, and TemplateFault for a faulty template.
    """
    labels = reckoning.plan.labels
    sheet = sheet_of(labels, nudge=nudge)
    _check_skip(skip, sheet)
    wanted = chosen(tuple(pieces), only) if only else tuple(pieces)
    wordings = tuple(_wordings(reckoning, wanted))
    room = room_in(sheet, wordings)
    return render(
        "outline.html" if outline else "labels.html",
        templates=templates,
        title=reckoning.plan.sale.title,
        words_lang=words_language(),
        plan_lang=plan_language(reckoning.plan.sale),
        sheet=sheet,
        room=room,
        modules=MODULES,
        pages=_pages(sheet, room, wordings, skip),
        remarks=label_remarks(reckoning),
    )


def label_remarks(reckoning: Reckoning) -> tuple[str, ...]:
    """Say what a person should know before printing the labels of a plan."""
    sheet = sheet_of(reckoning.plan.labels)
    return (*sheet_remarks(sheet), *_promise_remarks(reckoning))


def _check_skip(skip: int, sheet: Sheet) -> None:
    if not 0 <= skip < len(sheet.places):
        says = _("Cannot skip {skip} labels: a sheet has {count}, so expected 0 to {most}.")
        raise WrongUse(says.format(skip=skip, count=len(sheet.places), most=len(sheet.places) - 1))


def _pages(
    sheet: Sheet, room: Room, wordings: Sequence[Wording], skip: int
) -> tuple[tuple[Label, ...], ...]:
    """Return the labels of each sheet; the first starts after those that are used already."""
    places = sheet.places
    slots: list[Wording | None] = [None] * skip + list(wordings)
    return tuple(
        tuple(_label(wording, place, room) for wording, place in zip(page, places, strict=False) if wording)
        for page in (slots[start : start + len(places)] for start in range(0, len(slots), len(places)))
    )


def _label(wording: Wording, place: Place, room: Room) -> Label:
    face = face_of(
        room, name=wording.name, price=wording.price, note=wording.note, details=wording.details
    )
    return Label(
        number=wording.number,
        place=place,
        face=face,
        code=code_of(wording.number) if room.module_mm else None,
        has_note=bool(wording.note),
    )


def _wordings(reckoning: Reckoning, pieces: Iterable[Piece]) -> Iterator[Wording]:
    """Yield a label for each piece; for a ware that is not numbered one each, all with its code."""
    sizes = {each.ware.code: each for each in reckoning.studio.sizes}
    promises = _promises(reckoning)
    for piece in pieces:
        wording = _wording(piece, reckoning.plan.sale, sizes, promises)
        yield from (wording for _number in range(piece.count))


def _wording(
    piece: Piece, sale: Sale, sizes: Mapping[str, Sizes], promises: Mapping[tuple[str, str], str]
) -> Wording:
    second = piece.planned_grade == "second" and not piece.giver
    grade = "donated" if piece.giver else piece.planned_grade
    details = (fired_size(sizes.get(piece.code), sale), piece.source.care, promises.get((piece.code, grade), ""))
    return Wording(
        number=piece.number,
        name=piece.name,
        price=money(list_price(piece.source, second=second), sale),
        note=_note(piece, second=second),
        details=tuple(detail for detail in details if detail),
    )


def _note(piece: Piece, *, second: bool) -> str:
    if piece.giver:
        return _("given by {giver}").format(giver=piece.giver)
    return _("second") if second else ""


def _promises(reckoning: Reckoning) -> dict[tuple[str, str], str]:
    """Return what each label may promise, by code and grade; nothing where the plan does not ask for it."""
    plan = reckoning.plan
    if not plan.labels.promise:
        return {}
    groups = listed([group.name for group in plan.beneficiaries], plan.sale)
    says = _("At least {sum} of this goes to {groups}")
    return {
        (promised.good.code, promised.good.grade): says.format(
            sum=about(promised.sum, plan.sale), groups=groups
        )
        for promised in promise_of(reckoning.advice.goods, plan, reckoning.costs).sums
        if promised.sum is not None and promised.sum > Decimal(0)
    }


def _promise_remarks(reckoning: Reckoning) -> Iterator[str]:
    plan = reckoning.plan
    if not plan.labels.promise:
        return
    promise = promise_of(reckoning.advice.goods, plan, reckoning.costs)
    if not any(promised.sum for promised in promise.sums):
        yield _("No label promises a sum: the costs that the sale meets leave nothing sure.")
        return
    yield _(
        "The sums that the labels promise hold once {pieces} pieces are sold at their prices and costs stay as "
        "planned. Ask each group, and check local rules, before its name stands on a label."
    ).format(pieces=promise.pieces)
