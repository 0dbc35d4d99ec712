"""What the sheets call the grade of a piece."""

from salebook.base.words import _
from salebook.pricing.good import Grade


def grade_label(grade: Grade) -> str:
    """Return the word for a grade."""
    words: dict[Grade, str] = {"first": _("first"), "second": _("second"), "donated": _("given")}
    return words[grade]
