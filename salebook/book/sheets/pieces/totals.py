"""How many pieces of each code there are, on the sheet Pieces."""

from collections.abc import Callable, Iterator
from operator import attrgetter
from typing import Final, NamedTuple

from salebook.base.words import N_, _
from salebook.book.formulas import quoted
from salebook.book.page import Page
from salebook.book.sheets.pieces.row import plan_section
from salebook.book.table import Table
from salebook.event.event import Event
from salebook.event.kiln_count import Grading
from salebook.event.kiln_difference import OutOfKiln, out_of_kiln
from salebook.event.offers import found_of, offers_of
from salebook.event.pieces import GONE, PieceTotals
from salebook.event.register import Piece
from salebook.making.losses import Offer, Run
from salebook.plan.model import Carried
from salebook.reckoning import Reckoning

WIDTHS: Final = (1.6, 11, 20, 10, 10, 10, 22, 11, 10, 11, 10, 12, 11, 20, 10, 10)
"""Of the columns of the sheet that are printed."""

OUT_OF_THESE: Final = "(pieces_code=[code])*(pieces_index<=[out])"
UNPRICED: Final = "COUNT([wares.seconds_price])=0"
"""Whether seconds have no price, and so are not for sale."""


class TotalsRow(NamedTuple):
    """All pieces of one code: how they stand, how many were counted out of the kiln, and one of them."""

    totals: PieceTotals
    out_of_the_kiln: int | None
    piece: Piece
    n: int
    """Which row it is, from 1."""
    kiln: OutOfKiln
    grading: Grading
    seconds_counted: int
    """Out of the kiln by the studio's count, and for sale."""
    found: Offer
    """How many are there, if it was counted, else how many are lost, at each price."""
    offer: Offer
    """How many there are to sell at each price."""
    one_table: bool
    """Whether the book is that of one table, which has no sheet Making."""

    @property
    def is_own(self) -> bool:
        """Whether the maker makes it, and can take more or fewer out of the kiln."""
        return plan_section(self.piece) == "wares"

    @property
    def follows(self) -> bool:
        """Whether the book has what the studio counted of it."""
        return self.is_own and not self.one_table

    @property
    def sought(self) -> int:
        """What is looked for among the pieces: 1, those that are there, once counted, else -1, those lost."""
        return 1 if self.totals.is_counted else -1

    @property
    def differs(self) -> int:
        """1 where Pieces and the studio count otherwise, else 0."""
        return int(self.kiln.differs)

    @property
    def ungraded(self) -> int:
        """Pieces that nobody graded."""
        return len(self.grading.ungraded) if self.is_own else 0


Formula = str | Callable[[TotalsRow], str]


def tally_table() -> Table[TotalsRow]:
    """Declare the totals: of each code how many there are, and how they stand."""
    table: Table[TotalsRow] = Table("tally", N_("Pieces"), record=lambda row: row.totals.code, needed="book")
    of_code = "(pieces_code=[code])*1"
    ordered = 'SUMPRODUCT((takings_kind="order")*(takings_piece=[code]),takings_count)'
    to_make = f"MAX(0,[ordered]-SUMPRODUCT({of_code},pieces_fills_order))"
    out = "IF(ISNUMBER([out_of_the_kiln]),[out_of_the_kiln],IF(COUNT([counted])=0,[planned],[counted]))"
    gone = "+".join(map(_standing_as, GONE))
    table.fixed("code", _("Code"), "label", name="tally_code", read=True)
    table.live("=name", _("What it is"), "text", _from_plan("name"), name="tally_name")
    table.live("=planned", _("As planned"), "whole", _planned)
    table.live("=counted", _("Counted on Making"), "whole", _counted, "totals.counted")
    table.live("=price", _("List price"), "money", _from_plan("price"), name="tally_price")
    table.input(
        *("out_of_the_kiln", _("Out of the kiln, if not as counted"), "whole"),
        where=lambda row: row.is_own,
    )
    table.live("=sold", _("Sold"), "whole", f"SUMPRODUCT({of_code},pieces_sold)", name="tally_sold")
    table.live("=here", _("Here"), "total whole", _here, name="tally_here")
    table.live("=reserved", _("Reserved"), "whole", _standing_as("reserved"), name="tally_reserved")
    table.live("=deposit", _("Deposit paid"), "whole", _standing_as("deposit"), name="tally_deposit")
    table.live("=gone", _("Broken, missing, given away, left over"), "whole", gone)
    table.live("=ordered", _("Ordered"), "whole", ordered)
    table.live("=to_make", _("Still to make"), "whole", to_make, name="tally_to_make")
    table.live("=seconds", _("Seconds to sell"), "whole", _where(_seconds, "follows"), "offer.seconds")
    # The last that is printed: beside an empty cell LibreOffice prints folded numbers as ###.
    table.live("=out", _("Out"), "small whole", out)
    table.helpers()
    table.skip_to(len(WIDTHS) + 1)
    table.live("=place", _("Place"), "whole", "ROWS([code^])", lambda row: row.n, name="tally_places")
    _declare_helpers(table)
    return table


