"""What was carried over although the plan has nothing for it any more."""

from salebook.book.reading.tables import Tables
from salebook.book.reading.typed import text
from salebook.event.entries import Unplaced


def read_unplaced(tables: Tables) -> tuple[Unplaced, ...]:
    """Read what an earlier renewing kept."""
    rows = ((text(row.get("sheet")), text(row.get("says"))) for row in tables.rows("kept"))
    return tuple(Unplaced(sheet=sheet, says=says) for sheet, says in rows if says)
