"""Whether a list is the one behind a letter: its fingerprint, its sums, and what is wrong in it."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from typing import Final

from salebook.accounts.file import ListFile, RowFault, read_list
from salebook.accounts.fingerprint import evening_fingerprint, fingerprint, letters_that_differ
from salebook.accounts.row import Row
from salebook.accounts.row_faults import faults_of
from salebook.accounts.sums import GroupSum, Sums, sums_of

CLOSE: Final = 2
"""So many letters that differ are more likely misread than chance: of two lists they differ in 19."""


@dataclass(frozen=True, kw_only=True)
class DayPrint:
    """The lines of one day: how many, what they brought, and their own fingerprint."""

    day: str
    till: str
    """Empty: of all tills together."""
    lines: int
    money: Decimal
    fingerprint: str


@dataclass(frozen=True, kw_only=True)
class Verification:
    """A list that was added up again; `asked` is the fingerprint on the letter; empty: none was given."""

    listed: ListFile
    asked: str = ""

    @cached_property
    def rows(self) -> tuple[Row, ...]:
        """The rows of the list."""
        return tuple(self.listed.rows.values())

    @cached_property
    def fingerprint(self) -> str:
        """The fingerprint of the whole list."""
        return fingerprint(self.rows)

    @cached_property
    def sums(self) -> Sums:
        """The list added up."""
        return sums_of(self.rows, self.listed.digits)

    @cached_property
    def faults(self) -> tuple[RowFault, ...]:
        """Everything that is wrong in the list."""
        return faults_of(self.listed)

    @property
    def differences(self) -> tuple[GroupSum, ...]:
        """Groups of which the list states another share than the one worked out."""
        return tuple(group for group in self.sums.groups if group.stated != group.share)

    @cached_property
    def days(self) -> tuple[DayPrint, ...]:
        """The lines day by day, and where a day has several tills also till by till."""
        return tuple(days_of(self.rows, self.listed.digits))

    @property
    def is_same(self) -> bool | None:
        """Whether the list is the one of the letter; None where no fingerprint was given."""
        return self.asked == self.fingerprint if self.asked else None

    @property
    def same_day(self) -> DayPrint | None:
        """The first day whose lines have the fingerprint that was given."""
        return next((day for day in self.days if day.fingerprint == self.asked), None)

    @property
    def letters_differ(self) -> int:
        """In how many letters the fingerprint differs from the one that was given."""
        return letters_that_differ(self.asked, self.fingerprint) if self.asked else 0

    @property
    def is_misread(self) -> bool:
        """Whether the fingerprint that was given looks like the list's own with a letter or two misread."""
        return 0 < self.letters_differ <= CLOSE

    @property
    def is_day_first_assumed(self) -> bool:
        """Whether days were read with the day first though neither the file nor the fingerprint tells."""
        return self.listed.day_first is None and not (self.is_same or self.same_day)

    @property
    def is_sound(self) -> bool:
        """Whether nothing is wrong and nothing differs."""
        is_other = self.is_same is False and not self.same_day
        return not (self.faults or self.differences or is_other)


def days_of(rows: Iterable[Row], digits: int) -> Iterator[DayPrint]:
    """Yield the lines of a list day by day; where a day has several tills, also till by till."""
    by_day: dict[str, list[Row]] = defaultdict(list)
    for row in rows:
        if row.part == "line":
            by_day[row.day].append(row)
    for day, lines in sorted(by_day.items(), key=lambda item: item[0].encode("utf-16-be")):
        yield _day_print(day, "", lines, digits)
        tills = sorted({line.till for line in lines}, key=lambda till: till.encode("utf-16-be"))
        for till in tills if len(tills) > 1 else ():
            yield _day_print(day, till, [line for line in lines if line.till == till], digits)


def _day_print(day: str, till: str, lines: Sequence[Row], digits: int) -> DayPrint:
    money = sums_of(lines, digits).takings
    return DayPrint(day=day, till=till, lines=len(lines), money=money, fingerprint=evening_fingerprint(lines))


def verification_of(content: bytes, *, file: str, asked: str = "") -> Verification:
    """Read a list and add it up again, against a fingerprint as `typed_fingerprint` returns it.

    Where the days can be read two ways, the one with that fingerprint counts. Raises FileError where the file
    is no list of lines.
    """
    first = Verification(listed=read_list(content, file=file), asked=asked)
    if first.listed.day_first is not None or first.is_same is not False or first.same_day:
        return first
    other = Verification(listed=read_list(content, file=file, day_first=False), asked=asked)
    return other if other.is_same or other.same_day else first
