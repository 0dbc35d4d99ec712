"""How things look: palette, number formats and cell styles; nothing else knows."""

from dataclasses import dataclass
from typing import Literal

from babel import Locale
from babel.numbers import get_currency_symbol
from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Protection, Side

from salebook.base.widths import ems
from salebook.plan.money import minor_digits

INK = "22313F"
CLAY = "A4552F"
BAR = "4F7F70"
PAPER = "FBF8F3"
STRAW = "FFF4CC"
GREY = "6B6B6B"
RULE = "C9BFB0"
ALARM = "9B1C1C"
WELL = "DCE9E4"

FONT = "Arial"
"""On every machine, or replaced by a font of the same widths."""

POINTS = 10


Line = Literal["dotted", "thin", "medium"]


@dataclass(frozen=True, kw_only=True)
class Kind:
    """What a cell is for, and so how it looks."""

    size: float = POINTS
    bold: bool = False
    italic: bool = False
    colour: str = INK
    fill: str | None = None
    frame: Line | None = None
    foot: Line | None = None
    unlocked: bool = False
    wrap: bool = False
    align: str | None = None
    shrink: bool = False
    """Whether a text that is too wide is made smaller, and does not reach into the next cell."""
    top: bool = False
    """Whether a text of several lines stands at the top of its cell, not in the middle."""


KINDS = {
    "title": Kind(size=20, bold=True, colour=CLAY),
    "lead": Kind(size=10, wrap=True, top=True),
    "warn": Kind(size=10, wrap=True, top=True, bold=True, colour=ALARM),
    "band": Kind(size=12, bold=True, colour=CLAY, fill=PAPER),
    "key": Kind(size=6, colour=GREY, top=True, shrink=True),
    "heading": Kind(bold=True, foot="medium", wrap=True, align="left"),
    "number-heading": Kind(bold=True, foot="medium", wrap=True, align="right"),
    "label": Kind(),
    "input": Kind(fill=STRAW, frame="dotted", unlocked=True),
    "result": Kind(),
    "strong": Kind(bold=True),
    "total": Kind(bold=True, foot="thin"),
    "worked": Kind(italic=True, colour=GREY),
    "note": Kind(italic=True, colour=GREY, size=9),
    "small": Kind(size=8, colour=GREY),
    "remark": Kind(colour=ALARM, size=9),
    "big": Kind(size=28, bold=True, colour=CLAY, align="left"),
    "bigger": Kind(size=16, bold=True, align="left"),
    "bar": Kind(size=22, colour=BAR),
}
"""Kinds of cell by name: the first half of a style such as "input money"."""

TEXT_FORMATS = {"text", "wrapped", "verbatim"}
PLAIN_FORMATS = {
    "text": "General",
    "wrapped": "General",
    "verbatim": "@",
    "whole": "#,##0",
    "number": "General",
    "tenths": "#,##0.0",
    "hundredths": "#,##0.00",
    "thousandths": "#,##0.000",
    "percent": "0.0%",
    "percents": "0%",
    "date": "d mmm yyyy",
    "day": "ddd d mmm",
    "clock": "[hh]:mm",
    "time": "hh:mm",
    "hours": "0.0",
}
"""Number formats by name: the second half of a style such as "input money"."""


def money_format(currency: str, locale: str, *, digits: int | None = None) -> str:
    """Return the number format of an amount in a currency, as the locale writes it."""
    digits = minor_digits(currency) if digits is None else digits
    number = "#,##0" + ("." + "0" * digits if digits else "")
    symbol = get_currency_symbol(currency, locale).replace('"', "")
    before = Locale.parse(locale).currency_formats["standard"].pattern.lstrip("-").startswith("¤")
    space = "" if before and len(symbol) == 1 else "\\ "
    shown = f'"{symbol}"{space}{number}' if before else f'{number}\\ "{symbol}"'
    return f"{shown};-{shown}"


class Styles:
    """The named styles of one workbook, made when first asked for."""

    def __init__(self, *, currency: str, locale: str) -> None:
        self._formats = PLAIN_FORMATS | {
            "money": money_format(currency, locale),
            "owed": money_format(currency, locale) + ";",
            "rate": money_format(currency, locale, digits=4) + ';"–"',
        }
        self._made: dict[str, NamedStyle] = {}

    def named(self, name: str) -> NamedStyle:
        """Return the style of a name such as "input money" (kind and format; the format may be left out)."""
        if name not in self._made:
            kind, _, number_format = name.partition(" ")
            self._made[name] = self._make(name, KINDS[kind], number_format or "text")
        return self._made[name]

    def _make(self, name: str, kind: Kind, number_format: str) -> NamedStyle:
        is_text = number_format in TEXT_FORMATS
        horizontal = kind.align or ("left" if is_text else "right")
        wrap = kind.wrap or number_format == "wrapped"
        return NamedStyle(
            name=f"salebook {name}",
            font=Font(name=FONT, size=kind.size, bold=kind.bold, italic=kind.italic, color=kind.colour),
            fill=PatternFill("solid", fgColor=kind.fill) if kind.fill else PatternFill(),
            border=_border(kind),
            alignment=Alignment(
                horizontal=horizontal,
                vertical="top" if kind.top else "center",
                wrap_text=wrap,
                # A number that is too wide for its cell would show as ### instead.
                shrink_to_fit=kind.shrink or (not is_text and not wrap),
                # A text must not touch the number to its left; titles and bands stand further out.
                indent=1 if horizontal == "left" and not kind.top and kind.size <= POINTS else 0,
            ),
            number_format=self._formats[number_format],
            protection=Protection(locked=not kind.unlocked),
        )


def _border(kind: Kind) -> Border:
    frame = Side(style=kind.frame, color=GREY) if kind.frame else Side()
    foot = Side(style=kind.foot, color=INK if kind.foot == "medium" else RULE) if kind.foot else frame
    return Border(left=frame, right=frame, top=frame, bottom=foot)


POINTS_PER_CHARACTER = 5.25
"""A column's width counts digits of the workbook's own face: 7 pixels of 1/96 inch each."""


def broken_into_lines(
    text: str, width: float, *, points: float = POINTS, bold: bool = False
) -> tuple[str, ...]:
    """Return a text as the lines that it takes in a column so many characters wide."""
    room = width * POINTS_PER_CHARACTER / points
    lines = [""]
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines[-1] else word
        if lines[-1] and ems(longer, bold=bold) > room:
            lines.append(word)
        else:
            lines[-1] = longer
    return tuple(lines)


def lines_needed(text: str, width: float) -> int:
    """Return how many lines a text of the usual size takes in a column so many characters wide."""
    return len(broken_into_lines(text, width))
