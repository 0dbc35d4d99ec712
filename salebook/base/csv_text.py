"""Tables as text that is safe to open in a spreadsheet program."""

from typing import Final

BYTE_ORDER_MARK: Final = "\ufeff"
"""Tells spreadsheet programs that the file is in UTF-8."""

FORMULA_SIGNS: Final = "=+-@＝＋－＠"
DANGEROUS: Final = (*FORMULA_SIGNS, "\t", "\r", "\n")
"""A text that begins with one of these may be taken for a formula (CWE-1236; OWASP ASVS 1.2.10)."""


def guarded(text: str) -> str:
    """Return a text that no spreadsheet program takes for a formula."""
    # Only here: in a workbook a text is a text whatever it begins with, and the apostrophe would show.
    return f"'{text}" if text.startswith(DANGEROUS) else text