def _declare_helpers(table: Table[TotalsRow]) -> None:
    """Declare what grades and the check of the counts go by, and how many there are to sell at each price."""

    def own(key: str, heading: str, value: str, formula: Formula) -> None:
        table.live(key, heading, "whole", _where(formula, "follows"), value)

    graded_second = "SUMPRODUCT((pieces_code=[code])*pieces_graded_second)"
    ungraded = "SUMPRODUCT((pieces_code=[code])*pieces_ungraded)"
    left = f"IF(COUNT([counted])=0,0,MAX(0,[seconds_counted]-{graded_second}))"
    seconds_out = f'SUMPRODUCT({OUT_OF_THESE}*(pieces_grade="second"))'
    sought = "IF(COUNT([out_of_the_kiln],[counted])=0,-1,1)"
    found = "SUMPRODUCT((pieces_code=[code])*(pieces_there=[sought]))"
    of_seconds = 'SUMPRODUCT((pieces_code=[code])*(pieces_there=[sought])*(pieces_grade="second"))'
    own(
        "=seconds_counted", _("Seconds counted"), "seconds_counted", f"IF({UNPRICED},0,SUM([studio.seconds]))"
    )
    table.live("=ungraded", _("Nobody graded"), "whole", _where(ungraded, "is_own"), attrgetter("ungraded"))
    table.live(
        "=seconds_left", _("Seconds among these"), "whole", _where(left, "is_own"), "grading.seconds_left"
    )
    own("=came_out", _("Came out"), "kiln.pieces", _came_out)
    own("=seconds_out", _("of these seconds"), "kiln.seconds", seconds_out)
    table.live(
        "=differs",
        _("Counted otherwise"),
        "whole",
        _where(_differs, "follows"),
        attrgetter("differs"),
        name="kiln_differs",
    )
    own("=sought", _("Counted"), "sought", sought)
    own("=found", _("There, else lost"), "found.pieces", found)
    own(
        "=seconds_found", _("of these at a second's price"), "found.seconds", f"IF({UNPRICED},0,{of_seconds})"
    )
    own("=firsts", _("Firsts to sell"), "offer.firsts", _firsts)


def _where(formula: Formula, holds: str) -> Callable[[TotalsRow], str]:
    """Return the formula of the rows for which something holds; others keep a plain value."""

    def of_row(row: TotalsRow) -> str:
        if not getattr(row, holds):
            return ""
        return formula if isinstance(formula, str) else formula(row)

    return of_row


def _came_out(row: TotalsRow) -> str:
    return f"SUMPRODUCT({OUT_OF_THESE})" if row.piece.index else "[out]"


def _differs(row: TotalsRow) -> str:
    seconds = f"OR({UNPRICED},[seconds_out]=[seconds_counted])" if row.piece.index else "TRUE"
    return f"IF(COUNT([counted])=0,0,IF(AND([came_out]=[counted],{seconds}),0,1))"


def _seconds(row: TotalsRow) -> str:
    if row.piece.index:
        planned = "MAX(0,[starts.seconds]-[seconds_found])"
        return f"IF({UNPRICED},0,IF([sought]=1,[seconds_found],{planned}))"
    most = "IF(COUNT([counted])=0,[planned]-[starts.wanted],[seconds_counted])"
    firsts = "IF(COUNT([counted])=0,[starts.wanted],[counted]-[seconds_counted])"
    return f"MIN({most},MAX(0,[out]-{firsts}))"


def _firsts(row: TotalsRow) -> str:
    if not row.piece.index:
        return "[out]-[seconds]"
    found = "[found]-[seconds_found]"
    return f"IF([sought]=1,{found},MAX(0,[starts.wanted]-({found})))"


def _from_plan(key: str) -> Callable[[TotalsRow], str]:
    return lambda row: f"[{plan_section(row.piece)}.{key}]"


def _planned(row: TotalsRow) -> str:
    if isinstance(row.piece.source, Carried):
        return "SUMPRODUCT((pieces_code=[code])*1)"
    return "[starts.for_sale]" if row.follows else ""


def _counted(row: TotalsRow) -> str:
    counted = "SUM([studio.good])+[seconds_counted]"
    return f'IF(COUNT([studio.good],[studio.seconds])=0,"",{counted})' if row.follows else ""


def _here(row: TotalsRow) -> str:
    return _standing_as("here") if row.piece.index else "MAX(0,[out]-[sold])"


def _standing_as(status: str) -> str:
    return f"SUMPRODUCT((pieces_code=[code])*(pieces_status={quoted(status)}))"


def write_piece_totals(page: Page, reckoning: Reckoning, event: Event, *, one_table: bool) -> None:
    """Write a row for each code; the book of one table has what was counted as plain values."""
    page.band(_("How many there are"))
    tally_table().write(page, list(_rows(reckoning, event, one_table=one_table)))
    page.row += 1


def _rows(reckoning: Reckoning, event: Event, *, one_table: bool) -> Iterator[TotalsRow]:
    one_of = {piece.code: piece for piece in reversed(event.register)}
    runs = {run.ware.code: run for run in reckoning.studio.runs}
    offers, nothing = offers_of(reckoning, event), Offer(firsts=0, seconds=0)
    for n, totals in enumerate(event.state.piece_totals, start=1):
        code, run = totals.code, runs.get(totals.code)
        yield TotalsRow(
            totals=totals,
            out_of_the_kiln=event.entries.made.get(code),
            piece=one_of[code],
            n=n,
            kiln=out_of_kiln(event.state, totals),
            grading=event.state.gradings[code],
            seconds_counted=_seconds_counted(run, event),
            found=found_of(run, totals, event) if run else nothing,
            offer=offers.get(code, nothing),
            one_table=one_table,
        )


def _seconds_counted(run: Run | None, event: Event) -> int:
    counted = event.state.kiln_counts.get(run.ware.code) if run else None
    return counted.seconds if counted else 0
