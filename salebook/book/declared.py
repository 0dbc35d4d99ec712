"""Every table that is declared: what is read back, as what, and what must be there, follows from these."""

from collections.abc import Mapping
from typing import Any

from salebook.base.words import once_a_language
from salebook.book.sheets.cash_up.sheet import bank_table, bank_ways_table, cash_table, coins_table
from salebook.book.sheets.cash_up.table_count import evenings_table
from salebook.book.sheets.costs import costs_table, unplanned_table
from salebook.book.sheets.firing.done import firings_done_table
from salebook.book.sheets.from_here import from_here_table
from salebook.book.sheets.hand_over import claims_table
from salebook.book.sheets.making.studio_tally import studio_table
from salebook.book.sheets.pieces.sheet import pieces_table
from salebook.book.sheets.pieces.totals import tally_table
from salebook.book.sheets.share_out.sheet import paid_table, ways_table
from salebook.book.sheets.start_here import kept_table
from salebook.book.sheets.takings.sheet import takings_table
from salebook.book.sheets.this_table import till_table
from salebook.book.table import Table

READ = (
    *(costs_table, unplanned_table, claims_table, cash_table, coins_table, evenings_table),
    *(bank_table, bank_ways_table),
    *(paid_table, ways_table, studio_table, kept_table, tally_table, pieces_table, takings_table, till_table),
    *(from_here_table, firings_done_table),
)


@once_a_language
def declared() -> Mapping[str, Table[Any]]:
    """Return the tables from which something is read, by section, headings in the chosen language."""
    return {table.section: table for table in (declare() for declare in READ)}
