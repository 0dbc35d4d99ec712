"""From a filled-in workbook to its plan, what was filled in, and what needs a person."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any, Final

from salebook.base.errors import Fault, FaultyPlanError, UnfitError, WrongUseError
from salebook.base.words import _
from salebook.book.declared import declared
from salebook.book.file.opening import open_workbook
from salebook.book.marks import BOOK_PROPERTY, SALE_PROPERTY, TILL_PROPERTY, title_of
from salebook.book.plan_cells import SECTIONS
from salebook.book.reading.asked import Asked
from salebook.book.reading.astray import questions_not_read
from salebook.book.reading.claims import read_claims
from salebook.book.reading.firings_done import read_firings_done
from salebook.book.reading.from_here import read_from_here
from salebook.book.reading.integrity import overwritten, questions_on_tables
from salebook.book.reading.money import (
    read_actual_costs,
    read_actual_fees,
    read_bank_reasons,
    read_banked,
    read_cash,
    read_payments,
    read_table,
    read_unplanned,
)
from salebook.book.reading.piece_numbers import piece_numbers_of
from salebook.book.reading.plan_from_sheet import plan_from_sheet
from salebook.book.reading.raw import Raw, read_raw
from salebook.book.reading.register import read_made, read_pieces, read_studio, read_studio_day
from salebook.book.reading.tables import Tables, tables_of
from salebook.book.reading.takings import LinesRead, read_lines
from salebook.book.reading.typed import CellParser, exact, text, tidy
from salebook.event.entries import Entries, LineIdentity, PieceEntry, Unplaced
from salebook.event.question import Question
from salebook.event.reconciliation import SUMS, SheetSums
from salebook.event.register import register_of
from salebook.event.told import TillBook
from salebook.making.losses import run_of
from salebook.plan.model import Plan
from salebook.plan.money import is_currency, is_locale
from salebook.pricing.number_wanted import with_number_wanted

FIRST_TILL: Final = "1"
NOT_READ: Final = ("Price", "Cautions")
"""Sheets of which nothing is read."""


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
class TillRead(TillBook):
    """One workbook as it was read, whichever kind of book it is."""

    plan: Plan | None
    """None in the book of one table."""
    sale_id: str
    questions: tuple[Question, ...]
    """What needs a person."""
    notes: tuple[Question, ...]
    """What was understood although the sheet itself cannot count it, or was typed over a formula."""
    uncounted: frozenset[LineIdentity]
    """Lines, by their identities, that the sheets' own sums leave out or count otherwise."""
    stored: SheetSums
    unread: tuple[Unplaced, ...]
    """What was typed beside the lines and made no sense."""
    free_till: str
    """The till of the lines that are still empty."""
    sheets: Mapping[str, str]
    """What each of salebook's sheets is called in the workbook, by its English name."""
    has_planned_grades: bool
    """Whether the planned grades stand among what was filled in, as in books of before."""


@dataclass(frozen=True, kw_only=True)
class BookRead(TillRead):
    """A sale's workbook as it was read."""

    plan: Plan


def read_book(path: Path) -> BookRead:
    """Read a sale's workbook, filled in or not.

    Raises FileError where it cannot be read, WrongUseError where it is not a sale's workbook, and
    FaultyPlanError where its sheet Plan has faults or a table has lost its keys.
    """
    read = read_any_book(path)
    if read.plan is None:
        says = _("{file}: this is the book of one table; join it with the sale's own book first")
        raise WrongUseError(says.format(file=path))
    return BookRead(**vars(read))


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
    till = _plain(raw, TILL_PROPERTY, "this_till") if tables.has("till") else ""
    book_id = _plain(raw, BOOK_PROPERTY, "this_book")
    lines = read_lines(tables.parts["takings"], parser, goods, asked, till=till or FIRST_TILL, book=book_id)
    entries = _entries(
        tables, parser, asked, lines, last_day=plan.sale.days[-1] if plan else parser.first_day
    )
    if plan is not None:
        entries = replace(entries, firings_done=read_firings_done(tables, parser, asked, plan))
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
        stored=_stored(raw, plan, titles) if plan else SheetSums(),
        unread=tuple(asked.unread),
        book_id=book_id,
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
    required = {"line", *declared()["takings"].keys_typed}
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
    except UnfitError:
        return plain


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
        studio=read_studio(tables, parser, asked),
        studio_day=read_studio_day(tables, parser, asked),
        cash=read_cash(tables, parser, asked),
        table_counts=read_table(tables, parser, asked),
        banked=read_banked(tables, parser, asked, last_day=last_day),
        payments=read_payments(tables, parser, asked, last_day=last_day),
        claims=read_claims(tables, asked),
        actual_costs=read_actual_costs(tables, parser, asked),
        unplanned=read_unplanned(tables, parser, asked),
        actual_fees=read_actual_fees(tables, parser, asked),
        bank_reasons=read_bank_reasons(tables, parser, asked),
        from_here=read_from_here(tables, parser, asked),
        unplaced=_unplaced(tables),
    )


def _unplaced(tables: Tables) -> tuple[Unplaced, ...]:
    """Read what an earlier renewing kept."""
    rows = ((text(row.get("sheet")), text(row.get("says"))) for row in tables.rows("kept"))
    return tuple(Unplaced(sheet=sheet, says=says) for sheet, says in rows if says)


def _stored(raw: Raw, plan: Plan, titles: Mapping[str, str]) -> SheetSums:
    """Return what the sheets show; nothing where one shows an error, as a sum may leave out such a cell."""
    if any(raw.sheets[title].is_in_error for title in titles.values() if title in raw.sheets):
        return SheetSums()
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
    except UnfitError:
        return None
