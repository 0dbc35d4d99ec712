"""The dialogue: one question after the other, with a way back; what is read and written are arguments."""

import re
from collections.abc import Callable, Collection, Mapping, MutableMapping, Sequence
from dataclasses import dataclass
from typing import Final

from salebook.base.errors import UnfitError
from salebook.base.words import _
from salebook.start.locale_defaults import LocaleDefaults
from salebook.start.question import Answer, Doubt, Question, SoFar, say

Ask = Callable[[str], str]
"""Shows a prompt and returns the line that a person types; raises EOFError where there is none."""
Say = Callable[[str], None]
"""Shows a line."""


@dataclass(frozen=True)
class Terminal:
    """Where the questions are asked."""

    ask: Ask
    say: Say


PROMPT: Final = "  > "
BACK: Final = ("back", "b", "<")
HELP: Final = ("help", "?")
YES: Final = ("yes", "y")
NO: Final = ("no", "n")
UNKNOWN: Final = ("don't know", "dont know", "do not know", "i don't know", "no idea")


def ask_all(
    questions: Sequence[Question],
    defaults: LocaleDefaults,
    given: MutableMapping[str, Answer],
    terminal: Terminal,
    *,
    again: int | None = None,
) -> None:
    """Ask the questions that have no answer yet, and put each answer into `given` as soon as it is there.

    `again` is the place of a question that is asked although it has its answer. Raises EOFError and
    KeyboardInterrupt as the terminal does.
    """
    asked = set() if again is None else {again}
    at = 0 if again is None else again
    while at < len(questions):
        question, so_far = questions[at], SoFar(defaults=defaults, answers=given)
        if not question.concerns(so_far):
            given.pop(question.key, None)
        elif at in asked or not is_answered(question, so_far):
            asked.add(at)
            terminal.say("")
            terminal.say(f"[{_place(at, questions, so_far)}] {say(question.asks, so_far)}")
            if (answer := _answer_to(question, so_far, terminal)) is None:
                at = _one_before(at, questions, so_far, terminal)
                asked.add(at)
                continue
            given[question.key] = answer
        at += 1


def with_assumed(
    questions: Sequence[Question],
    defaults: LocaleDefaults,
    given: Mapping[str, Answer],
    *,
    keep: Collection[str] = (),
) -> dict[str, Answer]:
    """Return the answers, with what somebody who knows nothing says where one is missing.

    What was assumed before is assumed anew, since other answers may have changed, but for the keys in `keep`.
    """
    answers = dict(given)
    for question in questions:
        so_far = SoFar(defaults=defaults, answers=answers)
        if not question.concerns(so_far):
            answers.pop(question.key, None)
        elif not is_answered(question, so_far) or (
            not answers[question.key].known and question.key not in keep
        ):
            answers[question.key] = question.answer_assumed(so_far)
    return answers


def is_answered(question: Question, so_far: SoFar) -> bool:
    """Whether there is an earlier answer, which holds after others have changed."""
    try:
        before = so_far.answers[question.key].words
        return question.answer(before, so_far).words == before
    except (KeyError, UnfitError):
        return False


def _place(at: int, questions: Sequence[Question], so_far: SoFar) -> str:
    """Say which one a question is of those that will be asked, as far as one can know."""
    known = SoFar(defaults=so_far.defaults, answers=with_assumed(questions, so_far.defaults, so_far.answers))
    asked = [place for place, question in enumerate(questions) if question.concerns(known)]
    return f"{asked.index(at) + 1}/{len(asked)}"


def _answer_to(question: Question, so_far: SoFar, terminal: Terminal) -> Answer | None:
    """Ask until an answer is understood and return it; None goes back."""
    offered = _offered(question, so_far)
    terminal.say(_hint(question, so_far, offered))
    while True:
        said = terminal.ask(PROMPT).strip()
        if said.lower() in BACK:
            return None
        if is_unknown(said):
            return _assumed(question, so_far, terminal)
        if not said and offered is not None:
            return offered
        if said.lower() in HELP or not said:
            terminal.say(_no_answer_yet(said))
            terminal.say(_hint(question, so_far, offered))
        elif (answer := _understood(question, said, so_far, terminal)) is not None:
            return answer


