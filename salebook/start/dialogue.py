"""From a conversation to a sound plan."""

import re
from collections import ChainMap
from collections.abc import Mapping, MutableMapping, Sequence
from typing import Final

from salebook.base.errors import Fault, FaultyPlanError
from salebook.base.words import _
from salebook.plan.load import read_plan
from salebook.reckoning import made_and_costed
from salebook.start.asking import BACK, PROMPT, YES, Ask, Say, Terminal, ask_all, with_assumed
from salebook.start.locale_defaults import LocaleDefaults
from salebook.start.plan_text import plan_text
from salebook.start.question import Answer, Question, SoFar, say
from salebook.start.questions import FIRST, QUESTIONS

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
    terminal = Terminal(ask, say)
    _welcome(terminal, every=every)
    again: int | None = None
    assumed: Mapping[str, Answer] = {}
    while True:
        asked = QUESTIONS if every or (again or 0) >= FIRST else QUESTIONS[:FIRST]
        ask_all(asked, defaults, ChainMap(given, dict(assumed)), terminal, again=again)
        so_far = SoFar(defaults=defaults, answers=with_assumed(QUESTIONS, defaults, given, keep={"number"}))
        faults = faults_in(text := plan_text(so_far))
        again, assumed = None, so_far.answers
        if key := question_to_mend(faults, so_far):
            again = _to_mend(key, faults, so_far, given, terminal)
            continue
        wish = ask_to_write(QUESTIONS, so_far, faults, terminal, may_ask_more=not every)
        if wish == WRITE:
            return text
        if wish == MORE:
            every, assumed = True, {}
        else:
            again = wish


def blank_plan(defaults: LocaleDefaults) -> str:
    """Return a sound plan with example values, each marked as one."""
    answers = with_assumed(QUESTIONS, defaults, {}) | {"number": NUMBER_TAKEN}
    return plan_text(SoFar(defaults=defaults, answers=answers), example=True)


def faults_in(text: str) -> tuple[Fault, ...]:
    """Return everything that keeps a plan from being reckoned."""
    try:
        made_and_costed(read_plan(text, file=_("the plan")))
    except FaultyPlanError as faulty:
        return faulty.faults
    return ()


def _welcome(terminal: Terminal, *, every: bool) -> None:
    begins = _("A dozen questions, and you have a plan. Enter takes an answer only where one is offered.")
    if every:
        begins = _("These are all the questions there are. Enter takes an answer only where one is offered.")
    terminal.say(begins)
    terminal.say(
        _('"don\'t know" is always an answer; "back" (or b) goes back one question; "help" (or ?) helps.')
    )
    terminal.say(_("Ctrl-C stops, and keeps your answers for another time."))


def question_to_mend(faults: Sequence[Fault], so_far: SoFar) -> str:
    """Return the key of a question that was asked and mends a fault; empty where there is none."""
    words = [word for fault in faults for word in reversed(re.findall(r"\w+", fault.place))]
    keys = (ASKED_AGAIN[word] for word in words if word in ASKED_AGAIN)
    return next((key for key in keys if so_far.was_asked(key)), "")


def _to_mend(
    key: str, faults: Sequence[Fault], so_far: SoFar, given: MutableMapping[str, Answer], terminal: Terminal
) -> int | None:
    """Return the place of the question to ask again; where nobody knows how many, take a number."""
    terminal.say("")
    if key == "number" and so_far[key] is None and not so_far.answers[key].known:
        terminal.say(number_taken_line())
        given[key] = NUMBER_TAKEN
        return None
    _tell(faults, terminal)
    return [question.key for question in QUESTIONS].index(key)


def _tell(faults: Sequence[Fault], terminal: Terminal) -> None:
    for fault in faults:
        terminal.say(fault_line(fault))


def fault_line(fault: Fault) -> str:
    """Say what keeps the answers from making a plan."""
    says = _("{found}, where {expected} fits").format(found=fault.found, expected=fault.expected)
    return _("This does not go together yet: {fault}.").format(fault=fault.hint or says)


def number_taken_line() -> str:
    """Say how many are taken where nobody knows, and no number makes the target."""
    says = _("No number of pieces makes the target: {number} are taken for now.")
    return says.format(number=NUMBER_TAKEN.words)


def ask_to_write(
    questions: Sequence[Question],
    so_far: SoFar,
    faults: Sequence[Fault],
    terminal: Terminal,
    *,
    may_ask_more: bool = False,
) -> int:
    """Show all answers and return the place of the question to ask again, WRITE or MORE."""
    places = _listed(questions, so_far, terminal)
    terminal.say("")
    _tell(faults, terminal)
    if faults:
        terminal.say(
            _("Where no answer mends that, write the plan and mend it in an editor: salebook check helps.")
        )
    prompt = _("Write it? Enter: yes. To change an answer, type its number.")
    if may_ask_more:
        prompt = _(
            "Write it? Enter: yes. To change an answer, type its number; more asks all that is only assumed."
        )
    while True:
        terminal.say(prompt)
        said = terminal.ask(PROMPT).strip().lower()
        if said in {"", *YES}:
            return WRITE
        if said in ASK_MORE and may_ask_more:
            return MORE
        if said in BACK:
            return places[-1]
        if said.isascii() and said.isdigit() and 1 <= int(said) <= len(places):
            return places[int(said) - 1]


def _listed(questions: Sequence[Question], so_far: SoFar, terminal: Terminal) -> list[int]:
    """Show what was said and what is assumed, numbered, and return the places of the questions."""
    asked = [place for place, question in enumerate(questions) if so_far.was_asked(question.key)]
    said = [place for place in asked if so_far.answers[questions[place].key].known]
    listed: list[int] = []
    for heading, places in (
        (_("You said:"), said),
        (_("Assumed until you know better, and marked in the plan:"), [p for p in asked if p not in said]),
    ):
        if places:
            terminal.say("")
            terminal.say(heading)
        for place in places:
            listed.append(place)
            terminal.say(f"{len(listed):>4}  {_answer_line(questions[place], so_far)}")
    return listed


def _answer_line(question: Question, so_far: SoFar) -> str:
    return f"{say(question.asks, so_far)}  {question.said_back(so_far[question.key], so_far)}"
