"""One question of the dialogue, and what was said so far."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

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


def _always(_so_far: SoFar) -> bool:
    return True


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
class Question:
    """One question: its words, how it may be answered, and what is taken where nobody knows.

    `read` returns the value of an answer and raises UnfitError, saying what was expected; `words` are read
    again as the same value. `because` is the reason for what is assumed, as the plan's comment gives it.
    `in_words` is how a value is said back to a person, where not in its words; `doubts` are what is asked
    before one is taken, given the answer as it was said and its value.
    """

    key: str
    asks: Callable[[SoFar], str]
    such_as: Callable[[SoFar], str]
    read: Callable[[str, SoFar], Any]
    assumed: Callable[[SoFar], str]
    because: str
    words: Callable[[Any], str] = str
    offered: Callable[[SoFar], str] | None = None
    concerns: Callable[[SoFar], bool] = _always
    in_words: Callable[[Any, SoFar], str] | None = None
    doubts: Callable[[str, Any, SoFar], Sequence[Doubt]] = _no_doubts

    def answer(self, text: str, so_far: SoFar, *, known: bool = True) -> Answer:
        """Read an answer; raises UnfitError."""
        value = self.read(text, so_far)
        return Answer(value=value, words=self.words(value), known=known)

    def said_back(self, value: Any, so_far: SoFar) -> str:
        """Say a value back to a person."""
        return self.words(value) if self.in_words is None else self.in_words(value, so_far)
