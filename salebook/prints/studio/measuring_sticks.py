"""Measuring sticks at true size: a strip for each ware, with the height and the width to throw to."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.base.words import _
from salebook.making.clay import Sizes
from salebook.prints.paper import Paper
from salebook.prints.wording import format_size

STRIP_MM = 37.0
"""Width of a strip."""

HEAD_MM = 60.0
"""What a page needs besides its strips: margins, heading, ruler."""

LINE_MM = 4.4
"""From one line of writing to the next."""

Mark = tuple[str, Decimal]
"""What is measured, in words, and how long it is in mm."""


@dataclass(frozen=True, kw_only=True)
class Cut:
    """A line across a strip and what it says; in mm from the upper end of the strip."""

    y: float
    says: str
    text_y: float


@dataclass(frozen=True, kw_only=True)
class Stick:
    """A strip, or a part of one that is too long for the page; lengths in mm."""

    code: str
    part: str
    begins: float
    """How far above the foot of the pot this part begins."""
    length: float
    cuts: tuple[Cut, ...]
    width: float = STRIP_MM

    @property
    def ticks(self) -> str:
        """The marks of the ruler along the left edge, as an SVG path."""
        first, last = round(self.begins), int(self.begins + self.length)
        long = {mark: 5 if mark % 10 == 0 else 3.5 if mark % 5 == 0 else 2 for mark in range(first, last + 1)}
        return "".join(f"M0 {self._y(mark):.2f}h{tick}" for mark, tick in long.items())

    @property
    def numbers(self) -> tuple[tuple[float, int], ...]:
        """Where the centimetres stand and how many they are, where there is room for them."""
        first, last = int(self.begins // 10) + 1, int((self.begins + self.length - 2) // 10)
        return tuple((self._y(10 * mark) + 1.2, mark) for mark in range(first, last + 1))

    def _y(self, mark_mm: float) -> float:
        return self.begins + self.length - mark_mm


def sticks_of(sizes: Sizes, locale: str, paper: Paper) -> tuple[Stick, ...]:
    """Return the strip of one ware, in as many parts as the paper makes it; none where no size is known."""
    marks = ((_("height"), sizes.made_height_mm), (_("width"), sizes.made_diameter_mm))
    known = [(word, length) for word, length in marks if length is not None]
    return tuple(_parts(sizes.ware.code, known, locale, paper.height_mm - HEAD_MM)) if known else ()


def _parts(code: str, marks: Sequence[Mark], locale: str, longest: float) -> Iterator[Stick]:
    whole = float(max(length for _word, length in marks))
    count = -int(-whole // longest)
    for number in range(count):
        begins, ends = number * longest, min(whole, (number + 1) * longest)
        inside = [mark for mark in marks if begins < float(mark[1]) <= ends]
        yield Stick(
            code=code,
            part=_("part {number} of {count}").format(number=number + 1, count=count) if count > 1 else "",
            begins=begins,
            length=ends - begins,
            cuts=tuple(_cuts(inside, locale, ends)),
        )


def _cuts(marks: Sequence[Mark], locale: str, ends: float) -> Iterator[Cut]:
    """Yield the cuts from the top down; where two lie close the lower one's writing makes way."""
    free = 0.0
    for word, length in sorted(marks, key=lambda mark: -mark[1]):
        y = ends - float(length)
        text_y = max(y + LINE_MM, free)
        yield Cut(y=y, says=f"{word} {format_size((length,), locale, step_mm=Decimal(1))}", text_y=text_y)
        free = text_y + LINE_MM
