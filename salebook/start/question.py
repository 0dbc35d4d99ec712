"""One question of the dialogue, and what was said so far."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from salebook.base.words import _
from salebook.start.locale_defaults import LocaleDefaults


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What was said: its value, and words that read as it; `known` is false where it is only assumed."""

    value: Any
    words: str
    known: bool = True


@dataclass(frozen=True, kw_only=True)
class SoFar:
    """What was said so far, by the key of its question."""

    defaults: LocaleDefaults
    answers: Mapping[str, Answer] = field(default_factory=dict)

    def __getitem__(self, key: str) -> Any:
        """Return the value of what was said to a question that was asked."""
        return self.answers[key].value

    def was_asked(self, key: str) -> bool:
        """Whether a question concerned the person and has its answer."""
        return key in self.answers

    @property
    def currency(self) -> str:
        """The currency in which the target was said; before that, the place's."""
        return self["target"].currency if self.was_asked("target") else self.defaults.currency


Said = str | Callable[[SoFar], str]
"""An English text, to be looked up when it is said and filled in with what was said before, or its maker."""


def say(text: Said, so_far: SoFar) -> str:
    """Return a text as it is said now."""
    if not isinstance(text, str):
        return text(so_far)
    return _(text).format_map({key: answer.value for key, answer in so_far.answers.items()})


def word(text: str) -> Callable[[SoFar], str]:
    """Return what says a text that is never translated, as an answer is read."""
    return lambda _so_far: text


@dataclass(frozen=True, kw_only=True)
class Doubt:
    """What is asked, yes or no, before an answer is taken.

    After a no the answer is put again, or, where `no` is given, its first text in the words turns its second.
    """

    asks: str
    no: tuple[str, str] | None = None


def _no_doubts(_said: str, _value: Any, _so_far: SoFar) -> Sequence[Doubt]:
    return ()


@dataclass(frozen=True, kw_only=True)
class Reader:
    """What an answer may be.

    `read` returns its value and raises UnfitError, saying what was expected; `words` are read again as the
    same value. `in_words` is how a value is said back to a person, where not in its words; `doubts` are what
    is asked before one is taken, given the answer as it was said and its value.
    """

    read: Callable[[str, SoFar], Any]
    words: Callable[[Any], str] = str
    in_words: Callable[[Any, SoFar], str] | None = None
    doubts: Callable[[str, Any, SoFar], Sequence[Doubt]] = _no_doubts


@dataclass(frozen=True, kw_only=True)
class Question:
    """One question: its words, how it may be answered, and what is taken where nobody knows.

    `because` is the reason for what is assumed, as the plan's comment gives it; Enter takes what is
    `offered`.
    """

    key: str
    reader: Reader
    asks: Said
    such_as: Said
    assumed: Said
    because: str
    offered: Said | None = None
    concerns: Callable[[SoFar], bool] = lambda _so_far: True

    def answer(self, text: str, so_far: SoFar, *, known: bool = True) -> Answer:
        """Read an answer; raises UnfitError."""
        value = self.reader.read(text, so_far)
        return Answer(value=value, words=self.reader.words(value), known=known)

    def answer_assumed(self, so_far: SoFar) -> Answer:
        """Return the answer that is taken where nobody knows."""
        return self.answer(say(self.assumed, so_far), so_far, known=False)

    def said_back(self, value: Any, so_far: SoFar) -> str:
        """Say a value back to a person."""
        in_words = self.reader.in_words
        return self.reader.words(value) if in_words is None else in_words(value, so_far)
