"""Price labels, on any sheet of labels that the plan's measures describe."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from salebook.base.errors import WrongUseError
from salebook.base.words import _, ngettext
from salebook.event.register import Piece
from salebook.plan.paper import usual_page
from salebook.prints.labels.choice import chosen
from salebook.prints.labels.layout import LabelTexts, Room, Wording, label_texts_of, room_in
from salebook.prints.labels.qr_codes import Code, canvas_of, code_of
from salebook.prints.labels.sheet import Place, Sheet, sheet_of, sheet_remarks
from salebook.prints.labels.wordings import promise_on_labels, wordings_of
from salebook.prints.render import Printer
from salebook.reckoning import Reckoning


@dataclass(frozen=True, kw_only=True)
class Label:
    """One label as it is drawn: where, and what stands on it."""

    number: str
    place: Place
    face: LabelTexts
    code: Code | None
    has_note: bool


def labels_html(
    printer: Printer,
    reckoning: Reckoning,
    pieces: Iterable[Piece],
    *,
    only: str | None = None,
    skip: int = 0,
    nudge: tuple[float, float] = (0.0, 0.0),
    outline: bool = False,
) -> str:
    """Return the labels of some pieces as a page to print at 100 %; `planned_grade` says what a piece is.

    `only` names some of the pieces ("LAN-003,LAN-007..012"), `skip` labels at the start of the first sheet
    are used already, `nudge` moves all in mm to the right and down, `outline` prints the outlines and a
    ruler instead.

    Raises FaultyPlanError for labels too small to print, WrongUseError for a number that is not there, a
    `skip` beyond the sheet or a nudge off the page.
    """
    labels = reckoning.plan.labels
    sheet = sheet_of(labels, nudge=nudge)
    check_skip(skip, sheet)
    wordings = tuple(wordings_of(reckoning, chosen(tuple(pieces), only)))
    room = room_in(sheet, wordings)
    return printer.fill(
        "outline.html" if outline else "labels.html",
        sheet=sheet,
        paper=sheet.paper,
        room=room,
        canvas=canvas_of(sheet.paper),
        pages=[
            [label_of(wording, place, room) for wording, place in page if wording]
            for page in sheet.pages((*[None] * skip, *wordings))
        ],
        remarks=label_remarks(reckoning, nudge=nudge),
    )


def label_remarks(reckoning: Reckoning, *, nudge: tuple[float, float] = (0.0, 0.0)) -> tuple[str, ...]:
    """Say what a person should know before printing the labels of a plan; raises as `sheet_of` does."""
    return tuple(_remarks(reckoning, sheet_of(reckoning.plan.labels, nudge=nudge)))


def check_skip(skip: int, sheet: Sheet) -> None:
    """Refuse to skip more labels than a sheet has; raises WrongUseError."""
    if not 0 <= skip < len(sheet.places):
        says = ngettext(
            "Cannot skip {skip} label: a sheet has {count}, so expected 0 to {most}.",
            "Cannot skip {skip} labels: a sheet has {count}, so expected 0 to {most}.",
            skip,
        )
        raise WrongUseError(says.format(skip=skip, count=len(sheet.places), most=len(sheet.places) - 1))


def label_of(wording: Wording, place: Place, room: Room) -> Label:
    """Return a label with its words fitted and its code drawn."""
    face = label_texts_of(
        room, name=wording.name, price=wording.price, note=wording.note, details=wording.details
    )
    return Label(
        number=wording.number,
        place=place,
        face=face,
        code=code_of(
            wording.number,
            right_mm=place.x_mm + room.width_mm,
            bottom_mm=place.y_mm + room.height_mm - room.code_bottom_mm,
            module_dots=room.module_dots,
        )
        if room.module_dots
        else None,
        has_note=bool(wording.note),
    )


def _remarks(reckoning: Reckoning, sheet: Sheet) -> Iterator[str]:
    plan, promise = reckoning.plan, promise_on_labels(reckoning)
    if plan.labels.page != usual_page(plan):
        yield _(
            "The plan does not describe your sheet of labels: 3 × 7 on A4 is assumed. For a sheet on Letter "
            "paper write its measures below [labels]."
        )
    yield from sheet_remarks(sheet)
    if promise and promise.says_sums:
        yield _(
            "The sums that the labels promise hold once {pieces} pieces are sold at their prices and costs "
            "stay as planned. Ask each group, and check local rules, before its name stands on a label."
        ).format(pieces=promise.pieces)
    elif promise:
        yield _("No label promises a sum: the costs that the sale meets leave nothing sure.")
