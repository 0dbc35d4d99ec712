"""What is wrong with the rows of a list, beside values that cannot be read."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Final, get_args

from salebook.accounts.file import DIGITS, ListFile, RowFault
from salebook.accounts.row import HEADING, Arrived, Part, Row, Status
from salebook.event.entries import LineKind

CHOICES: Final[Mapping[tuple[str, str], tuple[str, ...]]] = {
    ("line", "kind"): get_args(LineKind),
    ("line", "arrived"): get_args(Arrived),
    ("sale", "kind"): get_args(Status),
    ("currency", "parts"): tuple(DIGITS),
}
"""What may stand in a column of a part."""

NO_PARTS: Final = re.compile("0*|-[0-9]+")
ONCE: Final = ("currency", "sale")
WITH_AMOUNT: Final = frozenset({"line", "fee", "cost", "giver", "share", "paid"})


def faults_of(listed: ListFile) -> tuple[RowFault, ...]:
    """Return everything that is wrong in a list, by row and column."""
    found = [*listed.faults, *_not_once(listed), *_of_groups(listed)]
    for number, row in listed.rows.items():
        found += _of_row(number, row)
    return tuple(sorted(found, key=_place))


def _place(fault: RowFault) -> tuple[int, int]:
    return fault.row, HEADING.index(fault.key) if fault.key else len(HEADING)


def _not_once(listed: ListFile) -> Iterator[RowFault]:
    for part in ONCE:
        many = sum(row.part == part for row in listed.rows.values())
        if many != 1:
            yield RowFault(row=0, key="part", found=str(many), expected=part)


def _of_groups(listed: ListFile) -> Iterator[RowFault]:
    """Yield rows with money for a group that has no share, or several: it would count nowhere, or twice."""
    shares = Counter(row.group for row in listed.rows.values() if row.part == "share")
    for number, row in listed.rows.items():
        if _is_for_a_group(row) and shares[row.group] != 1:
            yield RowFault(row=number, key="group", found=row.group, expected="group")


def _is_for_a_group(row: Row) -> bool:
    return row.part in {"share", "paid"} or (
        row.part == "line" and (bool(row.to_group) or row.arrived == "straight")
    )


def _of_row(number: int, row: Row) -> Iterator[RowFault]:
    if row.part not in get_args(Part):
        yield RowFault(row=number, key="part", found=row.part, expected="part")
    for (part, key), choices in CHOICES.items():
        if part == row.part and (found := getattr(row, key)) not in choices:
            yield RowFault(row=number, key=key, found=found, expected=key)
    if row.part in WITH_AMOUNT and not row.amount:
        yield RowFault(row=number, key="amount", found="", expected="amount")
    if row.part == "share" and NO_PARTS.fullmatch(row.parts):
        yield RowFault(row=number, key="parts", found=row.parts, expected="parts")
