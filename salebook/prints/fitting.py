"""Text in a box: it shrinks in steps, then breaks, then is cut with an ellipsis."""

import unicodedata
from collections.abc import Iterator
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


@lru_cache(maxsize=4096)
def fit(
    text: str, *, width_mm: float, height_mm: float, largest: float, most_lines: int = 1, bold: bool = False
) -> Fitted | None:
    """Return a text fitted into a box, never under 7 points; None where the box is lower than one such line.

    On one line it may shrink to 0.7 of its `largest` size, then it may take up to `most_lines` lines and
    shrink further, and what still does not fit is cut.
    """
    text = " ".join(word for word in text.split(" ") if word)
    lines_at_7 = min(most_lines, int((height_mm + 1e-6) / line_mm(SMALLEST_POINTS)))
    if lines_at_7 < 1:
        return None
    least = SMALLEST_POINTS if lines_at_7 == 1 else largest * SHRINK_BEFORE_BREAK
    return (
        _on_one_line(text, width_mm, height_mm, largest, least, bold=bold)
        or _on_lines(text, width_mm, height_mm, largest, most_lines, bold=bold)
        or _cut(text, width_mm, lines_at_7, bold=bold)
    )


def _on_one_line(
    text: str, width_mm: float, height_mm: float, largest: float, least: float, *, bold: bool
) -> Fitted | None:
    for points in _sizes(largest, least):
        if line_mm(points) <= height_mm + 1e-6 and _wide(text, points, bold=bold) <= width_mm:
            return Fitted(points=points, lines=(text,))
    return None


def _on_lines(
    text: str, width_mm: float, height_mm: float, largest: float, most_lines: int, *, bold: bool
) -> Fitted | None:
    for points in _sizes(largest, SMALLEST_POINTS):
        lines = _broken(text, width_mm, points, bold=bold, inside_words=points <= SMALLEST_POINTS)
        if lines and len(lines) <= most_lines and len(lines) * line_mm(points) <= height_mm + 1e-6:
            return Fitted(points=points, lines=lines)
    return None


def _cut(text: str, width_mm: float, most_lines: int, *, bold: bool) -> Fitted:
    lines = _broken(text, width_mm, SMALLEST_POINTS, bold=bold, inside_words=True)
    kept, last_in_full = lines[: most_lines - 1], lines[most_lines - 1]
    last = next(
        (
            start + ELLIPSIS
            for start in _starts(last_in_full)
            if _wide(start + ELLIPSIS, 7.0, bold=bold) <= width_mm
        ),
        ELLIPSIS,
    )
    return Fitted(points=SMALLEST_POINTS, lines=(*kept, last), is_cut=True)


def _starts(text: str) -> Iterator[str]:
    """Yield a text and ever shorter starts of it; none ends in a space or parts a letter from its marks."""
    yield text
    for end in range(len(text) - 1, 0, -1):
        if not unicodedata.combining(text[end]):
            yield text[:end].rstrip()


def _sizes(largest: float, least: float) -> Iterator[float]:
    points = max(largest, SMALLEST_POINTS)
    while points > max(least, SMALLEST_POINTS):
        yield points
        points -= STEP_POINTS
    yield max(least, SMALLEST_POINTS)


def _wide(text: str, points: float, *, bold: bool) -> float:
    return text_mm(text, points, bold=bold) * SLACK


def _broken(text: str, width_mm: float, points: float, *, bold: bool, inside_words: bool) -> tuple[str, ...]:
    """Return the lines of a text, each as full as can be; nothing where a word is wider than a line."""
    lines: list[str] = []
    for before, word in _words(text):
        joined = f"{lines[-1]}{before}{word}" if lines else word
        if lines and _wide(joined, points, bold=bold) <= width_mm:
            lines[-1] = joined
        elif _wide(word, points, bold=bold) <= width_mm:
            lines.append(word)
        elif inside_words:
            lines.extend(_pieces(word, width_mm, points, bold=bold))
        else:
            return ()
    return tuple(lines)


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


def _pieces(word: str, width_mm: float, points: float, *, bold: bool) -> Iterator[str]:
    piece = ""
    for sign in word:
        if piece and not unicodedata.combining(sign) and _wide(piece + sign, points, bold=bold) > width_mm:
            yield piece
            piece = ""
        piece += sign
    yield piece
