"""What the sheets call the grade of a piece."""

from salebook.pricing.good import Grade
from salebook.words import _


def grade_said(grade: Grade) -> str:
    """Return the word for a grade."""
    words: dict[Grade, str] = {"first": _("first"), "second": _("second"), "donated": _("given")}
    return words[grade]
