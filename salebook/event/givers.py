"""What the pieces that others gave have raised."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.event.pieces import PieceState
from salebook.plan.model import Donated, Plan
from salebook.plan.money import ZERO


@dataclass(frozen=True, kw_only=True)
class GivenPieces:
    """All pieces of one kind that somebody gave."""

    given: Donated
    sold: int
    paid: Decimal
    """What was paid for them, gifts on top left out; deposits too."""
    shared: Decimal
    """The same for those that are sold: what the giver's part is taken of."""
    to_giver: Decimal

    @property
    def raised(self) -> Decimal:
        """What they brought, the giver's part taken off."""
        return self.paid - self.to_giver


@dataclass(frozen=True, kw_only=True)
class Giver:
    """One person who gave pieces."""

    name: str
    pieces: tuple[GivenPieces, ...]

    @property
    def raised(self) -> Decimal:
        """What all of them brought, the giver's part taken off."""
        return sum((given.raised for given in self.pieces), ZERO)

    @property
    def to_giver(self) -> Decimal:
        """What goes back to the giver."""
        return sum((given.to_giver for given in self.pieces), ZERO)


def givers_of(plan: Plan, pieces: Sequence[PieceState]) -> tuple[Giver, ...]:
    """Return everyone who gave pieces, in plan order, each once."""
    names = dict.fromkeys(given.maker for given in plan.donated)
    return tuple(Giver(name=name, pieces=tuple(_given_by(name, plan, pieces))) for name in names)


def _given_by(name: str, plan: Plan, pieces: Sequence[PieceState]) -> Iterator[GivenPieces]:
    for given in plan.donated:
        if given.maker == name:
            own = [piece for piece in pieces if piece.piece.code == given.code]
            yield GivenPieces(
                given=given,
                sold=sum(piece.sold for piece in own),
                paid=sum((piece.paid for piece in own), ZERO),
                shared=sum((piece.paid for piece in own if piece.sold), ZERO),
                to_giver=sum((piece.to_giver for piece in own), ZERO),
            )
