"""What the sheets call the grade of a piece, and where on Plan the piece stands."""

from salebook.base.words import _
from salebook.pricing.good import Good, Grade


def grade_label(grade: Grade) -> str:
    """Return the word for a grade."""
    words: dict[Grade, str] = {"first": _("first"), "second": _("second"), "donated": _("given")}
    return words[grade]


def section_of(good: Good) -> str:
    """Return the table on Plan that has a good."""
    return "donated" if good.grade == "donated" else "wares"
