"""One question of the dialogue, and what was said so far."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from salebook.start.home import Home


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What was said, tidied such that it reads the same again; `known` is false where it is only assumed."""

    text: str
    known: bool = True


@dataclass(frozen=True, kw_only=True)
class SoFar:
    """What was said so far, by the key of its question."""

    home: Home
    answers: Mapping[str, Answer] = field(default_factory=dict)

    def __getitem__(self, key: str) -> str:
        """Return what was said to a question that was asked."""
        return self.answers[key].text

    def was_asked(self, key: str) -> bool:
        """Whether a question concerned the person and has its answer."""
        return key in self.answers

    @property
    def currency(self) -> str:
        """The currency in which the target was said; before that, the place's."""
        return self["target"].split()[0] if self.was_asked("target") else self.home.currency


def _always(_so_far: SoFar) -> bool:
    return True


def _as_it_is(text: str, _so_far: SoFar) -> str:
    return text


@dataclass(frozen=True, kw_only=True)
class Doubt:
    """What is asked, yes or no, before an answer is taken.

    After a no the answer is put again, or, where `no` is given, its first text in it becomes the second.
    """

    asks: str
    no: tuple[str, str] | None = None


def _no_doubts(_said: str, _text: str, _so_far: SoFar) -> Sequence[Doubt]:
    return ()


@dataclass(frozen=True, kw_only=True)
class Question:
    """One question: its words, how it may be answered, and what is taken where nobody knows.

    `read` tidies an answer and raises UnfitError, saying what was expected; what it returns it reads again as
    the same. `because` is the reason for what is assumed, as the plan's comment gives it. `in_words` is how a
    tidied answer is said back to a person; `doubts` are what is asked before one is taken: they are given the
    answer as it was said and as it was tidied.
    """

    key: str
    asks: Callable[[SoFar], str]
    such_as: Callable[[SoFar], str]
    read: Callable[[str, SoFar], str]
    assumed: Callable[[SoFar], str]
    because: str
    offered: Callable[[SoFar], str] | None = None
    concerns: Callable[[SoFar], bool] = _always
    in_words: Callable[[str, SoFar], str] = _as_it_is
    doubts: Callable[[str, str, SoFar], Sequence[Doubt]] = _no_doubts
