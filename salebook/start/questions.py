"""The questions in the order in which they are asked."""

from typing import Final

from salebook.start.question import Question
from salebook.start.sale_questions import about_money, about_the_sale
from salebook.start.studio_questions import about_the_studio

PARTS: Final = 12
"""What and when, groups, target, piece, how many, clay, shrinkage, size, kiln, firings, costs, paying."""


def all_questions() -> tuple[Question, ...]:
    """Return every question in order, in the language chosen by then."""
    return (*about_the_sale(), *about_the_studio(), *about_money())
