"""The marks by which salebook knows its workbooks and what stands in them."""

from typing import Final

SALE_PROPERTY: Final = "salebook sale"
"""The property of the file that holds the sale's id."""
TILL_PROPERTY: Final = "salebook till"
"""The property that holds the number of the table, in the book of one table."""

BOOK_MARK: Final = "salebook book"
"""The property that holds the mark of the book, by which lines know where they were typed."""
JOIN_MARK: Final = "salebook joined"
"""The property that holds the mark of all that was filled in when books were put together into this one."""

LINKED: Final = "of."
"""How the key of a column begins that repeats what another table says."""
LIVE: Final = "="
"""How the key of a column begins that is worked out."""
UNSAID: Final = "?"
"""Stands after a row's mark where the plan says nothing of the row, or of the keys that follow."""
