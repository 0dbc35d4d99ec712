"""From a filled-in workbook to its plan, what was filled in, and what needs a person."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any, Final

from salebook.base.errors import Fault, FaultyPlanError, WrongUseError
from salebook.base.words import _
from salebook.book.declared import declared
from salebook.book.file.opening import open_workbook
from salebook.book.marks import BOOK_MARK, SALE_PROPERTY, TILL_PROPERTY, title_of
from salebook.book.plan_cells import SECTIONS
from salebook.book.reading.asked import Asked
from salebook.book.reading.astray import questions_not_read
from salebook.book.reading.claims import read_claims
from salebook.book.reading.integrity import overwritten, questions_on_tables
from salebook.book.reading.money import (
    read_actual_costs,
    read_actual_fees,
    read_banked,
    read_cash,
    read_payments,
    read_table,
)
from salebook.book.reading.piece_numbers import piece_numbers_of
from salebook.book.reading.plan_from_sheet import plan_from_sheet
from salebook.book.reading.raw import Raw, read_raw
from salebook.book.reading.register import read_made, read_pieces, read_studio, read_studio_day
from salebook.book.reading.tables import Tables, tables_of
from salebook.book.reading.takings import LinesRead, keys_required, read_lines
from salebook.book.reading.typed import CellParser, UnreadError, exact, tidy
from salebook.book.reading.unplaced import read_unplaced
from salebook.event.entries import Entries, LineIdentity, LineRows, PieceEntry, Unplaced
from salebook.event.question import Question
from salebook.event.register import register_of
from salebook.event.sheet_sums import SheetSums
from salebook.making.losses import run_of
from salebook.plan.model import Plan
from salebook.plan.money import is_currency, is_locale
from salebook.pricing.number_wanted import with_number_wanted

FIRST_TILL: Final = "1"
NOT_READ: Final = ("Firing", "Price", "Progress", "Cautions")
"""Sheets of which nothing is read."""
SUMS: Final = (
    *("takings_total", "named_total", "fees_total", "costs_taken_off", "to_givers_total", "direct_total"),
    *("pool", "raised"),
)
"""Names of the sums that the sheets show, as far as they are compared."""


def _homes() -> dict[str, str]:
    """Return the English name of the sheet on which each table stands that is read."""
    return {
        **dict.fromkeys(SECTIONS, "Plan"),
        "days": "Making",
        **{section: table.sheet for section, table in declared().items()},
    }


def _titles(raw: Raw) -> dict[str, str]:
    """Return what each of salebook's sheets is called in this workbook, by its English name."""
    return {sheet: title_of(sheet, raw.names, raw.sheets) for sheet in (*_homes().values(), *NOT_READ)}


@dataclass(frozen=True, kw_only=True)
class BookRead:
    """A workbook as it was read.

    `questions` need a person; `notes` say what was understood although the sheet itself cannot count it, or
    what was typed over a formula.
    """

    plan: Plan
    entries: Entries
    sale_id: str
    questions: tuple[Question, ...]
    notes: tuple[Question, ...]
    stored: SheetSums
    rows: LineRows
    """The row of each line of takings, by its identity."""
    uncounted: frozenset[LineIdentity]
    """Lines, by their identities, that the sheets' own sums leave out or count otherwise."""
    mark: str = ""
    """The book's own mark; empty where it has none."""
    free_till: str = FIRST_TILL
    """The till of the lines that are still empty."""
    unread: tuple[Unplaced, ...] = ()
    """What was typed beside the lines and made no sense."""
    sheets: Mapping[str, str] = field(default_factory=dict)
    """What each of salebook's sheets is called in the workbook, by its English name."""


