"""The sheet Pieces: how many of each ware there are, and every piece by its number."""

from operator import attrgetter
from typing import Final, get_args

from salebook.base.words import N_, _
from salebook.book.figure import serial
from salebook.book.page import Book
from salebook.book.sheets.pieces import formulas
from salebook.book.sheets.pieces.row import PieceRow
from salebook.book.sheets.pieces.totals import write_piece_totals
from salebook.book.table import Table
from salebook.event.entries import Grade, Mishap
from salebook.event.event import Event
from salebook.event.lines import bare
from salebook.event.offers import LOST, THERE
from salebook.event.remarks import in_words
from salebook.event.state import NO_ENTRY
from salebook.event.table_count import off_by_mark
from salebook.making.clay import Sizes
from salebook.plan.model import Donated
from salebook.plan.money import rounded
from salebook.reckoning import Reckoning

WIDTHS: Final = (1.6, 11, 20, 10, 10, 10, 22, 11, 10, 11, 10, 12, 11, 20, 10, 10)


def pieces_table() -> Table[PieceRow]:
    """Declare the register: what is filled in about each piece, and how it stands."""
    table: Table[PieceRow] = Table(
        *("pieces", N_("Pieces")),
        record=lambda row: row.piece.number,
        needed="book",
        guarded=True,
        is_last=True,
    )
    for section in ("wares", "donated", "tally"):
        table.join(section, lambda row: row.piece.code)
    _declare_shown(table)
    table.helpers()
    _declare_helpers(table)
    return table


def _declare_shown(table: Table[PieceRow]) -> None:
    def numbered(row: PieceRow) -> bool:
        return row.is_numbered

    positive = _("A number without a minus is expected here")
    mishaps = _("Choose one of the list, or leave it empty")
    table.fixed("number", _("Number"), "label", name="pieces_number", read=True)
    table.live("=name", _("What it is"), "text", formulas.name, name="pieces_name")
    table.input(
        *("grade", _("Graded, if otherwise"), "text"),
        choices=get_args(Grade),
        says=_("first or second"),
        where=lambda row: row.has_grade,
    )
    table.live(
        *("=grade", _("First or second"), "text", formulas.grade, lambda row: row.state.grade),
        name="pieces_grade",
        where=lambda row: row.has_grade,
    )
    table.live("=price", _("Price"), "money", formulas.price, name="pieces_price")
    table.fixed("=size", _("Fired size"), "worked text")
    table.live("=status", _("Stands as"), "text", formulas.status, name="pieces_status")
    table.live("=to_pay", _("To pay"), "owed", formulas.to_pay(), name="pieces_to_pay")
    table.input(
        *("reserved_for", _("Reserved for claim"), "text"), name="pieces_reserved_for", where=numbered
    )
    table.input("agreed_price", _("Agreed price"), "money", says=positive, where=numbered)
    table.input(
        *("mishap", _("What became of it"), "text"),
        choices=get_args(Mishap),
        says=mishaps,
        where=numbered,
    )
    table.input("marked_on", _("Put aside or gone since"), "day", where=numbered)
    table.fixed("=giver", _("Given by"), "label wrapped")
    table.live("=paid", _("Paid so far"), "worked owed", formulas.paid(), name="pieces_paid")
    table.live("=held_for", _("Waits for claim"), "worked text", formulas.held_for, name="pieces_held_for")


