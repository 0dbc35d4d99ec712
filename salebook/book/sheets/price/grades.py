"""What the sheets call the grade of a piece."""

from salebook.base.words import pgettext
from salebook.pricing.good import Grade


def grade_label(grade: Grade) -> str:
    """Return the word for a grade."""
    words: dict[Grade, str] = {
        "first": pgettext("grade of a piece", "first"),
        "second": pgettext("grade of a piece", "second"),
        "donated": pgettext("a piece that was given", "given"),
        "carried": pgettext("a piece of an earlier sale", "left over"),
    }
    return words[grade]