@dataclass(frozen=True, kw_only=True)
class TillRead:
    """One workbook's entries, whichever kind of book it is; `plan` is None in a till's."""

    file: str
    plan: Plan | None
    till: str
    """The till's own number; empty in a sale's book."""
    entries: Entries
    sale_id: str
    questions: tuple[Question, ...]
    notes: tuple[Question, ...]
    rows: LineRows
    uncounted: frozenset[LineIdentity]
    stored: SheetSums
    unread: tuple[Unplaced, ...]
    mark: str
    free_till: str
    sheets: Mapping[str, str]
    first_day: date
    """The day of lines before which none is typed."""
    has_planned_grades: bool
    """Whether the planned grades stand among what was filled in, as in books of before."""


def read_book(path: Path) -> BookRead:
    """Read a sale's workbook, filled in or not.

    Raises FileError where it cannot be read, WrongUseError where it is not a sale's workbook, and
    FaultyPlanError where its sheet Plan has faults or a table has lost its keys.
    """
    read = read_any_book(path)
    if read.plan is None:
        says = _("{file}: this is the book of one table; join it with the sale's own book first")
        raise WrongUseError(says.format(file=path))
    return BookRead(
        plan=read.plan,
        entries=read.entries,
        sale_id=read.sale_id,
        questions=read.questions,
        notes=read.notes,
        stored=read.stored,
        rows=read.rows,
        uncounted=read.uncounted,
        mark=read.mark,
        free_till=read.free_till,
        unread=read.unread,
        sheets=read.sheets,
    )


def read_any_book(path: Path) -> TillRead:
    """Read a sale's workbook or one table's.

    Raises as read_book does, but for a till's book.
    """
    raw = read_raw(open_workbook(path))
    titles = _titles(raw)
    homes = {section: titles[sheet] for section, sheet in _homes().items()}
    tables = tables_of(raw, homes, frozenset(titles.values()))
    is_till = tables.has("till") and not tables.has("sale")
    _refuse_foreign(path, raw, tables, homes, is_till=is_till)
    parser = _parser(tables, "till" if is_till else "sale")
    plan = None if is_till else _plan(tables, parser, str(path))
    asked = Asked()
    goods = piece_numbers_of(row.get("number") for row in tables.rows("pieces"))
    till, mark = _till(raw, tables), _plain(raw, BOOK_MARK, "this_book")
    lines = read_lines(tables.parts["takings"], parser, goods, asked, till=till or FIRST_TILL, book=mark)
    entries = _entries(
        tables, parser, asked, lines, last_day=plan.sale.days[-1] if plan else parser.first_day
    )
    has_planned_grades = tables.has("pieces") and "=grade" not in tables.parts["pieces"][0].keys
    if plan is not None and has_planned_grades:
        entries = replace(entries, pieces=without_planned(entries.pieces, plan))
    return TillRead(
        file=str(path),
        plan=plan,
        till=till,
        entries=entries,
        sale_id=_plain(raw, SALE_PROPERTY, "sale_id"),
        questions=(
            *questions_on_tables(raw, tables, homes),
            *questions_not_read(raw, tables),
            *asked.questions,
        ),
        notes=(*asked.notes, *overwritten(tables)),
        rows=lines.rows,
        uncounted=lines.uncounted,
        stored=_stored(raw, plan) if plan else SheetSums(),
        unread=tuple(asked.unread),
        mark=mark,
        free_till=lines.free_till,
        sheets={**titles, **{sheet: tables.sheet(of) or titles[sheet] for of, sheet in _homes().items()}},
        first_day=plan.sale.days[0] if plan else parser.first_day,
        has_planned_grades=has_planned_grades,
    )


def _plan(tables: Tables, parser: CellParser, file: str) -> Plan:
    plan = plan_from_sheet(tables, parser, file=file)
    try:
        return with_number_wanted(plan)
    except FaultyPlanError as faulty:
        raise faulty.in_file(file) from None


def without_planned(pieces: Mapping[str, PieceEntry], plan: Plan) -> dict[str, PieceEntry]:
    """Return what was filled in about pieces, grades that are as planned left out."""
    runs = [run_of(ware, plan) for ware in plan.wares]
    planned = {piece.number: piece.planned_grade for piece in register_of(plan, runs)}
    left = {
        number: replace(entry, grade=None) if entry.grade == planned.get(number, "first") else entry
        for number, entry in pieces.items()
    }
    return {number: entry for number, entry in left.items() if entry != PieceEntry()}


