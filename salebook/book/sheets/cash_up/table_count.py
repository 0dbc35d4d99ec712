"""The count of the table on Cash-up: what the book leaves there each evening, beside what is counted."""

from dataclasses import dataclass
from datetime import date
from typing import Final

from salebook.base.words import N_, _
from salebook.book.figure import Figure, serial
from salebook.book.page import Page
from salebook.book.table import Table, put_line
from salebook.event.event import Event
from salebook.event.pieces import PieceTotals
from salebook.event.table_count import last_count, left_on
from salebook.reckoning import Reckoning

WORKINGS: Final = 13
"""First column right of the printed page."""


@dataclass(frozen=True, kw_only=True)
class Evening:
    """One ware on one evening: what the book leaves on the table, and what was counted there."""

    day: date
    totals: PieceTotals
    left: int
    counted: int | None


def evenings_table() -> Table[Evening]:
    """Declare the count of the table: left by the book, counted, difference."""
    table: Table[Evening] = Table("table", N_("Cash-up"), needed="sale")
    table.join("tally", lambda row: row.totals.code)
    later = "SUMPRODUCT((takings_day>[day])*(takings_code=[code]),takings_off_table)"
    over = 'SUMPRODUCT((pieces_code=[code])*(pieces_status="left over"))'
    marked = "SUMPRODUCT((pieces_code=[code])*(pieces_aside>[day]),pieces_off_by_mark)"
    left = f"[tally.here]+{over}+{later}+{marked}"
    says = _("How many pieces: a whole number, not below 0")
    differs = "AND(ISNUMBER([difference]),[difference]<>0)"
    table.fixed("day", _("Evening"), "label date", read=True)
    table.fixed("code", _("Code"), "label", lambda row: row.totals.code, read=True)
    table.live("=name", _("Ware"), "text", "[tally.name]", lambda row: row.totals.name)
    table.live("=left", _("Left by the book"), "whole", left)
    table.input("counted", _("Counted"), "whole", says=says)
    table.live(
        *("=difference", _("Difference"), "total whole", 'IF(ISNUMBER([counted]),[counted]-[left],"")'),
        lambda row: None if row.counted is None else row.counted - row.left,
        alarm=differs,
    )
    table.skip_to(WORKINGS)
    table.live("=counted_on", _("Counted on"), "worked date", 'IF(ISNUMBER([counted]),[day],"")', _counted_on)
    table.live("=differs_on", _("Differs on"), "worked date", f'IF({differs},[day],"")', _differs_on)
    return table


def _counted_on(row: Evening) -> int | str:
    return serial(None if row.counted is None else row.day)


def _differs_on(row: Evening) -> int | str:
    return serial(None if row.counted in {None, row.left} else row.day)


def write_table_count(page: Page, reckoning: Reckoning, event: Event) -> None:
    """Write a row for each evening and code: left by the book, counted, difference."""
    page.band(_("The count of the table"))
    page.paragraph(
        _(
            "Each evening count what can still be sold, ware by ware; what is reserved or "
            "part paid stands aside. A difference is easiest to explain the same evening: a "
            "line that was missed, a piece that broke."
        ),
        "note",
    )
    typed = {(count.day, count.code): count.counted for count in event.entries.table_counts}
    evenings = sorted({*reckoning.plan.sale.days, *(count.day for count in event.entries.table_counts)})
    rows = [
        Evening(
            day=evening,
            totals=totals,
            left=left_on(event.state, totals, evening),
            counted=typed.get((evening, totals.code)),
        )
        for evening in evenings
        for totals in event.state.piece_totals
    ]
    placed = evenings_table().write(page, rows)
    _write_last(page, event, placed.column("difference"))
    page.row += 1


def _write_last(page: Page, event: Event, column: int) -> None:
    """Write the last evening that was counted and how many of its counts differ."""
    found = last_count(event.state, event.entries.table_counts)
    counted_on, differs_on = "[table.counted_on:]", "[table.differs_on:]"
    evening = Figure(f'=IF(COUNT({counted_on})=0,"",MAX({counted_on}))', serial(found.evening))
    last = page.address(page.row, column).partition("!")[2]
    put_line(page, _("Last evening counted"), evening, "result date", column=column)
    differing = f"=IF(COUNT({differs_on})=0,0,COUNTIF({differs_on},{last}))"
    put_line(
        *(page, _("Counts that differ then"), Figure(differing, found.differing), "result whole"),
        name="table_differences",
        column=column,
    )
