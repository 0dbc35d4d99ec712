"""Stubs torn off at the sale, pile by pile: the lines that follow from them, and what must be asked."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from typing import Final

from salebook.base.words import _, chained
from salebook.event.entries import Line
from salebook.event.event import Event
from salebook.event.lines import bundle_of, fold_case
from salebook.event.question import Question, without_names
from salebook.event.register import Piece
from salebook.plan.model import Plan
from salebook.plan.money import ZERO

OTHER: Final = "other"
"""The pile of what was sold at another price or with a gift."""

LIKE_A_STUB: Final = re.compile(r"[A-Z][A-Z0-9]{0,5}(-[0-9]{3,9})?")
"""What the code on a stub of any sale says: a ware's code, and mostly a number."""

TO_FILL_IN: Final = "?"
"""Stands in place of an amount that nobody knows yet, so that the sheet asks for it and counts nothing."""


class SaleCodes:
    """What the stubs of a sale can say: the numbers of its pieces, and the codes of wares without numbers."""

    def __init__(self, register: Iterable[Piece]) -> None:
        pieces = tuple(register)
        self.unnumbered = frozenset(piece.number for piece in pieces if not piece.index)
        self._codes = frozenset(piece.source.stem for piece in pieces)
        self._order = {piece.number: place for place, piece in enumerate(pieces)}

    def is_of_the_sale(self, text: str) -> bool:
        """Whether a code is one of the sale's, also a number that its register does not have."""
        is_like = LIKE_A_STUB.fullmatch(text) is not None
        return (is_like and text.rpartition("-")[0] in self._codes) or text in self.unnumbered

    def is_of_another(self, text: str) -> bool:
        """Whether a code may be that of another sale's stub."""
        return LIKE_A_STUB.fullmatch(text) is not None and not self.is_of_the_sale(text)

    def order(self, number: str) -> tuple[int, str]:
        """Return a number's place in the register, the unknown last."""
        return self._order.get(number, len(self._order)), number


@dataclass(frozen=True, kw_only=True)
class SeenPhoto:
    """A photograph of a pile, and what each code on it says."""

    name: str
    texts: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Pile:
    """The stubs of one spike, on photographs that may show some of them twice.

    `way` is the way to pay, empty in the pile of other sales; `counted` is how many stubs somebody counted.
    """

    name: str
    way: str
    photos: tuple[SeenPhoto, ...]
    codes: SaleCodes
    counted: int | None = None

    @cached_property
    def stubs(self) -> tuple[str, ...]:
        """The numbers of its stubs, in the register's order.

        One that is seen on several photographs is one stub; of a ware without numbers there are as many as on
        the photograph that shows most.
        """
        most: Counter[str] = Counter()
        for photo in self.photos:
            texts = Counter(text for text in photo.texts if self.codes.is_of_the_sale(text))
            most |= Counter({text: n if text in self.codes.unnumbered else 1 for text, n in texts.items()})
        return tuple(sorted(most.elements(), key=self.codes.order))

    @property
    def falls_short(self) -> bool:
        """Whether stubs are missing, as far as is known."""
        return not self.stubs or len(self.stubs) < (self.counted or 0)

    @property
    def of_no_stub(self) -> int:
        """How many codes cannot be those of stubs, such as an address on a leaflet."""
        return sum(LIKE_A_STUB.fullmatch(text) is None for photo in self.photos for text in photo.texts)


@dataclass(frozen=True, kw_only=True)
class StubLine:
    """A line of takings made from a stub, and the piles in which that was seen: one, but for a mistake."""

    line: Line
    piles: tuple[Pile, ...]


def way_of_pile(name: str, plan: Plan) -> str | None:
    """Return the way to pay that a pile is named after, empty for other sales; None: it is neither."""
    ways = {fold_case(way.name): way.name for way in reversed(plan.payments)}
    return ways.get(fold_case(name), "" if fold_case(name) == OTHER else None)


def lines_from(
    piles: Sequence[Pile], lines: Iterable[Line], *, day: date, empty: Line
) -> tuple[StubLine, ...]:
    """Return a line for each stub, numbered after the last one; `empty` is a line that is still free."""
    bundle = bundle_of(empty)
    last = max((line.number for line in lines if bundle_of(line) == bundle), default=0)
    return tuple(
        StubLine(line=_line(replace(empty, number=number, day=day, piece=piece), seen_in), piles=seen_in)
        for number, (piece, seen_in) in enumerate(_stubs_of(piles), start=last + 1)
    )


