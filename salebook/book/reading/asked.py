"""What a workbook leaves open: gathered while it is read."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, TypeVar

from salebook.base.errors import UnfitError
from salebook.base.words import _
from salebook.book.reading.raw import Percentage, SheetError
from salebook.book.reading.tables import UNCALCULATED, Row
from salebook.book.reading.typed import text, tidy
from salebook.event.entries import Unplaced
from salebook.event.question import Question

Read = TypeVar("Read")


@dataclass
class Asked:
    """Questions for a person, and notes on what was understood although the sheet cannot count it."""

    questions: list[Question] = field(default_factory=list)
    notes: list[Question] = field(default_factory=list)
    unread: list[Unplaced] = field(default_factory=list)
    """What was typed and made no sense, where a fresh workbook has no other place for it."""

    def ask(self, row: Row, says: str) -> None:
        """Ask about a row."""
        self.questions.append(row.asks(says))

    def note(self, row: Row, says: str) -> None:
        """Say something about a row that needs no answer."""
        self.notes.append(row.asks(says))

    def read(self, row: Row, key: str, reader: Callable[[Any], Read], says: str) -> Read | None:
        """Read a cell; nothing where it is empty, and nothing but a question where it makes no sense."""
        value = row.get(key)
        if not tidy(value):
            return None
        try:
            return reader(value)
        except UnfitError:
            self.ask(row, why_unread(row, key) or says)
            self.unread.append(Unplaced(sheet=row.sheet, says=_typed_there(row, key, value)))
            return None

    def text(self, row: Row, key: str) -> str:
        """Read a text as it shows; where that is an error, ask too."""
        if says := broken(row, key):
            self.ask(row, says)
        return text(row.get(key))


def _typed_there(row: Row, key: str, value: Any) -> str:
    names = (text(row.get(name)) for name in ("code", "number", "day"))
    place = next((name for name in names if name), "") or _("row {row}").format(row=row.number)
    return f"{place}, {key}: {text(value)}"


def why_unread(row: Row, key: str) -> str:
    """Say why no number can be read from a cell; empty where it is for the reader to say."""
    if isinstance(row.get(key), Percentage):
        says = _(
            "column {column}: a percentage stands here, such as 50 % for 0.50: type the number, without %"
        )
        return says.format(column=row.column(key))
    return broken(row, key)


def broken(row: Row, key: str) -> str:
    """Say what is wrong with a cell that shows an error or was never calculated; empty: neither."""
    value = row.get(key)
    if not isinstance(value, SheetError):
        return ""
    if value == UNCALCULATED:
        says = _("column {column}: this formula was never calculated, or two columns say different things")
        return says.format(column=row.column(key))
    return _("column {column} shows the error {error}").format(column=row.column(key), error=str(value))
