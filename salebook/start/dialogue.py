"""From a conversation to a sound plan."""

import re
from collections.abc import Sequence
from typing import Final

from salebook.errors import Fault, FaultyPlan
from salebook.plan.load import read_plan
from salebook.reckoning import reckon
from salebook.start.asking import BACK, PROMPT, YES, Ask, Say, ask_all, assumed_answers
from salebook.start.choices import AS_IT_TAKES
from salebook.start.home import Home
from salebook.start.plan_text import plan_text
from salebook.start.question import Answer, Question, SoFar
from salebook.start.questions import all_questions
from salebook.words import _

NUMBER_WHERE_NONE_DOES: Final = "40"
"""Pieces taken where nobody knows how many, and no number makes the target."""
ASKED_AGAIN: Final = {
    "wanted": "number",
    "made_height": "inside",
    "usable_height": "inside",
    "made_diameter": "shelf",
    "beneficiaries": "groups",
    "target": "target",
}
"""The question that mends a fault, by the key of the plan in which it was found."""


def plan_by_asking(home: Home, *, ask: Ask, say: Say) -> str:
    """Ask everything that a first plan needs and return the plan.

    The plan is sound, unless what is wrong lies in no answer and the person wants it all the same. Raises
    EOFError and KeyboardInterrupt as `ask` does.
    """
    questions = all_questions()
    _welcome(say)
    answers = ask_all(questions, home, ask=ask, say=say)
    while True:
        so_far = SoFar(home=home, answers=answers)
        faults = faults_in(text := plan_text(questions, so_far))
        if key := question_to_mend(faults, so_far):
            answers = _mended(questions, so_far, key, faults, ask=ask, say=say)
            continue
        at = _to_change(questions, so_far, faults, ask=ask, say=say)
        if at is None:
            return text
        answers = ask_all(questions, home, ask=ask, say=say, answers=answers, again=at)


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
    say(_("A dozen questions, and a plan stands. Enter takes an answer only where one is offered."))
    say(_('"don\'t know" is always an answer; "back" (or b) goes back one question; "help" (or ?) helps.'))
    say(_("Ctrl-C stops, and then nothing is written."))


def question_to_mend(faults: Sequence[Fault], so_far: SoFar) -> str:
    """Return the key of a question that was asked and mends a fault; empty where there is none."""
    words = [word for fault in faults for word in reversed(re.findall(r"\w+", fault.place))]
    keys = (ASKED_AGAIN[word] for word in words if word in ASKED_AGAIN)
    return next((key for key in keys if so_far.was_asked(key)), "")


def _mended(
    questions: Sequence[Question],
    so_far: SoFar,
    key: str,
    faults: Sequence[Fault],
    *,
    ask: Ask,
    say: Say,
) -> dict[str, Answer]:
    """Ask again what does not go together with the rest; where nobody knows how many, take a number."""
    say("")
    if key == "number" and so_far.answers[key] == Answer(text=AS_IT_TAKES, known=False):
        says = _("No number of pieces makes the target: {number} are taken for now.")
        say(says.format(number=NUMBER_WHERE_NONE_DOES))
        return {**so_far.answers, key: Answer(text=NUMBER_WHERE_NONE_DOES, known=False)}
    _tell(faults, say)
    at = next(place for place, question in enumerate(questions) if question.key == key)
    return ask_all(questions, so_far.home, ask=ask, say=say, answers=so_far.answers, again=at)


def _tell(faults: Sequence[Fault], say: Say) -> None:
    for fault in faults:
        says = fault.hint or _("{found}, where {expected} fits").format(
            found=fault.found, expected=fault.expected
        )
        say(_("This does not go together yet: {fault}.").format(fault=says))


def _to_change(
    questions: Sequence[Question], so_far: SoFar, faults: Sequence[Fault], *, ask: Ask, say: Say
) -> int | None:
    """Show all answers and return the place of the question to ask again; None writes the plan."""
    asked = [place for place, question in enumerate(questions) if so_far.was_asked(question.key)]
    say("")
    for number, place in enumerate(asked, start=1):
        say(_answer_line(number, questions[place], so_far))
    say("")
    _tell(faults, say)
    if faults:
        say(_("Where no answer mends that, write the plan and mend it in an editor: salebook check helps."))
    while True:
        say(_("Write it? Enter: yes. To change an answer, type its number."))
        said = ask(PROMPT).strip().lower()
        if said in {"", *YES}:
            return None
        if said in BACK:
            return asked[-1]
        if said.isascii() and said.isdigit() and 1 <= int(said) <= len(asked):
            return asked[int(said) - 1]


def _answer_line(number: int, question: Question, so_far: SoFar) -> str:
    answer = so_far.answers[question.key]
    words = question.in_words(answer.text, so_far)
    line = f"{number:>4}  {question.asks(so_far)}  {words}"
    return line if answer.known else _("{line} (assumed)").format(line=line)
