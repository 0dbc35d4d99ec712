"""From a conversation to a sound plan."""

import re
from collections import ChainMap
from collections.abc import Mapping, MutableMapping, Sequence
from typing import Final

from salebook.base.errors import Fault, FaultyPlanError
from salebook.base.words import _
from salebook.plan.load import read_plan
from salebook.reckoning import reckon
from salebook.start.asking import BACK, PROMPT, YES, Ask, Say, ask_all, with_assumed
from salebook.start.locale_defaults import LocaleDefaults
from salebook.start.plan_text import plan_text
from salebook.start.question import Answer, Question, SoFar
from salebook.start.questions import FIRST, all_questions

NUMBER_TAKEN: Final = Answer(value=40, words="40", known=False)
"""Pieces taken where nobody knows how many, and no number makes the target."""
WRITE, MORE = -1, -2
"""Wishes that are no place of a question."""
ASK_MORE: Final = ("more", "m", "all")
ASKED_AGAIN: Final = {
    "wanted": "number",
    "made_height": "inside",
    "usable_height": "inside",
    "made_diameter": "shelf",
    "beneficiaries": "groups",
    "target": "target",
}
"""The question that mends a fault, by the key of the plan in which it was found."""


def plan_by_asking(
    defaults: LocaleDefaults, given: MutableMapping[str, Answer], *, ask: Ask, say: Say, every: bool = False
) -> str:
    """Ask what a first plan needs most, or with `every` all that it can hold, and return the plan.

    `given` holds the answers of an earlier talk, and takes each new one as soon as it is there. The plan is
    sound, unless what is wrong lies in no answer and the person wants it all the same. Raises EOFError and
    KeyboardInterrupt as `ask` does.
    """
    # An answer keeps its value and words that read as it again, so that going back, and another day, can
    # offer it. What nobody said is never kept: it is assumed anew, since an answer may change it.
    questions = all_questions()
    _welcome(say, every=every)
    again: int | None = None
    assumed: Mapping[str, Answer] = {}
    while True:
        asked = questions if every or (again or 0) >= len(FIRST) else questions[: len(FIRST)]
        ask_all(asked, defaults, ChainMap(given, dict(assumed)), ask=ask, say=say, again=again)
        so_far = SoFar(defaults=defaults, answers=with_assumed(questions, defaults, given, keep={"number"}))
        faults = faults_in(text := plan_text(questions, so_far))
        again, assumed = None, so_far.answers
        if key := question_to_mend(faults, so_far):
            again = _to_mend(questions, so_far, given, key=key, faults=faults, say=say)
            continue
        wish = _wish(questions, so_far, faults, may_ask_more=not every, ask=ask, say=say)
        if wish == WRITE:
            return text
        if wish == MORE:
            every, assumed = True, {}
        else:
            again = wish


def blank_plan(defaults: LocaleDefaults) -> str:
    """Return a sound plan with example values, each marked as one."""
    questions = all_questions()
    known = with_assumed(questions, defaults, {})
    answers = known | {"number": NUMBER_TAKEN}
    return plan_text(questions, SoFar(defaults=defaults, answers=answers), example=True)


def faults_in(text: str) -> tuple[Fault, ...]:
    """Return everything that keeps a plan from being reckoned."""
    try:
        reckon(read_plan(text, file=_("the plan")))
    except FaultyPlanError as faulty:
        return faulty.faults
    return ()


def _welcome(say: Say, *, every: bool) -> None:
    if every:
        say(_("All questions that a first plan can answer. Enter takes an answer only where one is offered."))
    else:
        say(_("A dozen questions, and a plan stands. Enter takes an answer only where one is offered."))
    say(_('"don\'t know" is always an answer; "back" (or b) goes back one question; "help" (or ?) helps.'))
    say(_("Ctrl-C stops, and keeps your answers for another time."))


def question_to_mend(faults: Sequence[Fault], so_far: SoFar) -> str:
    """Return the key of a question that was asked and mends a fault; empty where there is none."""
    words = [word for fault in faults for word in reversed(re.findall(r"\w+", fault.place))]
    keys = (ASKED_AGAIN[word] for word in words if word in ASKED_AGAIN)
    return next((key for key in keys if so_far.was_asked(key)), "")


def _to_mend(
    questions: Sequence[Question],
    so_far: SoFar,
    given: MutableMapping[str, Answer],
    *,
    key: str,
    faults: Sequence[Fault],
    say: Say,
) -> int | None:
    """Return the place of the question to ask again; where nobody knows how many, take a number."""
    say("")
    if key == "number" and so_far[key] is None and not so_far.answers[key].known:
        says = _("No number of pieces makes the target: {number} are taken for now.")
        say(says.format(number=NUMBER_TAKEN.words))
        given[key] = NUMBER_TAKEN
        return None
    _tell(faults, say)
    return next(place for place, question in enumerate(questions) if question.key == key)


def _tell(faults: Sequence[Fault], say: Say) -> None:
    for fault in faults:
        says = fault.hint or _("{found}, where {expected} fits").format(
            found=fault.found, expected=fault.expected
        )
        say(_("This does not go together yet: {fault}.").format(fault=says))


def _wish(
    questions: Sequence[Question],
    so_far: SoFar,
    faults: Sequence[Fault],
    *,
    may_ask_more: bool,
    ask: Ask,
    say: Say,
) -> int:
    """Show all answers and return the place of the question to ask again, WRITE or MORE."""
    places = _listed(questions, so_far, say)
    say("")
    _tell(faults, say)
    if faults:
        say(_("Where no answer mends that, write the plan and mend it in an editor: salebook check helps."))
    prompt = _("Write it? Enter: yes. To change an answer, type its number.")
    if may_ask_more:
        prompt = _(
            "Write it? Enter: yes. To change an answer, type its number; more asks all that is only assumed."
        )
    while True:
        say(prompt)
        said = ask(PROMPT).strip().lower()
        if said in {"", *YES}:
            return WRITE
        if said in ASK_MORE and may_ask_more:
            return MORE
        if said in BACK:
            return places[-1]
        if said.isascii() and said.isdigit() and 1 <= int(said) <= len(places):
            return places[int(said) - 1]


def _listed(questions: Sequence[Question], so_far: SoFar, say: Say) -> list[int]:
    """Show what was said and what is assumed, numbered, and return the places of the questions."""
    asked = [place for place, question in enumerate(questions) if so_far.was_asked(question.key)]
    said = [place for place in asked if so_far.answers[questions[place].key].known]
    assumed = [place for place in asked if place not in said]
    for heading, places, start in (
        (_("You said:"), said, 1),
        (_("Assumed until you know better, and marked in the plan:"), assumed, len(said) + 1),
    ):
        if places:
            say("")
            say(heading)
        for number, place in enumerate(places, start=start):
            say(_answer_line(number, questions[place], so_far))
    return [*said, *assumed]


def _answer_line(number: int, question: Question, so_far: SoFar) -> str:
    words = question.said_back(so_far[question.key], so_far)
    return f"{number:>4}  {question.asks(so_far)}  {words}"
