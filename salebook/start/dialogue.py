"""From a conversation to a sound plan."""

from collections.abc import Mapping
from typing import Final

from salebook.errors import Fault, FaultyPlan
from salebook.plan.load import read_plan
from salebook.reckoning import reckon
from salebook.start.asking import Ask, Say, ask_all, assumed_answers
from salebook.start.choices import AS_IT_TAKES
from salebook.start.home import Home
from salebook.start.plan_text import plan_text
from salebook.start.question import Answer, Question, SoFar
from salebook.start.questions import all_questions
from salebook.words import _

NUMBER_WHERE_NONE_DOES: Final = "40"
"""Pieces taken where nobody knows how many, and no number makes the target."""
ASKED_AGAIN: Final = {"wanted": "number", "made_height": "inside", "made_diameter": "shelf"}
"""The question that mends a fault, by the key of the plan in which it was found."""


def plan_by_asking(home: Home, *, ask: Ask, say: Say) -> str:
    """Ask everything that a first plan needs and return the plan, which is sound.

    Raises EOFError and KeyboardInterrupt as `ask` does.
    """
    questions = all_questions()
    _welcome(say)
    answers = ask_all(questions, home, ask=ask, say=say)
    while faults := faults_in(text := plan_text(questions, SoFar(home=home, answers=answers))):
        answers = _mended(questions, home, answers, faults, ask=ask, say=say)
    return text


def blank_plan(home: Home) -> str:
    """Return a sound plan with example values, each marked as one."""
    questions = all_questions()
    known = assumed_answers(questions, home)
    answers = known | {"number": Answer(text=NUMBER_WHERE_NONE_DOES, known=False)}
    return plan_text(questions, SoFar(home=home, answers=answers), example=True)


def faults_in(text: str) -> tuple[Fault, ...]:
    """Return everything that keeps a plan from being reckoned."""
    try:
        reckon(read_plan(text, file=_("the plan")))
    except FaultyPlan as faulty:
        return faulty.faults
    return ()


def _welcome(say: Say) -> None:
    say(_("A dozen questions, and a plan stands. Enter takes the answer that is offered."))
    say(_('"don\'t know" is always an answer; "back" goes back one question.'))
    say(_("Ctrl-C stops, and then nothing is written."))


def _mended(
    questions: tuple[Question, ...],
    home: Home,
    answers: Mapping[str, Answer],
    faults: tuple[Fault, ...],
    *,
    ask: Ask,
    say: Say,
) -> dict[str, Answer]:
    """Ask again what does not go together with the rest; where nobody knows how many, take a number."""
    key = next(
        (ASKED_AGAIN[word] for fault in faults for word in ASKED_AGAIN if word in fault.place), "title"
    )
    say("")
    if key == "number" and answers["number"] == Answer(text=AS_IT_TAKES, known=False):
        say(
            _("No number of pieces makes the target: {number} are taken for now.").format(
                number=NUMBER_WHERE_NONE_DOES
            )
        )
        return {**answers, key: Answer(text=NUMBER_WHERE_NONE_DOES, known=False)}
    for fault in faults:
        say(_("This does not go together yet: {fault}.").format(fault=fault.hint or fault.expected))
    at = next(place for place, question in enumerate(questions) if question.key == key)
    return ask_all(questions, home, ask=ask, say=say, answers=answers, again=at)