def _refuse_foreign(path: Path, raw: Raw, tables: Tables, homes: Mapping[str, str], *, is_till: bool) -> None:
    if not tables.parts and SALE_PROPERTY not in raw.properties:
        says = _("{file}: this workbook was not made by salebook: nothing in it carries its marks")
        raise WrongUseError(says.format(file=path))
    missing = [section for section in ("takings", *(() if is_till else ("sale",))) if not tables.has(section)]
    faults = [_lost(path, section, homes[section]) for section in missing]
    faults += [] if missing else _lost_keys(path, tables)
    if faults:
        raise FaultyPlanError(faults)


def _lost(path: Path, section: str, sheet: str) -> Fault:
    return Fault(
        file=str(path),
        place=sheet,
        found=_("no row with the small grey word [{section}]").format(section=section),
        expected=_("the sheet as salebook wrote it"),
        hint=_("undo what was done to the sheet, or take the copy from before"),
    )


def _lost_keys(path: Path, tables: Tables) -> list[Fault]:
    required = keys_required()
    return [
        Fault(
            file=str(path),
            place=_("{sheet}, row {row}").format(sheet=part.sheet, row=part.key_row),
            found=_("no small grey word {keys}").format(keys=", ".join(sorted(required - part.keys))),
            expected=_("it above its column, as salebook wrote it"),
        )
        for part in tables.parts["takings"]
        if required - part.keys
    ]


def _parser(tables: Tables, section: str) -> CellParser:
    said = {row.mark.partition(".")[2]: row.get("value") for row in reversed(tables.rows(section))}
    locale, currency = tidy(said.get("locale")), tidy(said.get("currency")).upper()
    plain = CellParser(
        locale=locale.replace("-", "_") if locale and is_locale(locale) else "en_GB",
        currency=currency if is_currency(currency) else "GBP",
        first_day=date(2000, 1, 1),
    )
    try:
        return replace(plain, first_day=plain.day(said.get("days")))
    except UnreadError:
        return plain


def _till(raw: Raw, tables: Tables) -> str:
    return _plain(raw, TILL_PROPERTY, "this_till") if tables.has("till") else ""


def _plain(raw: Raw, mark: str, name: str) -> str:
    """Return an id from the file's properties, else from its plain cell."""
    return tidy(raw.properties.get(mark)) or next((tidy(value) for value in raw.plain(name)), "")


def _entries(
    tables: Tables, parser: CellParser, asked: Asked, lines: LinesRead, *, last_day: date
) -> Entries:
    return Entries(
        lines=lines.lines,
        pieces=read_pieces(tables, parser, asked),
        made=read_made(tables, parser, asked),
        studio=read_studio(tables, asked),
        studio_day=read_studio_day(tables, parser, asked),
        cash=read_cash(tables, parser, asked),
        table_counts=read_table(tables, parser, asked),
        banked=read_banked(tables, parser, asked, last_day=last_day),
        payments=read_payments(tables, parser, asked, last_day=last_day),
        claims=read_claims(tables, asked),
        actual_costs=read_actual_costs(tables, parser, asked),
        actual_fees=read_actual_fees(tables, parser, asked),
        unplaced=read_unplaced(tables),
    )


def _stored(raw: Raw, plan: Plan) -> SheetSums:
    sums = {name: amount for name in SUMS for amount in map(_amount, raw.named(name)) if amount is not None}
    names = [group.name for group in plan.beneficiaries]
    shares = [_amount(share) for share in raw.named("group_shares")]
    by_name = zip(names, shares, strict=True) if len(names) == len(shares) else ()
    return SheetSums(sums=sums, shares={name: share for name, share in by_name if share is not None})


def _amount(value: Any) -> Decimal | None:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    try:
        return exact(value)
    except UnreadError:
        return None
