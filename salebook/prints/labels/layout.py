"""What stands on one label, and how large: worked out for the label's room before anything is drawn."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from salebook.base.errors import Fault, FaultyPlanError
from salebook.base.widths import text_mm
from salebook.base.words import _
from salebook.prints.fitting import SMALLEST_POINTS, Fitted, fit, fitted, line_mm
from salebook.prints.labels.qr_codes import DOT_MM, MODULES, SLACK_MM, module_dots
from salebook.prints.labels.sheet import Sheet

USUAL_WIDTH_MM = 63.5
USUAL_HEIGHT_MM = 38.1
"""The label that the type sizes are chosen for; they grow and shrink with it."""

NAME_POINTS = 13.0
PRICE_POINTS = 17.0
DETAIL_POINTS = 8.5
NUMBER_POINTS = 9.0
MOST_NAME_LINES = 3
MOST_DETAIL_LINES = 3
LARGEST_SCALE = 3.0

CODE_SHARE = 0.48
"""Of the label's shorter side, for the code with its quiet zone."""

PRICE_SHARE = 0.5
"""Of the height that the name leaves, at most, for the price."""


@dataclass(frozen=True, kw_only=True)
class Wording:
    """The words of one label, before they are fitted."""

    number: str
    name: str
    price: str
    note: str = ""
    """What must be told: "second", or who gave the piece."""
    details: tuple[str, ...] = ()
    """What is told where there is room, the most useful first."""


@dataclass(frozen=True, kw_only=True)
class LabelTexts:
    """The fitted words of one label; `details` holds the note first."""

    name: Fitted
    price: Fitted
    details: tuple[Fitted, ...]


@dataclass(frozen=True, kw_only=True)
class Room:
    """The measures inside a label, the same for all labels of a sheet, in mm and points."""

    width_mm: float
    height_mm: float
    pad_mm: float
    scale: float
    number_points: float
    module_dots: int
    """A side of the code's modules in printer's dots; 0 where there is no code."""
    code_bottom_mm: float
    """From the label's lower edge to the code's quiet zone."""

    @property
    def code_mm(self) -> float:
        """The side of the square that the code with its quiet zone takes; 0 where there is none."""
        return self.module_dots * DOT_MM * MODULES + SLACK_MM if self.module_dots else 0.0

    @property
    def inner_width_mm(self) -> float:
        """The width between the margins."""
        return self.width_mm - 2 * self.pad_mm

    @property
    def beside_code_mm(self) -> float:
        """The width left of the code; all of it where there is none."""
        return self.width_mm - self.pad_mm - max(self.code_mm, self.pad_mm)

    @property
    def name_height_mm(self) -> float:
        """The height above the code; what number and price leave at their smallest where there is none."""
        if self.module_dots:
            return self.height_mm - self.pad_mm - self.code_bottom_mm - self.code_mm
        return self.above_number_mm - line_mm(SMALLEST_POINTS)

    @property
    def above_number_mm(self) -> float:
        """The height between the upper margin and the number."""
        return self.height_mm - 2 * self.pad_mm - line_mm(self.number_points)


def room_in(sheet: Sheet, wordings: Sequence[Wording]) -> Room:
    """Return the measures inside the labels of a sheet, such that the longest number and price fit.

    Raises FaultyPlanError where a label is too narrow for a number or a price at 7 points.
    """
    pad = max(0.7, min(3.0, 0.06 * sheet.height_mm))
    numbers = tuple(dict.fromkeys(wording.number for wording in wordings))
    scale = max(
        0.1,
        min(LARGEST_SCALE, sheet.width_mm / USUAL_WIDTH_MM, sheet.height_mm / USUAL_HEIGHT_MM),
    )
    points = _number_points(numbers, sheet.width_mm - 2 * pad, NUMBER_POINTS * scale)
    room = Room(
        width_mm=sheet.width_mm,
        height_mm=sheet.height_mm,
        pad_mm=pad,
        scale=scale,
        number_points=points,
        module_dots=module_dots(CODE_SHARE * min(sheet.width_mm, sheet.height_mm)) if sheet.has_codes else 0,
        code_bottom_mm=0.0,
    )
    widest = max((text_mm(number, points) for number in numbers), default=0.0)
    if room.module_dots and widest > room.beside_code_mm:
        room = replace(room, code_bottom_mm=pad + line_mm(points))
    price = max((wording.price for wording in wordings), key=lambda price: text_mm(price, 7), default="")
    if text_mm(price, SMALLEST_POINTS, bold=True) > room.beside_code_mm:
        raise _too_narrow(price, room.width_mm)
    return room


@lru_cache(maxsize=4096)
def label_texts_of(room: Room, *, name: str, price: str, note: str, details: tuple[str, ...]) -> LabelTexts:
    """Return one label's words fitted: price, note and name, then details while there is room.

    Where the label has no line to spare for the note, it stands before the name.
    """
    lines_left = room.above_number_mm - 2 * line_mm(SMALLEST_POINTS)
    if note and lines_left < line_mm(SMALLEST_POINTS):
        name, note = f"{note} · {name}", ""
    note_mm = line_mm(_detail_points(room)) if note else 0.0
    name_fitted = _fitted_name(room, name, note_mm)
    left = room.above_number_mm - name_fitted.height_mm
    price_fitted = _fitted_price(room, price, min(left - note_mm, max(PRICE_SHARE * left, line_mm(7))))
    told = [text for text in (note, *details) if text]
    return LabelTexts(
        name=name_fitted,
        price=price_fitted,
        details=tuple(_fitted_details(room, told, left - price_fitted.height_mm)),
    )


def _fitted_name(room: Room, name: str, note_mm: float) -> Fitted:
    height = max(room.name_height_mm - (0 if room.module_dots else note_mm), line_mm(SMALLEST_POINTS))
    largest = max(SMALLEST_POINTS, NAME_POINTS * room.scale)
    return fitted(name, room.inner_width_mm, height, largest, most_lines=MOST_NAME_LINES)


def _fitted_price(room: Room, price: str, height_mm: float) -> Fitted:
    largest = max(SMALLEST_POINTS, PRICE_POINTS * room.scale)
    return fitted(price, room.beside_code_mm, max(height_mm, line_mm(SMALLEST_POINTS)), largest)


def _fitted_details(room: Room, texts: Iterable[str], height_mm: float) -> Iterable[Fitted]:
    width_mm, largest = room.beside_code_mm, _detail_points(room)
    for text in texts:
        found = fit(
            text, width_mm=width_mm, height_mm=height_mm, largest=largest, most_lines=MOST_DETAIL_LINES
        )
        if found is not None:
            height_mm -= found.height_mm
            yield found


def _detail_points(room: Room) -> float:
    return max(SMALLEST_POINTS, DETAIL_POINTS * room.scale)


def _number_points(numbers: Sequence[str], width_mm: float, largest: float) -> float:
    """Return the type size at which the longest number stands on one line, the same on every label."""
    longest = max(numbers, key=lambda number: text_mm(number, 1), default="")
    found = fit(longest, width_mm=width_mm, height_mm=1000, largest=max(SMALLEST_POINTS, largest))
    if found is None or found.is_cut:
        raise _too_narrow(longest, width_mm)
    return found.points


def _too_narrow(text: str, width_mm: float) -> FaultyPlanError:
    fault = Fault(
        file=_("plan"),
        place="labels → width",
        found=_("{width:g} mm").format(width=round(width_mm, 1)),
        expected=_("room for “{text}” in letters of 7 points").format(text=text),
    )
    return FaultyPlanError([fault])
