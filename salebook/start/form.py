"""The questions as a form: all at once, each with what was understood, in the words of the dialogue."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Final

from salebook.base.errors import UnfitError
from salebook.base.words import _
from salebook.start.asking import assumed_line, example_line, expected_line, is_unknown, said_back_line
from salebook.start.dialogue import (
    NUMBER_TAKEN,
    fault_line,
    faults_in,
    number_taken_line,
    question_to_mend,
)
from salebook.start.locale_defaults import LocaleDefaults
from salebook.start.plan_text import plan_text
from salebook.start.question import Answer, Question, SoFar, say
from salebook.start.questions import FIRST, QUESTIONS

SURE: Final = "sure: "
"""Begins the field of a doubt; what is asked follows, so that another doubt is another field."""
YES, NO = "yes", "no"


@dataclass(frozen=True, kw_only=True)
class Asked:
    """One question as the form shows it."""

    key: str
    asks: str
    example: str
    typed: str = ""
    concerns: bool = True
    is_unknown: bool = False
    says: str = ""
    """What was understood of the answer, or is taken for now."""
    trouble: str = ""
    doubts: tuple[str, ...] = ()
    """What is asked, yes or no, before the answer is taken."""
    sure: Mapping[str, str] = field(default_factory=dict)
    """What was said to such questions."""


@dataclass(frozen=True, kw_only=True)
class Form:
    """All questions, and what their answers make."""

    fields: tuple[Asked, ...]
    so_far: SoFar
    """The answers, and what is assumed."""
    remarks: tuple[str, ...] = ()
    """On no question by itself."""

    @property
    def first(self) -> tuple[Asked, ...]:
        """The dozen that matter most."""
        return self.fields[:FIRST]

    @property
    def rest(self) -> tuple[Asked, ...]:
        """All others, which may be left open."""
        return self.fields[FIRST:]

    @property
    def has_more(self) -> bool:
        """Whether anything was said beyond the dozen, or has to be."""
        return any(one.typed or one.is_unknown or one.trouble for one in self.rest)

    @property
    def given(self) -> dict[str, Answer]:
        """What was answered."""
        return {key: answer for key, answer in self.so_far.answers.items() if answer.known}

    @property
    def open(self) -> tuple[Asked, ...]:
        """The questions whose answer cannot be taken yet."""
        return tuple(one for one in self.fields if one.trouble or one.doubts)

    @property
    def is_understood(self) -> bool:
        """Whether every answer can be taken."""
        return not self.remarks and not self.open

    @property
    def plan(self) -> str:
        """The text of the plan that the answers make."""
        return plan_text(self.so_far)


def form_of(typed: Mapping[str, str], unknown: Collection[str], defaults: LocaleDefaults) -> Form:
    """Read what was typed for each question, by its key; `unknown` are the keys that nobody knows.

    A doubt has a field of its own: SURE and what it asks, "yes" or "no".
    """
    answers: dict[str, Answer] = {}
    fields = tuple(
        _asked(question, typed, unknown, SoFar(defaults=defaults, answers=answers), answers)
        for question in QUESTIONS
    )
    return Form(fields=fields, so_far=SoFar(defaults=defaults, answers=answers))


def reckoned(form: Form) -> Form:
    """Return a form with what keeps its answers from making a plan, each at the question that mends it.

    Where nobody knows how many and no number makes the target, one is taken.
    """
    faults = faults_in(form.plan)
    if not faults:
        return form
    key = question_to_mend(faults, form.so_far)
    number = form.so_far.answers["number"]
    if key == "number" and number.value is None and not number.known:
        answers = {**form.so_far.answers, "number": NUMBER_TAKEN}
        taken = replace(form, so_far=replace(form.so_far, answers=answers))
        return reckoned(_with(taken, "number", says=number_taken_line()))
    lines = [fault_line(fault) for fault in faults]
    return _with(form, key, trouble=" ".join(lines)) if key else replace(form, remarks=tuple(lines))


def _with(form: Form, key: str, **changes: Any) -> Form:
    fields = (replace(one, **changes) if one.key == key else one for one in form.fields)
    return replace(form, fields=tuple(fields))


def _asked(
    question: Question,
    typed: Mapping[str, str],
    unknown: Collection[str],
    so_far: SoFar,
    answers: dict[str, Answer],
) -> Asked:
    """Return a question with what is understood of its answer, which is put among the answers."""
    said = typed.get(question.key, "").strip()
    if not question.concerns(so_far):
        return Asked(key=question.key, asks="", example="", typed=said, concerns=False)
    asked = Asked(
        key=question.key,
        asks=say(question.asks, so_far),
        example=example_line(question, so_far),
        typed=said,
    )
    assumed = question.answer_assumed(so_far)
    answers[question.key] = assumed
    if is_unknown(said) or (not said and question.key in unknown):
        return replace(asked, typed="", is_unknown=True, says=assumed_line(question, assumed))
    return _understood(question, asked, typed, so_far, answers) if said else asked


def _understood(
    question: Question, asked: Asked, typed: Mapping[str, str], so_far: SoFar, answers: dict[str, Answer]
) -> Asked:
    open_doubts: list[str] = []
    sure: dict[str, str] = {}
    try:
        answer = question.answer(asked.typed, so_far)
        for doubt in question.reader.doubts(asked.typed, answer.value, so_far):
            is_sure = typed.get(f"{SURE}{doubt.asks}")
            if is_sure is None:
                open_doubts.append(doubt.asks)
                continue
            sure[doubt.asks] = is_sure
            if is_sure == NO and doubt.no is None:
                return replace(asked, trouble=_("  Then please say it in other words."))
            if is_sure == NO and doubt.no:
                answer = question.answer(answer.words.replace(*doubt.no, 1), so_far)
    except UnfitError as trouble:
        return replace(asked, trouble=expected_line(trouble))
    answers[question.key] = answer
    back = said_back_line(question, answer, asked.typed, so_far)
    return replace(asked, says=back, doubts=tuple(open_doubts), sure=sure)
