"""The marks by which salebook knows its workbooks and what stands in them."""

import re
from collections.abc import Collection, Mapping
from typing import Final

from salebook.base.words import _

SALE_PROPERTY: Final = "salebook sale"
"""The property of the file that holds the sale's id."""
TILL_PROPERTY: Final = "salebook till"
"""The property that holds the number of the table, in the book of one table."""

BOOK_PROPERTY: Final = "salebook book"
"""The property that holds the book's id, by which lines know where they were typed."""
JOINED_PROPERTY: Final = "salebook joined"
"""The property that holds the fingerprint of what stood in this book when others were joined into it."""

LINKED: Final = "of."
"""How the key of a column begins that repeats what another table says."""
LIVE: Final = "="
"""How the key of a column begins that is worked out."""
SHEET: Final = "sheet_"
"""How the name begins that marks a sheet."""
UNSAID: Final = "?"
"""Stands after a row's mark where the plan says nothing of the row, or of the keys that follow."""


def sheet_mark(sheet: str) -> str:
    """Return the name that marks a sheet, which the code calls by its English title.

    It goes with the sheet when that is called otherwise, and not with a copy of it.
    """
    return SHEET + re.sub(r"\W+", "_", sheet.lower())


def title_of(sheet: str, names: Mapping[str, str], titles: Collection[str]) -> str:
    """Return what a sheet is called in a workbook: as its mark says, else as books without marks call it."""
    marked = sheet_in(names.get(sheet_mark(sheet), ""))
    return next((title for title in (marked, _(sheet), sheet) if title in titles), _(sheet))


def sheet_in(address: str) -> str:
    """Return the title of the sheet in an address such as 'Hand over'!$A$1."""
    return address.rpartition("!")[0].strip("'").replace("''", "'")
