"""The count of the table on Cash-up: what the book leaves there each evening, beside what is counted."""

from datetime import date

from salebook.book.figure import Figure, serial
from salebook.book.page import Page
from salebook.event.event import Event
from salebook.event.standing import Tally
from salebook.event.table_count import last_count, left_on
from salebook.reckoning import Reckoning
from salebook.words import _

"""Day 0 of a spreadsheet."""


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
    page.headings(
        ("day", "code", "=name", "=left", "counted", "=difference"),
        (_("Evening"), _("Code"), _("Ware"), _("Left by the book"), _("Counted"), _("Difference")),
        section="table",
    )
    first = page.row
    typed = {(count.day, count.code): count.counted for count in event.entries.table}
    evenings = sorted({*reckoning.plan.sale.days, *(count.day for count in event.entries.table)})
    for evening in evenings:
        for tally in event.standing.tallies:
            _write_row(page, event, tally, evening, typed.get((evening, tally.code)))
    last = page.row - 1
    page.number_only(f"F{first}:F{last}", says=_("How many pieces: a whole number, not below 0"))
    page.mark(f"G{first}:G{last}", f"AND(ISNUMBER(G{first}),G{first}<>0)")
    _write_last(page, event, first, last)
    page.row += 1


def _write_row(page: Page, event: Event, tally: Tally, evening: date, counted: int | None) -> None:
    row = page.row
    left = left_on(event.standing, tally, evening)
    page.put_row(
        (
            ("table", "key"),
            (evening, "label date"),
            (tally.code, "label"),
            (Figure(f'=IFERROR(INDEX(tally_name,MATCH(C{row},tally_code,0)),"")', tally.name), "result text"),
            (Figure(_left_formula(row), left), "result whole"),
            (counted, "input whole"),
            (
                Figure(f'=IF(ISNUMBER(F{row}),F{row}-E{row},"")', "" if counted is None else counted - left),
                "total whole",
            ),
        )
    )


def _left_formula(row: int) -> str:
    of_code = f'((LEFT(takings_piece,LEN(C{row})+1)=C{row}&"-")+(takings_piece=C{row}))'
    later = f"SUMPRODUCT((takings_day>B{row})*{of_code},takings_off_table)"
    over = f'SUMPRODUCT((pieces_code=C{row})*(pieces_status="left over"))'
    marked = f"SUMPRODUCT((pieces_code=C{row})*(pieces_aside>B{row}),pieces_off_by_mark)"
    return f"=INDEX(tally_here,MATCH(C{row},tally_code,0))+{over}+{later}+{marked}"


def _write_last(page: Page, event: Event, first: int, last: int) -> None:
    """Write the last evening that was counted and how many of its counts differ."""
    found = last_count(event.standing, event.entries.table)
    evening = serial(found.evening)
    days, counted, differences = (f"{column}{first}:{column}{last}" for column in "BFG")
    latest = f'=IF(COUNT({counted})=0,"",SUMPRODUCT(MAX(ISNUMBER({counted})*{days})))'
    row = _write_check(page, _("Last evening counted"), Figure(latest, evening), "result date")
    differing = f"SUMPRODUCT(({days}=G{row})*ISNUMBER({differences})*({differences}<>0))"
    row = _write_check(
        page, _("Counts that differ then"), Figure(f"={differing}", found.differing), "result whole"
    )
    page.name("table_differences", row, 7)


def _write_check(page: Page, label: str, figure: Figure, style: str) -> int:
    return page.put_row(
        ((label, "label"), (None, ""), (None, ""), (None, ""), (None, ""), (figure, style)), first_column=2
    )
