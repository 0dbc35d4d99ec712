"""What stands in a declared table's cells, read as the declaration says."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any

from salebook.book.column import Held
from salebook.book.declared import declared
from salebook.book.reading.asked import Asked, Read
from salebook.book.reading.tables import Row, Tables
from salebook.book.reading.typed import CellParser, count_of, number_of, one_of, text, tidy
from salebook.book.table import Table


@dataclass(frozen=True)
class Fields:
    """One table of a workbook that is being read."""

    section: str
    tables: Tables
    parser: CellParser
    asked: Asked

    @cached_property
    def table(self) -> Table[Any]:
        """The table's declaration."""
        return declared()[self.section]

    @cached_property
    def _readers(self) -> dict[Held, Callable[[Any], Any]]:
        plain: dict[Held, Callable[[Any], Any]] = {"count": count_of, "text": text, "number": number_of}
        return {**plain, "money": self.parser.amount, "day": self.parser.day}

    def _reader(self, key: str) -> Callable[[Any], Any]:
        column = self.table[key]
        return partial(one_of, column.words) if column.holds == "choice" else self._readers[column.holds]

    def all(self) -> tuple[Row, ...]:
        """Return every row of the table."""
        return self.tables.rows(self.section)

    def filled(self) -> list[Row]:
        """Return the rows in which something stands that people fill in."""
        keys = [column.key for column in self.table.columns if column.typed]
        return [row for row in self.all() if row.has(keys)]

    def by(
        self, key: str, read: Callable[[Row], Read | None], *, unnamed: str, twice: str
    ) -> dict[str, Read]:
        """Read each row by the name under a key; `unnamed` or `twice` is asked; the first counts."""
        found: dict[str, Read] = {}
        for row in self.all():
            value, name = read(row), tidy(row.get(key)).upper()
            if value is None:
                continue
            if not name:
                self.asked.ask(row, unnamed)
            elif found.setdefault(name, value) != value:
                self.asked.ask(row, twice.format(name=name))
        return found

    def read(self, row: Row, key: str, says: str) -> Any:
        """Read a cell as its column is declared; None, and `says` is asked, where it makes no sense."""
        return self.asked.read(row, key, self._reader(key), says)
