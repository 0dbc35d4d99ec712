"""One column of a table: its cells, what may be typed into them, and what is read from them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from operator import attrgetter
from typing import Any, Final, Generic, Literal, TypedDict, TypeVar

from salebook.base.words import _
from salebook.book.figure import Figure, Value
from salebook.book.marks import LINKED, LIVE
from salebook.book.page import Content, Page, number
from salebook.book.references import Placed

Row = TypeVar("Row")
Held = Literal["text", "number", "count", "money", "day", "clock", "yes", "choice"]
"""What a column holds, and so how it is read and what may be typed."""
HELD: Final[dict[str, Held]] = {
    **dict.fromkeys(("", "text", "wrapped", "verbatim"), "text"),
    "money": "money",
    "whole": "count",
    **dict.fromkeys(("date", "day"), "day"),
    **dict.fromkeys(("clock", "time"), "clock"),
}
"""What a column of a number format holds; any other holds a number."""


@dataclass(frozen=True)
class Sum:
    """What stands below a column: by default the sum of its cells, in a total's style."""

    name: str = ""
    formula: str = ""
    value: Callable[[Sequence[Any]], Value] | None = None
    style: str = ""


class Options(TypedDict, total=False):
    """What a column may have beside its key, heading, style and value."""

    name: str
    """The name by which formulas anywhere call the column; {part} in it is the part's name."""
    choices: Sequence[str] | str
    """Words to choose from, or the name of a range of them."""
    says: str
    """What is said where something else is typed."""
    alarm: str
    """The cells stand out where this formula holds."""
    well: str
    """The cells are green where this formula holds."""
    total: Sum
    width: float
    read: bool
    """Whether a column is read that salebook itself fills in."""
    evidence: bool
    """Whether something in this column alone shows that a row that lost its mark was typed."""
    where: Callable[[Any], bool]
    """In which rows the column has a cell; by default in all."""


@dataclass(frozen=True, kw_only=True)
class Column(Generic[Row]):
    """One column of a table; what Options says of it has the same names here."""

    key: str
    heading: str | None
    style: str | Callable[[Row], str]
    value: Callable[[Row], Any]
    formula: str | Callable[[Row], str] = ""
    typed: bool = False
    name: str = ""
    choices: Sequence[str] | str = ()
    says: str = ""
    alarm: str = ""
    well: str = ""
    total: Sum | None = None
    width: float = 0.0
    read: bool = False
    evidence: bool = True
    where: Callable[[Any], bool] | None = None

    @property
    def holds(self) -> Held:
        """What is read from the column."""
        if self.words:
            return "yes" if self.words == ("yes",) else "choice"
        style = self.style if isinstance(self.style, str) else " number"
        return HELD.get(style.partition(" ")[2], "number")

    @property
    def words(self) -> tuple[str, ...]:
        """The words to choose from, where the declaration has them."""
        return () if isinstance(self.choices, str) else tuple(self.choices)

    def content(self, row: Row | None, placed: Placed, at: int) -> Content:
        """Return what stands in the cell of the row `at`; the row None is empty, for people to fill in."""
        formula = self.formula
        if not isinstance(formula, str):
            formula = "" if row is None else formula(row)
        value = None if row is None else self.value(row)
        if formula:
            return Figure(f"={placed.in_row(formula, at)}", "" if value is None else value)
        return _plain(value)

    def look(self, row: Row | None) -> str:
        """Return the style of a row's cell, empty where it has none; an empty row has that of any other."""
        if self.where and row is not None and not self.where(row):
            return ""
        if isinstance(self.style, str):
            return self.style
        return "" if row is None else self.style(row)

    def rule(self, page: Page, cells: str) -> None:
        """Say what may be typed into the cells: one of the choices, or a number."""
        if self.choices:
            page.dropdown(cells, self.choices, says=self.says)
        elif self.typed and self.holds in {"money", "count", "number"}:
            page.number_only(cells, says=self.says or _expected(self.holds))


def _attribute(key: str) -> Callable[[Any], Any]:
    """Return what gets an attribute of a row, or of the first record that has it where a row is several."""
    name = key.removeprefix(LIVE).removeprefix(LINKED)

    def value(row: Any) -> Any:
        records = row if isinstance(row, tuple) else (row,)
        return getattr(next((record for record in records if hasattr(record, name)), row), name)

    return value


def getter_of(value: Callable[[Any], Any] | str, key: str) -> Callable[[Any], Any]:
    """Return what gets a row's value: a function of the row, or the path of attributes that leads there."""
    if isinstance(value, str):
        return attrgetter(value) if value else _attribute(key)
    return value


def _expected(holds: Held) -> str:
    if holds == "money":
        return _("An amount, not below 0, is expected here")
    if holds == "count":
        return _("A whole number, not below 0, is expected here")
    return _("A number, not below 0, is expected here")


def _plain(value: Any) -> Content:
    """Return a value as a cell keeps it; an empty text and a no leave the cell empty."""
    if isinstance(value, bool):
        return "yes" if value else None
    if isinstance(value, str):
        return value.strip() or None
    return number(value) if isinstance(value, Decimal) else value
