"""Tie-on cards with a stub, which is torn off at the sale and kept under its way to pay.

Some want a slip too, for a buyer who fetches the piece later.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from salebook.event.register import Piece
from salebook.prints.fitting import Fitted, fitted
from salebook.prints.labels.choice import chosen
from salebook.prints.labels.labels import Label, label_of
from salebook.prints.labels.layout import Room, Wording, room_in
from salebook.prints.labels.qr_codes import (
    DOT_MM,
    MODULES,
    SMALLEST_MODULE_DOTS,
    Code,
    canvas_of,
    code_of,
    module_dots,
)
from salebook.prints.labels.sheet import Place, Sheet
from salebook.prints.labels.wordings import wordings_of
from salebook.prints.paper import Paper
from salebook.prints.render import Printer
from salebook.reckoning import Reckoning

COLUMNS = 2
ROWS = 4
TAG_WIDTH_MM = 95.0
TAG_HEIGHT_MM = 64.0
STUB_WIDTH_MM = 33.0
FRONT_WIDTH_MM = TAG_WIDTH_MM - STUB_WIDTH_MM
SLIP_HEIGHT_MM = 21.0
HOLE_HEIGHT_MM = 11.0
"""White above the words, for the hole and the string."""

PAD_MM = 2.5
"""White beside the words of what is torn off."""

STUB_CODE_MM = 20.0
"""A side of its code at most, quiet zone included."""

STUB_CODE_BOTTOM_MM = 1.0

Box = tuple[float, float, int]
"""For a word that is torn off: height in mm, largest type size, most lines."""

STUB_BOXES: Mapping[str, Box] = {"name": (8, 9, 2), "price": (8, 14, 1), "number": (6, 11, 1)}
SLIP_BOXES: Mapping[str, Box] = {"name": (3.5, 8, 1), "price": (4, 9, 1), "number": (5, 11, 1)}


@dataclass(frozen=True, kw_only=True)
class TornOff:
    """The words on a stub or a slip: what it is, under what number, for how much."""

    name: Fitted
    price: Fitted
    number: Fitted
    code: Code


@dataclass(frozen=True, kw_only=True)
class Tag:
    """One card: where it lies, its front, its stub and, where one is wanted, its claim slip."""

    place: Place
    front: Label
    stub: TornOff
    slip: TornOff | None


def tags_html(
    printer: Printer,
    reckoning: Reckoning,
    pieces: Iterable[Piece],
    *,
    only: str | None = None,
    claim_slips: bool = False,
) -> str:
    """Return tie-on cards for some pieces, eight to a page, to print on card and cut out.

    `claim_slips` puts a third part at the foot of each, for a buyer who fetches the piece later.

    Raises WrongUseError for a number in `only` that is not there, FaultyPlanError for a price that no card
    has room for.
    """
    wordings = tuple(wordings_of(reckoning, chosen(tuple(pieces), only)))
    cards = sheet_of_cards(printer.paper)
    slip_mm = SLIP_HEIGHT_MM if claim_slips else 0.0
    front = replace(cards, width_mm=FRONT_WIDTH_MM, height_mm=TAG_HEIGHT_MM - HOLE_HEIGHT_MM - slip_mm)
    room = room_in(front, wordings)
    return printer.fill(
        "tags.html",
        cards=cards,
        front=front,
        room=room,
        canvas=canvas_of(cards.paper),
        hole_mm=HOLE_HEIGHT_MM,
        stub_mm=STUB_WIDTH_MM,
        slip_mm=slip_mm,
        pad_mm=PAD_MM,
        pages=[
            [_tag(wording, place, room, has_slip=claim_slips) for wording, place in page]
            for page in cards.pages(wordings)
        ],
    )


def sheet_of_cards(paper: Paper) -> Sheet:
    """Return the sheet of cards, in the middle of the paper."""
    return Sheet(
        paper=paper,
        columns=COLUMNS,
        rows=ROWS,
        width_mm=TAG_WIDTH_MM,
        height_mm=TAG_HEIGHT_MM,
        left_mm=(paper.width_mm - COLUMNS * TAG_WIDTH_MM) / 2,
        top_mm=(paper.height_mm - ROWS * TAG_HEIGHT_MM) / 2,
        across_mm=TAG_WIDTH_MM,
        down_mm=TAG_HEIGHT_MM,
    )


def _tag(wording: Wording, place: Place, room: Room, *, has_slip: bool) -> Tag:
    below_hole = replace(place, y_mm=place.y_mm + HOLE_HEIGHT_MM)
    return Tag(
        place=place,
        front=label_of(wording, below_hole, room),
        stub=_stub(wording, place),
        slip=_slip(wording, place) if has_slip else None,
    )


def _stub(wording: Wording, place: Place) -> TornOff:
    """Return the stub at the right edge, its code in the middle of its foot."""
    dots = module_dots(STUB_CODE_MM)
    beside = (STUB_WIDTH_MM - dots * DOT_MM * MODULES) / 2
    right, bottom = place.x_mm + TAG_WIDTH_MM - beside, place.y_mm + TAG_HEIGHT_MM - STUB_CODE_BOTTOM_MM
    code = code_of(wording.number, right_mm=right, bottom_mm=bottom, module_dots=dots)
    return _torn_off(wording, STUB_BOXES, STUB_WIDTH_MM - 2 * PAD_MM, code)


def _slip(wording: Wording, place: Place) -> TornOff:
    """Return the claim slip at the foot of the front, its code halfway up at the right."""
    dots = SMALLEST_MODULE_DOTS
    code_mm = dots * DOT_MM * MODULES
    right = place.x_mm + FRONT_WIDTH_MM - PAD_MM
    bottom = place.y_mm + TAG_HEIGHT_MM - (SLIP_HEIGHT_MM - code_mm) / 2
    code = code_of(wording.number, right_mm=right, bottom_mm=bottom, module_dots=dots)
    return _torn_off(wording, SLIP_BOXES, FRONT_WIDTH_MM - 2 * PAD_MM - code_mm, code)


def _torn_off(wording: Wording, boxes: Mapping[str, Box], width_mm: float, code: Code) -> TornOff:
    words = {
        word: fitted(getattr(wording, word), width_mm, height_mm, largest, most_lines=most_lines)
        for word, (height_mm, largest, most_lines) in boxes.items()
    }
    return TornOff(**words, code=code)
