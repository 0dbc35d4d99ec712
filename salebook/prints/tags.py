"""Tie-on cards with a stub, which is torn off at the sale and kept under its way to pay."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from salebook.event.register import Piece
from salebook.prints.choice import chosen
from salebook.prints.codes import DOT_MM, MODULES, Code, canvas_of, code_of, module_dots
from salebook.prints.environment import render
from salebook.prints.fitting import Fitted, fit
from salebook.prints.label_face import Room, Wording, room_in
from salebook.prints.label_words import wordings_of
from salebook.prints.labels import Label, label_of
from salebook.prints.paper import PAPERS, Paper
from salebook.prints.sheet import Place, Sheet
from salebook.prints.wording import plan_language, words_language
from salebook.reckoning import Reckoning

COLUMNS = 2
ROWS = 4
TAG_WIDTH_MM = 95.0
TAG_HEIGHT_MM = 64.0
STUB_WIDTH_MM = 33.0
HOLE_HEIGHT_MM = 11.0
"""White above the words, for the hole and the string."""

STUB_PAD_MM = 2.5
STUB_CODE_MM = 20.0
"""A side of its code at most, quiet zone included."""

STUB_CODE_BOTTOM_MM = 1.0


@dataclass(frozen=True, kw_only=True)
class Stub:
    """The words on a stub: what was sold, under what number, for how much."""

    name: Fitted
    price: Fitted
    number: Fitted
    code: Code


@dataclass(frozen=True, kw_only=True)
class Tag:
    """One card: where it lies, its front and its stub."""

    place: Place
    front: Label
    stub: Stub


def tags_html(
    reckoning: Reckoning, pieces: Iterable[Piece], *, only: str = "", templates: Path | None = None
) -> str:
    """Return tie-on cards for some pieces, eight to a page, to print on card and cut out.

    Raises WrongUse for a number in `only` that is not there, FaultyPlan for a price that no card has room
    for, TemplateFault for a faulty template.
    """
    plan = reckoning.plan
    wanted = chosen(tuple(pieces), only) if only else tuple(pieces)
    wordings = tuple(wordings_of(reckoning, wanted))
    cards = sheet_of_cards(PAPERS[plan.labels.page])
    front = replace(cards, width_mm=TAG_WIDTH_MM - STUB_WIDTH_MM, height_mm=TAG_HEIGHT_MM - HOLE_HEIGHT_MM)
    room = room_in(front, wordings)
    return render(
        "tags.html",
        templates=templates,
        title=plan.sale.title,
        words_lang=words_language(),
        plan_lang=plan_language(plan.sale),
        paper=cards.paper,
        cards=cards,
        front=front,
        room=room,
        canvas=canvas_of(cards.paper),
        hole_mm=HOLE_HEIGHT_MM,
        stub_mm=STUB_WIDTH_MM,
        stub_pad_mm=STUB_PAD_MM,
        pages=tuple(
            tuple(
                _tag(wording, place, room)
                for wording, place in zip(wordings[start:], cards.places, strict=False)
            )
            for start in range(0, len(wordings), len(cards.places))
        ),
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


def _tag(wording: Wording, place: Place, room: Room) -> Tag:
    below_hole = replace(place, y_mm=place.y_mm + HOLE_HEIGHT_MM)
    return Tag(place=place, front=label_of(wording, below_hole, room), stub=_stub(wording, place))


def _stub(wording: Wording, place: Place) -> Stub:
    return Stub(
        name=_fitted(wording.name, most_lines=2, largest=9, height_mm=8),
        price=_fitted(wording.price, most_lines=1, largest=14, height_mm=8),
        number=_fitted(wording.number, most_lines=1, largest=11, height_mm=6),
        code=_stub_code(wording.number, place),
    )


def _stub_code(number: str, place: Place) -> Code:
    """Return the code at the foot of a stub, in its middle."""
    dots = module_dots(STUB_CODE_MM)
    beside = (STUB_WIDTH_MM - dots * DOT_MM * MODULES) / 2
    return code_of(
        number,
        right_mm=place.x_mm + TAG_WIDTH_MM - beside,
        bottom_mm=place.y_mm + TAG_HEIGHT_MM - STUB_CODE_BOTTOM_MM,
        module_dots=dots,
    )


def _fitted(text: str, *, most_lines: int, largest: float, height_mm: float) -> Fitted:
    width = STUB_WIDTH_MM - 2 * STUB_PAD_MM
    fitted = fit(text, width_mm=width, height_mm=height_mm, largest=largest, most_lines=most_lines, bold=True)
    return fitted or Fitted(points=largest, lines=(text,))
