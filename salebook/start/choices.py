"""Answers in fixed words, names and numbers, and what else people say for them."""

import math
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any, Final

from salebook.base.errors import UnfitError
from salebook.base.words import _
from salebook.making.losses import started_for
from salebook.plan.fields import name
from salebook.plan.model import USUAL_LOSSES, Sale
from salebook.start.question import Doubt, Reader, SoFar
from salebook.start.spoken_numbers import number_in

AND: Final = re.compile(r"\band\b|[&+]", re.IGNORECASE)

AS_IT_TAKES: Final = "as many as it takes"
AS_FIT: Final = "as many as fit"
MOST_WANTED, MOST_SHELVES = 10_000, 1000

ME, TAKINGS, SPONSOR = "me", "the takings", "a sponsor"
PAYERS: Final[Mapping[str, tuple[str, ...]]] = {
    ME: ("i", "myself", "we", "us", "maker", "the maker", "i do", "we do", "i pay"),
    TAKINGS: ("takings", "sale", "the sale", "the groups", "groups", "from the takings"),
    SPONSOR: ("sponsor", "sponsors", "somebody else", "someone else", "given", "it is given"),
}

BUYERS: Final = 10
"""Of so many buyers it is asked how many pay by card."""

CASH, CARD = "cash only", "cash and card"
WAYS: Final[Mapping[str, tuple[str, ...]]] = {
    CASH: ("cash", "only cash", "no", "no card", "no cards"),
    CARD: ("card", "cards", "both", "yes", "card and cash", "cash and cards", "cash, card"),
}


def name_in(text: str) -> str:
    """Return a name, which is not empty; raises UnfitError."""
    if not text.strip():
        raise UnfitError(_("a name"))
    return name(text)


def one_of(text: str, choices: Mapping[str, tuple[str, ...]]) -> str:
    """Return the choice that a text says in its own or in other words; raises UnfitError."""
    said = text.strip().lower().rstrip(".")
    for choice, others in choices.items():
        if said == choice or said in others:
            return choice
    quoted = [f'"{choice}"' for choice in choices]
    says = _("{some} or {last}")
    raise UnfitError(says.format(some=", ".join(quoted[:-1]), last=quoted[-1]))


def has_kiln(so_far: SoFar) -> bool:
    """Whether the maker fires the pieces in a kiln of their own, as far as one knows."""
    return not so_far.was_asked("shelf") or bool(so_far["shelf"])


def without(word: str, read: Callable[[str], Any], words: Callable[[Any], str] = str) -> Reader:
    """Return a reader of what may be left open by a word of its own, and is None then."""
    return Reader(
        read=lambda text, _so_far: None if text.strip().lower() == word else read(text),
        words=lambda value: word if value is None else words(value),
    )


def _read_piece(text: str, _so_far: SoFar) -> str:
    if re.search(r"[,;]\s*\S", text):
        raise UnfitError(_("one kind of piece for now; the others can be added to the file later"))
    return name_in(text)


def _doubts_of_piece(_said: str, piece: str, _so_far: SoFar) -> Sequence[Doubt]:
    if not AND.search(piece):
        return ()
    says = _('Other kinds can be added to the file later. Is "{piece}" one piece, sold as one?')
    return (Doubt(asks=says.format(piece=piece)),)


def _number_in_words(wanted: int | None, _so_far: SoFar) -> str:
    """Say how many to start for as many as are wanted."""
    if wanted is None:
        return AS_IT_TAKES
    good = math.prod(1 - share for _stage, share in USUAL_LOSSES)
    started = started_for(wanted, float(good), float(Sale.model_fields["confidence"].default))
    says = _("{wanted} on the table: start {started}, since some break")
    return says.format(wanted=wanted, started=started)


NAME: Final = Reader(read=lambda text, _so_far: name_in(text))
PIECE: Final = Reader(read=_read_piece, doubts=_doubts_of_piece)
NUMBER: Final = replace(
    without(AS_IT_TAKES, lambda text: number_in(text, 1, MOST_WANTED)), in_words=_number_in_words
)
SHELVES: Final = without(AS_FIT, lambda text: number_in(text, 1, MOST_SHELVES))
PAYER: Final = Reader(read=lambda text, _so_far: one_of(text, PAYERS))
WAY: Final = Reader(read=lambda text, _so_far: one_of(text, WAYS))
OF_TEN: Final = Reader(read=lambda text, _so_far: number_in(text, 0, BUYERS))
