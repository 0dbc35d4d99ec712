"""The questions in the order in which they are asked."""

from typing import Final

from salebook.start.question import Question
from salebook.start.sale_questions import about_money, about_the_sale
from salebook.start.studio_questions import about_the_studio

FIRST: Final = (
    *("maker", "days", "groups", "target", "piece", "number", "price", "clay", "ball"),
    *("shelf", "energy", "firing_cost", "hall"),
)
"""The dozen without which a first plan says little: with a kiln at home energy, without one firing_cost."""


def all_questions() -> tuple[Question, ...]:
    """Return every question in order, the dozen first, in the language chosen by then."""
    questions = {one.key: one for one in (*about_the_sale(), *about_the_studio(), *about_money())}
    return (*(questions.pop(key) for key in FIRST), *questions.values())
