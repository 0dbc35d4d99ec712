"""The properties of a workbook's file by which salebook knows it."""

from typing import Final

SALE_MARK: Final = "salebook sale"
"""Holds the sale's id."""
TILL_MARK: Final = "salebook till"
"""Holds the number of the table, in the book of one table."""