def _stubs_of(piles: Sequence[Pile]) -> Iterator[tuple[str, tuple[Pile, ...]]]:
    """Yield each stub's number, and the piles in which it was seen."""
    done: set[str] = set()
    for pile in piles:
        for number in pile.stubs:
            if number in pile.codes.unnumbered:
                yield number, (pile,)
            elif number not in done:
                done.add(number)
                yield number, tuple(each for each in piles if number in each.stubs)


def _line(line: Line, piles: Sequence[Pile]) -> Line:
    if len(piles) == 1:
        line = replace(line, way=piles[0].way)
    else:
        line = replace(line, note=_("stub in {piles}").format(piles=_named(piles)))
    if _is_to_fill_in(piles):
        note = line.note or _("stub: another price, or a gift?")
        line = replace(line, amount=ZERO, unread=(("amount", TO_FILL_IN),), note=note)
    return line


def _is_to_fill_in(piles: Iterable[Pile]) -> bool:
    """Whether a stub in these piles may be a sale at another price or with a gift."""
    return any(not pile.way for pile in piles)


def _named(piles: Iterable[Pile]) -> str:
    return chained(_("{first} and {last}"), (pile.name for pile in piles))


def questions_on_stubs(
    piles: Iterable[Pile], event: Event, lines: Sequence[StubLine]
) -> tuple[Question, ...]:
    """Return what needs a person: stubs that are missing, foreign or there twice, lines that are odd."""
    return (
        *(Question(sheet=pile.name, row=0, says=says) for pile in piles for says in _on_pile(pile)),
        *_on_lines(event, lines),
    )


def _on_pile(pile: Pile) -> Iterator[str]:
    yield from _on_count(pile)
    yield from _on_foreign(pile)
    yield from _on_twice(pile)
    yield from _on_unnumbered(pile)


def _on_count(pile: Pile) -> Iterator[str]:
    read = len(pile.stubs)
    if pile.counted is None:
        if not read:
            yield _("no stub was read")
    elif read < pile.counted:
        says = _("{read} of {counted} stubs were read: a missing one has no outline on the pictures")
        yield says.format(read=read, counted=pile.counted)
    elif read > pile.counted:
        says = _("{read} stubs were read where {counted} were counted: count again")
        yield says.format(read=read, counted=pile.counted)


def _on_foreign(pile: Pile) -> Iterator[str]:
    texts = {text for photo in pile.photos for text in photo.texts if pile.codes.is_of_another(text)}
    if texts:
        says = _("no line was made for codes that are of no piece of this sale: {numbers}")
        yield says.format(numbers=", ".join(sorted(texts)))


def _on_twice(pile: Pile) -> Iterator[str]:
    for photo in pile.photos:
        for text, count in sorted(Counter(photo.texts).items()):
            if count > 1 and pile.codes.is_of_the_sale(text) and text not in pile.codes.unnumbered:
                says = _(
                    "{number} is {count} times on {photo}: are these whole tags, or two stubs with the same "
                    "number?"
                )
                yield says.format(number=text, count=count, photo=photo.name)


def _on_unnumbered(pile: Pile) -> Iterator[str]:
    on_photos = Counter(text for photo in pile.photos for text in set(photo.texts))
    numbers = Counter(pile.stubs)
    for code in sorted(pile.codes.unnumbered):
        if on_photos[code] > 1:
            says = _(
                "{code} has no numbers and is on {photos} photographs: {count} counted, the most on one; "
                "photograph its stubs together"
            )
            yield says.format(code=code, photos=on_photos[code], count=numbers[code])


def _on_lines(event: Event, lines: Sequence[StubLine]) -> Iterator[Question]:
    posted = {counted.line.identity: counted for counted in event.state.lines}
    for made in lines:
        counted = posted[made.line.identity]
        odd = counted.about_piece or (None if _is_to_fill_in(made.piles) else counted.remark)
        if counted.remark:
            fill_in = _("fill in its price or gift, and how it was paid")
            says = _("line {line}, {number} in {pile}: {remark}").format(
                line=made.line.number,
                number=made.line.piece,
                pile=_named(made.piles),
                remark=without_names(counted, odd, event) if odd else fill_in,
            )
            yield Question(sheet=_("Takings"), row=0, says=says)


def without_lines(event: Event, lines: Iterable[StubLine]) -> Event:
    """Return the event without some lines, as far as its own lines are asked about."""
    made = {each.line.identity for each in lines}
    left = tuple(counted for counted in event.state.lines if counted.line.identity not in made)
    return replace(event, state=replace(event.state, lines=left))
