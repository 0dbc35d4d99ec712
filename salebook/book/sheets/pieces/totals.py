"""How many pieces of each code there are, on the sheet Pieces."""

from collections.abc import Callable
from typing import Final, NamedTuple

from salebook.base.words import N_, _
from salebook.book.formulas import quoted
from salebook.book.page import Page
from salebook.book.sheets.pieces.row import plan_section
from salebook.book.table import Table
from salebook.event.event import Event
from salebook.event.pieces import GONE, PieceTotals
from salebook.event.register import Piece

WIDTHS: Final = (1.6, 11, 20, 10, 10, 22, 11, 10, 11, 10, 12, 11, 20, 10, 10)
"""Of the columns of the sheet that are printed."""


class TotalsRow(NamedTuple):
    """All pieces of one code: how they stand, how many were counted out of the kiln, and one of them."""

    totals: PieceTotals
    out_of_the_kiln: int | None
    piece: Piece
    n: int
    """Which row it is, from 1."""

    @property
    def is_own(self) -> bool:
        """Whether the maker makes it, and can take more or fewer out of the kiln."""
        return plan_section(self.piece) == "wares"


def tally_table() -> Table[TotalsRow]:
    """Declare the totals: of each code how many there are, and how they stand."""
    table: Table[TotalsRow] = Table("tally", N_("Pieces"), record=lambda row: row.totals.code, needed="book")
    of_code = "(pieces_code=[code])*1"
    ordered = 'SUMPRODUCT((takings_kind="order")*(takings_piece=[code]),takings_count)'
    to_make = f"MAX(0,[ordered]-SUMPRODUCT({of_code},pieces_fills_order))"
    out = "IF(ISNUMBER([out_of_the_kiln]),[out_of_the_kiln],[planned])"
    gone = "+".join(map(_standing_as, GONE))
    table.fixed("code", _("Code"), "label", name="tally_code", read=True)
    table.live("=name", _("What it is"), "text", _from_plan("name"), name="tally_name")
    table.live("=planned", _("As planned"), "whole", _planned)
    table.live("=price", _("List price"), "money", _from_plan("price"), name="tally_price")
    table.input(
        *("out_of_the_kiln", _("Out of the kiln, if not as planned"), "whole"),
        where=lambda row: row.is_own,
    )
    table.live("=sold", _("Sold"), "whole", f"SUMPRODUCT({of_code},pieces_sold)", name="tally_sold")
    table.live("=here", _("Here"), "total whole", _here, name="tally_here")
    table.live("=reserved", _("Reserved"), "whole", _standing_as("reserved"), name="tally_reserved")
    table.live("=deposit", _("Deposit paid"), "whole", _standing_as("deposit"), name="tally_deposit")
    table.live("=gone", _("Broken, missing, given away, left over"), "whole", gone)
    table.live("=ordered", _("Ordered"), "whole", ordered)
    table.live("=to_make", _("Still to make"), "whole", to_make, name="tally_to_make")
    table.live("=out", _("Out"), "small whole", out)
    table.helpers()
    table.skip_to(len(WIDTHS) + 1)
    table.live("=place", _("Place"), "whole", "ROWS([code^])", lambda row: row.n, name="tally_places")
    return table


def _from_plan(key: str) -> Callable[[TotalsRow], str]:
    return lambda row: f"[{plan_section(row.piece)}.{key}]"


def _planned(row: TotalsRow) -> str:
    return "[starts.for_sale]" if row.is_own else ""


def _here(row: TotalsRow) -> str:
    return _standing_as("here") if row.piece.index else "MAX(0,[out]-[sold])"


def _standing_as(status: str) -> str:
    return f"SUMPRODUCT((pieces_code=[code])*(pieces_status={quoted(status)}))"


def write_piece_totals(page: Page, event: Event) -> None:
    """Write a row for each code."""
    page.band(_("How many there are"))
    one_of = {piece.code: piece for piece in reversed(event.register)}
    rows = [
        TotalsRow(totals, event.entries.made.get(totals.code), one_of[totals.code], n)
        for n, totals in enumerate(event.state.piece_totals, start=1)
    ]
    tally_table().write(page, rows)
    page.row += 1