def _declare_helpers(table: Table[PieceRow]) -> None:
    lines = "COUNTIF(takings_index,[row])"
    table.fixed("=code", _("Code"), "small text", name="pieces_code")
    table.fixed(
        *("=bare_code", _("Code bare of letters like digits"), "small text"),
        lambda row: bare(row.piece.code),
        name="pieces_bare_code",
    )
    table.fixed("=index", _("Which of its code"), "small whole", name="pieces_index")
    table.live(
        *("=ungraded", _("Nobody graded it"), "whole", formulas.ungraded()),
        lambda row: int(row.is_ungraded),
        name="pieces_ungraded",
        where=lambda row: row.has_grade,
    )
    table.live(
        *("=graded_second", _("Graded a second"), "whole", formulas.graded_second()),
        lambda row: int(row.is_graded_second),
        name="pieces_graded_second",
        where=lambda row: row.has_grade,
    )
    table.live(
        *("=there", _("There"), "whole", formulas.there()),
        lambda row: (row.state.status in THERE) - (row.state.status in LOST),
        name="pieces_there",
    )
    table.live(
        "=place",
        _("Which of these"),
        "whole",
        formulas.place(),
        attrgetter("place"),
        where=lambda row: row.has_grade,
    )
    table.live("=row", _("Row"), "whole", "ROWS([number^])", lambda row: row.n, name="pieces_row")
    table.live(
        *("=lines", _("Lines"), "whole", lines), lambda row: len(row.state.account.lines), name="pieces_lines"
    )
    table.live("=settled", _("Settled"), "owed", formulas.settled(), lambda row: row.state.account.settled)
    table.live("=sold", _("Sold"), "whole", formulas.sold, name="pieces_sold")
    table.live(
        *("=to_giver", _("To the giver"), "owed", formulas.to_giver()),
        name="pieces_to_giver",
        where=lambda row: row.has_keeps,
    )
    table.live(
        *("=fills_order", _("Fills an order"), "whole", formulas.fills_order()),
        lambda row: int(row.state.fills_order),
        name="pieces_fills_order",
    )
    table.live("=ordered_at", _("Price of that order"), "money", formulas.ordered_at())
    table.live(
        *("=aside", _("Off the table since"), "day", formulas.aside),
        lambda row: serial(row.state.aside_from) or 0,
        name="pieces_aside",
    )
    table.live(
        *("=off_by_mark", _("Stood there until then"), "whole", formulas.off_by_mark()),
        lambda row: off_by_mark(row.state, row.totals),
        name="pieces_off_by_mark",
    )
    table.live(
        *("=warning", _("Odd"), "text", formulas.warning, lambda row: in_words(row.state.warning)),
        name="pieces_warning",
    )


def write_pieces(book: Book, reckoning: Reckoning, event: Event, *, one_table: bool = False) -> None:
    """Write the sheet Pieces; the book of one table says nothing of what givers keep."""
    page = book.page(N_("Pieces"), widths=WIDTHS, landscape=True)
    page.title(
        _("Pieces"),
        _(
            "Every piece has a row. The seconds counted on Making are the last pieces out of the kiln, until "
            "you grade them: do it once their labels are on. Fill in a claim number where it is reserved, "
            "and what became of it where it cannot be sold; with the day, counts of the table on earlier "
            "days stay as they were. An agreed "
            "price holds for that piece alone, whatever the plan says. The rest follows from Takings."
        ),
    )
    write_piece_totals(page, reckoning, event, one_table=one_table)
    page.band(_("Every piece"))
    placed = pieces_table().write(page, _rows(reckoning, event, one_table=one_table))
    page.repeat_headings(placed.first - 1, placed.first - 1)
    page.sheet.print_area = placed.area


def _rows(reckoning: Reckoning, event: Event, *, one_table: bool) -> list[PieceRow]:
    totals = {totals.code: totals for totals in event.state.piece_totals}
    sizes = {size.ware.code: _size_text(size) for size in reckoning.studio.sizes}
    return [
        PieceRow(
            entry=event.entries.pieces.get(state.piece.number, NO_ENTRY),
            state=state,
            piece=state.piece,
            totals=totals[state.piece.code],
            size=sizes.get(state.piece.code, ""),
            n=n,
            planned_grade=planned.planned_grade,
            grading=event.state.gradings[state.piece.code],
            has_keeps=isinstance(state.piece.source, Donated) and not one_table,
        )
        for n, (state, planned) in enumerate(zip(event.state.pieces, event.register, strict=True), start=1)
    ]


def _size_text(size: Sizes) -> str:
    """Say how large a piece is when fired, in whole millimetres; empty where the plan does not say."""
    parts = [
        _("{mm} mm high").format(mm=rounded(size.fired_height_mm, 0)) if size.fired_height_mm else "",
        _("{mm} mm wide").format(mm=rounded(size.fired_diameter_mm, 0)) if size.fired_diameter_mm else "",
    ]
    return ", ".join(part for part in parts if part)
