"""What people fill in at the event, as it was typed and understood; no reckoning."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, time
from decimal import Decimal
from typing import Literal, NamedTuple

from salebook.making.firing_done import FiringDone
from salebook.making.studio_tally import StudioCount
from salebook.plan.model import MetBy
from salebook.plan.money import ZERO

LineKind = Literal[
    "sale",
    "order",
    "deposit",
    "balance",
    "refund",
    "donation",
    "raffle",
    "refreshments",
    "postage",
    "other",
]
Grade = Literal["first", "second"]
Mishap = Literal["broken", "missing", "given away", "left over"]


class LineIdentity(NamedTuple):
    """What tells a line from others: the id of its book, its till or bundle, its number there."""

    book: str
    bundle: str
    number: int


LineRows = Mapping[LineIdentity, int]
"""The row of each line of takings on its sheet."""


@dataclass(frozen=True, kw_only=True)
class Line:
    """One line of takings; amounts are positive as typed, None where nothing was typed."""

    number: int
    till: str = "1"
    day: date | None = None
    """None: as the nearest earlier line that has one, else the sale's first day."""
    at: time | None = None
    kind: LineKind = "sale"
    piece: str = ""
    """A piece number, or a ware's code where its pieces have no numbers; upper case."""
    count: int | None = None
    amount: Decimal | None = None
    gift: Decimal | None = None
    way: str = ""
    with_above: bool = False
    waiting: bool = False
    """Promised, or taken offline: not yet arrived."""
    group: str = ""
    claim: str = ""
    agreed_price: Decimal | None = None
    """Of an order: the price of one piece on the day of the order, where the plan has changed since."""
    note: str = ""
    unread: tuple[tuple[str, str], ...] = ()
    """What was typed and cannot be understood, as it was typed, by the column's key; it counts as nothing."""
    book: str = ""
    """The id of the book in which it was typed; empty: that book has none."""
    bundle: int | None = None
    """Which of the bundles of a joined book it lies in, in the order of time; None: its till's number."""
    settled: tuple[str, ...] = ()
    """Keys of what nobody typed and salebook filled in, so that the line counts as it did before."""

    @property
    def filled_in(self) -> frozenset[str]:
        """Keys of all that salebook filled in; nobody but salebook writes a price agreed with an order."""
        return frozenset(self.settled) | ({"agreed_price"} if self.agreed_price is not None else set())

    @property
    def identity(self) -> LineIdentity:
        """What tells it from all others in its workbook."""
        return LineIdentity(self.book, self.till if self.bundle is None else str(self.bundle), self.number)

    @property
    def origin(self) -> LineIdentity:
        """Where it was typed: what it has in common with its copies in other workbooks."""
        return LineIdentity(self.book, self.till, self.number)


@dataclass(frozen=True, kw_only=True)
class PieceEntry:
    """What was filled in about one piece on Pieces."""

    grade: Grade | None = None
    mishap: Mishap | None = None
    reserved_for: str = ""
    """A claim number."""
    marked_on: date | None = None
    """From which day on it stands aside or is gone; None: not said."""
    agreed_price: Decimal | None = None
    """The price that was agreed with somebody, whatever the plan says now."""


@dataclass(frozen=True, kw_only=True)
class DayCount:
    """The cash box of one day and till: float, count by denomination, paid out, who counted."""

    day: date
    till: str = "1"
    float_: Decimal = ZERO
    counts: dict[Decimal, int] = field(default_factory=dict)
    paid_out: Decimal = ZERO
    counted_by: str = ""
    checked_by: str = ""

    @property
    def total(self) -> Decimal | None:
        """What was counted in all; None while nothing is counted."""
        return sum((worth * many for worth, many in self.counts.items()), ZERO) if self.counts else None


@dataclass(frozen=True, kw_only=True)
class TableCount:
    """The pieces of one ware counted on the table on one evening."""

    day: date
    code: str
    counted: int


@dataclass(frozen=True, kw_only=True)
class Banked:
    """Money paid in or settled: what was expected, what arrived."""

    day: date
    what: str
    """The way to pay that it came by; any other text counts for none."""
    expected: Decimal | None = None
    arrived: Decimal | None = None


@dataclass(frozen=True, kw_only=True)
class GroupPayment:
    """A payment made to a group."""

    day: date
    group: str
    amount: Decimal
    reference: str = ""


@dataclass(frozen=True, kw_only=True)
class UnplannedCost:
    """A cost that nobody planned: what it came to, and who pays."""

    name: str
    amount: Decimal
    met_by: MetBy = "maker"


@dataclass(frozen=True, kw_only=True)
class Claim:
    """A person on Hand over: the only place where names and contacts stand."""

    claim: str
    name: str = ""
    contact: str = ""
    what: str = ""
    how: str = ""
    """"collecting" or "posting"; empty: not said."""
    done: bool = False


@dataclass(frozen=True, kw_only=True)
class FromHere:
    """What was typed on Progress to look ahead; empty where nothing was."""

    over: Decimal | None = None
    """The share of the selling time that is past, from 0 to 1."""
    other: Decimal | None = None
    """Another price for what is left of the only ware; of several wares a share of the list prices."""


@dataclass(frozen=True, kw_only=True)
class Unplaced:
    """Something that was filled in for what the plan has no longer: on which sheet, and in words."""

    sheet: str
    says: str


@dataclass(frozen=True, kw_only=True)
class Entries:
    """Everything that was filled in during and after the event."""

    lines: tuple[Line, ...] = ()
    pieces: dict[str, PieceEntry] = field(default_factory=dict)
    """By piece number."""
    made: dict[str, int] = field(default_factory=dict)
    """Pieces out of the kiln, by ware code; absent: as planned."""
    studio: dict[str, StudioCount] = field(default_factory=dict)
    """What was counted in the studio, by ware code."""
    firings_done: tuple[FiringDone, ...] = ()
    """A line for each firing done."""
    studio_day: date | None = None
    """The day from which the sheet Making reckons if there is time; None: the day on which it was made."""
    cash: tuple[DayCount, ...] = ()
    table_counts: tuple[TableCount, ...] = ()
    banked: tuple[Banked, ...] = ()
    payments: tuple[GroupPayment, ...] = ()
    claims: tuple[Claim, ...] = ()
    actual_costs: dict[str, Decimal] = field(default_factory=dict)
    """By the cost line's key, "kind: name"."""
    unplanned: tuple[UnplannedCost, ...] = ()
    actual_fees: dict[str, Decimal] = field(default_factory=dict)
    """By way to pay."""
    bank_reasons: dict[str, str] = field(default_factory=dict)
    """Why more or less arrived in the bank than should, by way to pay."""
    from_here: FromHere = FromHere()
    unplaced: tuple["Unplaced", ...] = ()
    """What belongs to nothing in the plan any more."""
