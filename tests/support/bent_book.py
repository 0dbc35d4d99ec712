"""A small filled-in workbook to bend, and ways to bend it."""

import io
import zipfile
from collections.abc import Callable, Mapping
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

from openpyxl import load_workbook

from salebook.book.read import BookRead, read_book
from salebook.book.write import book_bytes
from salebook.event.entries import (
    Banked,
    Claim,
    DayCount,
    Entries,
    GroupPayment,
    Line,
    PieceEntry,
    TableCount,
    Unplaced,
    UnplannedCost,
)
from salebook.event.event import reckon_event
from salebook.event.reconciliation import SUMS
from salebook.making.studio_tally import StudioCount
from tests.support.books import few_free_lines
from tests.support.small_event import DONATED, FIRST, FIRST_DAY, SECOND_DAY, line, sale

LINES = (
    line(1, piece=FIRST, day=FIRST_DAY),
    line(2, piece="MAY-002", way="card"),
    line(3, "donation", amount="7.50", gift="", group="Tide ~ mill"),
    line(4, piece="DOT", count=3, day=SECOND_DAY),
    line(5, "deposit", DONATED, "5", claim="4"),
    line(6, "balance", DONATED, claim="4", note="fetched on Sunday"),
)


HELD = PieceEntry(reserved_for="4", marked_on=FIRST_DAY, agreed_price=Decimal("27.5"))
EVERYTHING = Entries(
    lines=LINES,
    pieces={FIRST: PieceEntry(grade="second"), "MAY-003": HELD},
    made={"MAY": 5, "DOT": 29},
    studio={"MAY": StudioCount(thrown=7, dry=6)},
    cash=(
        DayCount(
            day=FIRST_DAY,
            float_=Decimal(20),
            counts={Decimal(10): 3, Decimal("0.50"): 7},
            paid_out=Decimal("4.20"),
            counted_by="Ash",
            checked_by="Birch",
        ),
    ),
    table_counts=(TableCount(day=FIRST_DAY, code="DOT", counted=26),),
    banked=(Banked(day=SECOND_DAY, what="paid in", expected=Decimal(30), arrived=Decimal(29)),),
    payments=(GroupPayment(day=SECOND_DAY, group="Tide ~ mill", amount=Decimal(12), reference="R 1"),),
    claims=(
        Claim(claim="4", name="Willow", contact="by the weir", what="spoon", how="collecting", done=True),
        Claim(claim="5", name="Rowan", what="mug", how="posting"),
    ),
    actual_costs={"overhead: hall": Decimal(4)},
    unplanned=(UnplannedCost(name="postage", amount=Decimal("3.10"), met_by="sale"),),
    actual_fees={"card": Decimal("1.10")},
    bank_reasons={"card": "bank charge"},
    unplaced=(Unplaced(sheet="Pieces", says="TWIG: 3 out of the kiln"),),
)
"""Something in every table that people fill in."""


@cache
def small_book() -> bytes:
    """Return the workbook of the small sale with six lines."""
    with few_free_lines():
        return book_bytes(sale(), reckon_event(sale(), Entries(lines=LINES)))


@cache
def light_book() -> bytes:
    """Return the small sale's workbook with the sheets alone that are read: quicker to bend."""
    return bent(_lighten, small_book())


@cache
def full_book() -> bytes:
    """Return the small sale's workbook with something in every table, as light, and without its sums."""
    with few_free_lines():
        book = book_bytes(sale(), reckon_event(sale(), EVERYTHING))
    return bent(_without_sums, bent(_lighten, book))


def _lighten(workbook: Any) -> None:
    for title in ("Firing", "Price", "Progress", "Cautions"):
        workbook.remove(workbook[title])


def _without_sums(workbook: Any) -> None:
    for name in (*SUMS, "group_shares"):
        del workbook.defined_names[name]


def bent(change: Callable[[Any], object], book: bytes | None = None) -> bytes:
    """Return the workbook after a change by openpyxl, which stores no results."""
    workbook = load_workbook(io.BytesIO(book or light_book()))
    change(workbook)
    out = io.BytesIO()
    workbook.save(out)
    return out.getvalue()


def read(book: bytes, folder: Path, name: str = "book.xlsx") -> BookRead:
    """Read a workbook's file."""
    path = folder / name
    path.write_bytes(book)
    return read_book(path)


def place(sheet: Any, section: str, key: str) -> tuple[int, int]:
    """Return the row of a table's keys and the column of a key."""
    for row in sheet.iter_rows():
        if row[0].value == f"[{section}]":
            return row[0].row, next(cell.column for cell in row if cell.value == key)
    raise LookupError(section)


def typed(workbook: Any, number: int, values: Mapping[str, Any]) -> int:
    """Type into the n-th line of Takings; return its row."""
    sheet = workbook["Takings"]
    for key, value in values.items():
        keys, column = place(sheet, "takings", key)
        sheet.cell(keys + 1 + number, column).value = value
    return keys + 1 + number


def numbered(read_: BookRead) -> dict[int, Line]:
    """Return the lines by number."""
    return {one.number: one for one in read_.entries.lines}


def with_parts(book: bytes, parts: Mapping[str, bytes]) -> bytes:
    """Return a workbook's file with some of its parts replaced or added."""
    out = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(book)) as source,
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as target,
    ):
        for name in source.namelist():
            if name not in parts:
                target.writestr(name, source.read(name))
        for name, content in parts.items():
            target.writestr(name, content)
    return out.getvalue()


SEVEN_FIFTY = Decimal("7.50")
