"""The sheet Pieces: how many of each ware there are, and every piece by its number."""

from collections.abc import Callable
from functools import partial
from operator import attrgetter
from typing import Unpack, get_args

from salebook.base.words import N_, _
from salebook.book.column import Options
from salebook.book.figure import serial
from salebook.book.formulas import money_rounded
from salebook.book.page import Book
from salebook.book.sheets.pieces import formulas
from salebook.book.sheets.pieces.row import PieceRow
from salebook.book.sheets.pieces.totals import WIDTHS, write_piece_totals
from salebook.book.table import Table
from salebook.event.entries import Grade, Mishap
from salebook.event.event import Event
from salebook.event.lines import bare_forms
from salebook.event.offers import LOST, THERE
from salebook.event.pieces import NO_ENTRY
from salebook.event.remarks import in_words
from salebook.event.table_count import off_by_mark
from salebook.making.clay import Sizes
from salebook.plan.model import Donated
from salebook.plan.money import rounded
from salebook.reckoning import Reckoning


def pieces_table() -> Table[PieceRow]:
    """Declare the register: what is filled in about each piece, and how it stands."""
    table: Table[PieceRow] = Table(
        *("pieces", N_("Pieces")),
        record=lambda row: row.piece.number,
        needed="book",
        guarded=True,
        is_last=True,
    )
    for section in ("wares", "donated", "carried", "tally"):
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
        *("grade", _("Graded (if not as planned)"), "text"),
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
    table.live("=status", _("Status"), "text", formulas.status, name="pieces_status")
    table.live("=to_pay", _("To pay"), "owed", formulas.to_pay(), name="pieces_to_pay")
    table.input(
        *("reserved_for", _("Reserved for claim"), "text"),
        where=numbered,
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
    table.fixed("=code", _("Code"), "small text", name="pieces_code")
    _declare_forms(table)
    table.fixed("=index", _("Which of its code"), "small whole", name="pieces_index")
    table.live("=row", _("Row"), "whole", "ROWS([number^])", lambda row: row.n)
    _declare_grading(table)
    table.live(
        *("=kept_for", _("Reserved for"), "text", "TRIM([reserved_for])"),
        lambda row: row.state.kept_for,
        name="pieces_kept_for",
    )
    table.live(
        *("=mark", _("Mark"), "text", "LOWER(TRIM([mishap]))"),
        lambda row: row.entry.mishap,
    )
    agreed = f"MAX(0,{money_rounded('SUM([agreed_price])')})"
    table.live("=agreed", _("Agreed, in whole coins"), "owed", agreed, "state.agreed")
    _declare_accounts(table)
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
    table.live(
        *("=handed_over", _("Handed over for it"), "whole", formulas.handed_over()),
        lambda row: int(row.state.fills_order and row.state.account.is_handed_over),
    )
    table.live(
        *("=paid_with_order", _("Paid with that order"), "owed", formulas.paid_with_order()),
        name="pieces_paid_with_order",
    )
    table.live(
        *("=ordered_count", _("Ordered at a price"), "whole", formulas.ordered_count()),
        lambda row: row.state.ordered_at.ordered,
    )
    table.live(
        *("=ordered_at", _("Price of that order"), "owed", formulas.ordered_at()),
        lambda row: row.state.ordered_at.price,
    )
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


def _declare_grading(table: Table[PieceRow]) -> None:
    """Declare which pieces are out of the kiln and there, and which of them nobody graded."""

    def own(key: str, heading: str, formula: str, value: Callable[[PieceRow], int], name: str = "") -> None:
        table.live(key, heading, "whole", formula, value, name=name, where=lambda row: row.has_grade)

    own(
        *("=ungraded", _("Nobody graded it"), formulas.ungraded()),
        lambda row: int(row.is_ungraded),
        "pieces_ungraded",
    )
    own(
        *("=graded_second", _("Graded a second"), formulas.graded_second()),
        lambda row: int(row.is_graded_second),
        "pieces_graded_second",
    )
    table.live(
        *("=there", _("There"), "whole", formulas.there()),
        lambda row: (row.state.status in THERE) - (row.state.status in LOST),
        name="pieces_there",
    )
    own("=place", _("Which of these"), formulas.place(), attrgetter("place"))


def _declare_forms(table: Table[PieceRow]) -> None:
    """Declare how a piece's number may be typed: without its dash, with fewer zeros."""
    headings = (_("Number bare of signs"), _("With two digits"), _("With three digits"))
    for n, (key, heading) in enumerate(zip(("bare", "bare_2", "bare_3"), headings, strict=True)):
        table.fixed(f"={key}", heading, "small text", partial(_form, n), name=f"pieces_{key}")


def _form(n: int, row: PieceRow) -> str:
    forms = bare_forms(row.piece.number)
    return forms[n] if n < len(forms) else ""


def _declare_accounts(table: Table[PieceRow]) -> None:
    """Declare what the lines of Takings about a piece add up to."""

    def several(key: str, heading: str, style: str, **options: Unpack[Options]) -> None:
        value = f"state.account.several.{key}"
        table.live(f"={key}", heading, style, formulas.several(key), value, **options)

    table.live(
        *("=lines", _("Lines"), "whole", "COUNTIF(takings_index,[=row])"),
        lambda row: len(row.state.account.lines),
        name="pieces_lines",
    )
    table.live(
        "=only_kind", _("Kind of its only line"), "text", formulas.only_kind(), "state.account.only_kind"
    )
    several("net", _("Moved by several lines"), "owed", name="pieces_net")
    several("typed_sales", _("Typed for sales"), "owed", name="pieces_typed_sales")
    several("refunds", _("Given back"), "owed", name="pieces_refunds")
    several("deposits", _("Deposits"), "owed", name="pieces_deposits")
    several("on_orders", _("On orders"), "owed")
    several("balances", _("Balances"), "whole")
    several("asks_left", _("Balances without amount"), "whole", name="pieces_asks_left")
    table.live("=orders", _("Orders of it"), "whole", formulas.orders(), "state.account.orders")
    table.live("=settled", _("Settled"), "owed", formulas.settled(), "state.account.settled")


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
            size=sizes.get(state.piece.source.stem, ""),
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
