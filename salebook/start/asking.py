"""The dialogue: one question after the other, with a way back; what is read and written are arguments."""

from collections.abc import Callable, Mapping, Sequence
from typing import Final

from salebook.plan.fields import UnfitError
from salebook.start.home import Home
from salebook.start.question import Answer, Question, SoFar
from salebook.start.questions import PARTS
from salebook.words import _

Ask = Callable[[str], str]
"""Shows a prompt and returns the line that a person types; raises EOFError where there is none."""
Say = Callable[[str], None]
"""Shows a line."""

PROMPT: Final = "  > "
BACK: Final = ("back", "b", "<")
HELP: Final = ("help", "?")
YES: Final = ("yes", "y")
NO: Final = ("no", "n")
UNKNOWN: Final = ("don't know", "dont know", "do not know", "i don't know", "don’t know", "no idea")


def ask_all(
    questions: Sequence[Question],
    home: Home,
    *,
    ask: Ask,
    say: Say,
    answers: Mapping[str, Answer] | None = None,
    again: int = -1,
) -> dict[str, Answer]:
    """Ask the questions and return all answers.

    With `again`, the place of a question that has its answer, only that one is asked, and those that its new
    answer makes necessary. Raises EOFError and KeyboardInterrupt as `ask` does.
    """
    given = dict(answers or {})
    at = max(0, again)
    while at < len(questions):
        question, so_far = questions[at], SoFar(home=home, answers=given)
        if not question.concerns(so_far):
            given.pop(question.key, None)
            at += 1
        elif 0 <= again < at and _is_answered(question, so_far):
            at += 1
        elif (answer := _answer_to(question, so_far, ask=ask, say=say)) is None:
            at = _one_before(at, questions, so_far, say)
        else:
            given[question.key] = answer
            at += 1
    return given


def assumed_answers(questions: Sequence[Question], home: Home) -> dict[str, Answer]:
    """Return the answers of somebody who knows nothing."""
    given: dict[str, Answer] = {}
    for question in questions:
        so_far = SoFar(home=home, answers=given)
        if question.concerns(so_far):
            given[question.key] = Answer(text=question.assumed(so_far), known=False)
    return given


def _answer_to(question: Question, so_far: SoFar, *, ask: Ask, say: Say) -> Answer | None:
    """Ask until an answer is understood and return it; None goes back."""
    offered = _offered(question, so_far)
    say("")
    say(f"[{question.part}/{PARTS}] {question.asks(so_far)}")
    say(_hint(question, so_far, offered))
    while True:
        said = ask(PROMPT).strip()
        if said.lower() in BACK:
            return None
        if said.lower() in UNKNOWN:
            return _assumed(question, so_far, say)
        if not said and offered is not None:
            return offered
        if said.lower() in HELP or not said:
            say(_no_answer_yet(said))
            say(_hint(question, so_far, offered))
        elif (answer := _understood(question, said, so_far, ask=ask, say=say)) is not None:
            return answer


def _understood(question: Question, said: str, so_far: SoFar, *, ask: Ask, say: Say) -> Answer | None:
    """Return an answer, said back where it was put in other words; None where it is to be asked again."""
    try:
        text = question.read(said, so_far)
    except UnfitError as trouble:
        say(_("  Expected: {expected}.").format(expected=str(trouble).rstrip(".")))
        return None
    if (doubt := question.doubt(said, text, so_far)) and not _agrees(doubt, ask, say):
        say(_("  Then please say it in other words."))
        return None
    if (words := question.in_words(text, so_far)) not in {text, said}:
        say(_("  That is {words}.").format(words=words))
    return Answer(text=text)


def _agrees(doubt: str, ask: Ask, say: Say) -> bool:
    """Ask until somebody says yes, by Enter too, or no; to go back is to say no."""
    while True:
        say(_("  {doubt} (Enter: yes; no: ask me again)").format(doubt=doubt))
        said = ask(PROMPT).strip().lower()
        if said in {"", *YES}:
            return True
        if said in {*NO, *BACK}:
            return False


def _no_answer_yet(said: str) -> str:
    if not said:
        return _('  Enter takes nothing here: type an answer, or "don\'t know".')
    return _('  Type an answer as in the example; "don\'t know" takes a usual one, "back" goes back.')


def _offered(question: Question, so_far: SoFar) -> Answer | None:
    """Return what Enter alone takes: what was said before, else what follows from other answers."""
    if _is_answered(question, so_far):
        return so_far.answers[question.key]
    return None if question.offered is None else Answer(text=question.offered(so_far))


def _is_answered(question: Question, so_far: SoFar) -> bool:
    """Whether there is an earlier answer, which holds after others have changed."""
    try:
        before = so_far.answers[question.key].text
        return question.read(before, so_far) == before
    except (KeyError, UnfitError):
        return False


def _hint(question: Question, so_far: SoFar, offered: Answer | None) -> str:
    hint = _("  For example: {example}.").format(example=question.such_as(so_far))
    if offered is None:
        return hint
    return _("{hint} Enter takes: {offered}.").format(hint=hint, offered=offered.text)


def _assumed(question: Question, so_far: SoFar, say: Say) -> Answer:
    text = question.assumed(so_far)
    says = _("  Then this is taken for now: {assumed} ({because}).")
    say(says.format(assumed=text, because=question.because))
    return Answer(text=text, known=False)


def _one_before(at: int, questions: Sequence[Question], so_far: SoFar, say: Say) -> int:
    for before in range(at - 1, -1, -1):
        if questions[before].concerns(so_far):
            return before
    say(_("  This is the first question."))
    return at
