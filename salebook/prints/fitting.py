"""Text in a box: it shrinks in steps, then breaks, then is cut with an ellipsis."""

import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from salebook.base.widths import MM_PER_POINT, is_wide, text_mm

SMALLEST_POINTS = 7.0
STEP_POINTS = 0.5
LINE_HEIGHT = 1.15
"""Of the type size: tight, but no letters of two lines touch."""

SHRINK_BEFORE_BREAK = 0.7
"""A line shrinks to this share of its largest size before it is broken in two."""

ELLIPSIS = "…"
SLACK = 1.01
"""Texts are taken for this much wider than the table says: faces differ in the last per cent."""


@dataclass(frozen=True, kw_only=True)
class Fitted:
    """A text as it is printed: its lines and their type size."""

    points: float
    lines: tuple[str, ...]
    is_cut: bool = False

    @property
    def height_mm(self) -> float:
        """The height that the lines take together."""
        return len(self.lines) * line_mm(self.points)


def line_mm(points: float) -> float:
    """Return the height in mm of one line at a type size in points."""
    return points * LINE_HEIGHT * MM_PER_POINT


def fitted(
    text: str,
    width_mm: float,
    height_mm: float,
    largest: float,
    *,
    most_lines: int = 1,
    smallest: float = SMALLEST_POINTS,
) -> Fitted:
    """Return a text in bold letters fitted into a box; whole, on one line, where they were too small."""
    found = fit(
        text, width_mm=width_mm, height_mm=height_mm, largest=largest, most_lines=most_lines, bold=True
    )
    return found if found and found.points >= smallest else Fitted(points=smallest, lines=(text,))


@lru_cache(maxsize=4096)
def fit(
    text: str, *, width_mm: float, height_mm: float, largest: float, most_lines: int = 1, bold: bool = False
) -> Fitted | None:
    """Return a text fitted into a box, never under 7 points; None where the box is lower than one such line.

    On one line it may shrink to 0.7 of its `largest` size, then it may take up to `most_lines` lines and
    shrink further, and what still does not fit is cut.
    """
    words = tuple(_words(" ".join(word for word in text.split(" ") if word)))
    line = _Line(width_mm=width_mm, bold=bold)
    lines_at_7 = min(most_lines, int((height_mm + 1e-6) / line_mm(SMALLEST_POINTS)))
    if lines_at_7 < 1:
        return None
    least = SMALLEST_POINTS if lines_at_7 == 1 else largest * SHRINK_BEFORE_BREAK
    for most, end in ((1, least), (most_lines, SMALLEST_POINTS)):
        for points in _sizes(largest, end):
            lines = line.broken(words, points)
            if 0 < len(lines) <= most and len(lines) * line_mm(points) <= height_mm + 1e-6:
                return Fitted(points=points, lines=lines)
    lines = line.broken(words, SMALLEST_POINTS)
    last = line.cut(lines[lines_at_7 - 1])
    return Fitted(points=SMALLEST_POINTS, lines=(*lines[: lines_at_7 - 1], last), is_cut=True)


def lines_that_fit(texts: Sequence[str], width_mm: float, height_mm: float, largest: float) -> Fitted | None:
    """Return texts, each on lines of its own, as large as they fit into a box; None where 7 points do not."""
    line = _Line(width_mm=width_mm, bold=False)
    for points in _sizes(largest, SMALLEST_POINTS):
        broken = [line.broken(tuple(_words(text)), points) for text in texts]
        lines = tuple(each for text in broken for each in text)
        if all(broken) and len(lines) * line_mm(points) <= height_mm + 1e-6:
            return Fitted(points=points, lines=lines)
    return None


def _sizes(largest: float, least: float) -> Iterator[float]:
    points = max(largest, SMALLEST_POINTS)
    while points > max(least, SMALLEST_POINTS):
        yield points
        points -= STEP_POINTS
    yield max(least, SMALLEST_POINTS)


def _words(text: str) -> Iterator[tuple[str, str]]:
    """Yield what a line may break between, each with what stands before it: a space or nothing."""
    before, word = "", ""
    for sign in text:
        if sign == " ":
            yield before, word
            before, word = " ", ""
        elif word and (is_wide(sign) or is_wide(word[-1])) and not unicodedata.combining(sign):
            yield before, word
            before, word = "", sign
        else:
            word += sign
    yield before, word


@dataclass(frozen=True, kw_only=True)
class _Line:
    """A line of a box, into which texts are broken and cut."""

    width_mm: float
    bold: bool

    def holds(self, text: str, points: float) -> bool:
        return text_mm(text, points, bold=self.bold) * SLACK <= self.width_mm

    def broken(self, words: Iterable[tuple[str, str]], points: float) -> tuple[str, ...]:
        """Return words in lines as full as can be; none where one is too wide, which breaks at 7 points."""
        lines: list[str] = []
        for before, word in words:
            joined = f"{lines[-1]}{before}{word}" if lines else word
            if lines and self.holds(joined, points):
                lines[-1] = joined
            elif self.holds(word, points):
                lines.append(word)
            elif points <= SMALLEST_POINTS:
                lines.extend(self._pieces(word, points))
            else:
                return ()
        return tuple(lines)

    def _pieces(self, word: str, points: float) -> Iterator[str]:
        piece = ""
        for sign in word:
            if piece and not unicodedata.combining(sign) and not self.holds(piece + sign, points):
                yield piece
                piece = ""
            piece += sign
        yield piece

    def cut(self, text: str) -> str:
        """Return the longest start of a text that has room with an ellipsis; no letter loses its marks."""
        ends = (end for end in range(len(text) - 1, 0, -1) if not unicodedata.combining(text[end]))
        starts = (start + ELLIPSIS for start in (text, *(text[:end].rstrip() for end in ends)))
        return next((start for start in starts if self.holds(start, SMALLEST_POINTS)), ELLIPSIS)
