"""What was carried over although the plan has nothing for it any more."""

from salebook.book.reading.tables import Tables
from salebook.book.reading.typed import text
from salebook.event.entries import Kept


def read_kept(tables: Tables) -> tuple[Kept, ...]:
    """Read what an earlier renewing kept."""
    rows = ((text(row.get("sheet")), text(row.get("says"))) for row in tables.rows("kept"))
    return tuple(Kept(sheet=sheet, says=says) for sheet, says in rows if says)