def is_unknown(said: str) -> bool:
    """Whether somebody says not to know."""
    return said.lower().replace("’", "'").rstrip(".!") in UNKNOWN


def _understood(question: Question, said: str, so_far: SoFar, terminal: Terminal) -> Answer | None:
    """Return an answer, said back where it was put in other words; None where it is to be asked again."""
    try:
        answer = question.answer(said, so_far)
        for doubt in question.reader.doubts(said, answer.value, so_far):
            if _agrees(doubt, terminal):
                continue
            if doubt.no is None:
                terminal.say(_("  Then please say it in other words."))
                return None
            answer = question.answer(answer.words.replace(*doubt.no, 1), so_far)
    except UnfitError as trouble:
        terminal.say(expected_line(trouble))
        return None
    if back := said_back_line(question, answer, said, so_far):
        terminal.say(back)
    return answer


def expected_line(trouble: UnfitError) -> str:
    """Say what an answer should have been."""
    return _("  Expected: {expected}.").format(expected=str(trouble).rstrip("."))


def said_back_line(question: Question, answer: Answer, said: str, so_far: SoFar) -> str:
    """Say an answer back where it was put in other words; nothing where it was put in the same."""
    words = question.said_back(answer.value, so_far)
    if words in {answer.words, said} and _numbers(words) == _numbers(said):
        return ""
    return _("  That is {words}.").format(words=words)


def _numbers(text: str) -> list[str]:
    return re.findall(r"\d+", text)


def _agrees(doubt: Doubt, terminal: Terminal) -> bool:
    """Ask until somebody says yes or no; to go back is to say no."""
    while True:
        terminal.say(_("  {doubt} (yes or no)").format(doubt=doubt.asks))
        said = terminal.ask(PROMPT).strip().lower()
        if said in {*YES, *NO, *BACK}:
            return said in YES


def _no_answer_yet(said: str) -> str:
    if not said:
        return _('  Enter takes nothing here: type an answer, or "don\'t know".')
    return _('  Type an answer as in the example; "don\'t know" takes a usual one, "back" goes back.')


def _offered(question: Question, so_far: SoFar) -> Answer | None:
    """Return what Enter alone takes: what was said before, else what follows from other answers."""
    if is_answered(question, so_far):
        return so_far.answers[question.key]
    return None if question.offered is None else question.answer(say(question.offered, so_far), so_far)


def _hint(question: Question, so_far: SoFar, offered: Answer | None) -> str:
    if offered is not None and say(question.such_as, so_far) == offered.words:
        said = question.said_back(offered.value, so_far)
        return _("  Enter takes: {offered}.").format(offered=said)
    hint = example_line(question, so_far)
    if offered is None:
        return hint
    return _("{hint} Enter takes: {offered}.").format(hint=hint, offered=offered.words)


def example_line(question: Question, so_far: SoFar) -> str:
    """Say how a question may be answered."""
    return _("  For example: {example}.").format(example=say(question.such_as, so_far))


def assumed_line(question: Question, answer: Answer) -> str:
    """Say what is taken where nobody knows, and why."""
    says = _("  Then this is taken for now: {assumed} ({because}).")
    return says.format(assumed=answer.words, because=_(question.because))


def _assumed(question: Question, so_far: SoFar, terminal: Terminal) -> Answer:
    answer = question.answer_assumed(so_far)
    terminal.say(assumed_line(question, answer))
    return answer


def _one_before(at: int, questions: Sequence[Question], so_far: SoFar, terminal: Terminal) -> int:
    for before in range(at - 1, -1, -1):
        if questions[before].concerns(so_far):
            return before
    terminal.say(_("  This is the first question."))
    return at
