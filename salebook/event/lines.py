"""Each line of takings as it reads by itself, set against the register and the plan's words."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from enum import StrEnum
from functools import cached_property, lru_cache
from typing import Any, Final, Self

from salebook.event.entries import Line, LineKind
from salebook.event.register import Piece
from salebook.plan.model import Plan
from salebook.plan.money import ZERO, rounded
from salebook.plan.piece_numbers import parts_of

MOST_LINES: Final = 1_000_000
"""More lines than any till has: what keeps several bundles apart in one order."""

OF_A_PIECE: Final[frozenset[LineKind]] = frozenset({"sale", "deposit", "balance", "refund"})
"""Kinds of line that need a piece."""
PAYING: Final[frozenset[LineKind]] = OF_A_PIECE - {"refund"}
"""Those that bring money for it."""

NEVER_IN_A_NUMBER: Final = str.maketrans("*?~", "___")
"""Signs with a meaning of their own where a spreadsheet looks something up."""


BETWEEN: Final = " -./–"
"""Signs that may stand between a piece's code and its number, or be left out."""
LIKE_DIGITS: Final = ("OIL", "011")
"""Letters that are typed for digits, and the digits."""


class Asks(StrEnum):
    """What a line leaves to be worked out because no amount is typed."""

    NOTHING = ""
    LIST_PRICE = "list price"
    """A sale of one numbered piece."""
    BALANCE = "what is left"
    """What is left to pay on a piece."""
    # Amounts are typed positive; a refund counts negative.
    REFUND = "all paid"
    """All that was paid on a piece, given back."""
    COUNTED = "count"
    """Sale or refund of a ware that is not numbered: list price times count."""


@dataclass(frozen=True, kw_only=True)
class ResolvedLine:
    """A line as it reads by itself; what other lines do to it is not looked at yet, but for the day."""

    line: Line
    kind: LineKind
    order: int
    """Bundle and number as one number: which line is the earlier one."""
    days_before: int
    """How many lines of the bundle, up to this one, have a day typed."""
    day: date
    typed_piece: str
    """The piece as typed, in capitals, spaces taken off."""
    found: int
    """The row in the register of what is typed so, from 1; 0: none."""
    ware: int
    """Which of the wares and donated pieces has that code, from 1; 0: none, or it is in the register."""
    alike: int
    """How many numbered pieces may be typed so, more loosely, such as "jug 3" for JUG-003."""
    loose: int
    """The row of the only piece that may be typed so; 0: none."""
    piece_number: str
    """The number of the piece that is meant; else as typed."""
    index: int
    """The piece's row in the register, from 1; 0: none."""
    numbered: bool
    """Whether that row is one numbered piece."""
    count: int
    """How many pieces the line moves; 0 where it moves none."""
    name: str
    own_way: int
    """Its order where it has its own way to pay; 0 where it goes with the line above and has none."""
    way_from: int
    """The order of the nearest line, up to this one, with its own way to pay; 0: none."""
    typed_way: str
    """The way to pay as typed; of a line that goes with the one above and has none, that one's."""
    agreed: Decimal
    """The price for one piece that was agreed with an order; 0: none."""
    list_price: Decimal | None
    """For all pieces of the line; None where it has none."""
    way: str
    """The only one where there is one and none was typed; empty where none is known."""
    way_row: int
    """Which of the plan's it is, from 1; 0: none."""
    group: str
    """The group that the named part goes to; empty: none."""
    typed: Decimal
    """The amount typed, signed: a refund is negative; 0 where none is typed."""
    gift: Decimal
    asks: Asks

    @classmethod
    def of(cls, line: "ResolvedLine", **more: Any) -> Self:
        """Return a line of this later stage: all that the earlier one says, and what is new."""
        # A dataclass sets its fields one by one, which for these takes longer than working them out.
        later = object.__new__(cls)
        vars(later).update(vars(line), **more)
        return later

    @property
    def is_paying(self) -> bool:
        """Whether it is money for a piece that there is."""
        return self.index > 0 and self.kind in PAYING

    @property
    def unsigned(self) -> str:
        """What is typed as the piece, without signs between, where it is no number or code as it stands."""
        return "" if self.found or self.ware else without_signs(self.typed_piece)

    @property
    def bare(self) -> str:
        """The same with letters that look like digits as digits."""
        return bare(self.unsigned)

    @property
    def signed(self) -> int:
        """-1 for a refund, else 1."""
        return -1 if self.kind == "refund" else 1


@lru_cache
def till_number(till: str) -> int:
    """Return a till as a number; 0 where it is called otherwise."""
    return int(till) if till.isascii() and till.isdigit() else 0


def bundle_of(line: Line) -> int:
    """Return the bundle in which a line lies: those of a till, but in a book that was put together."""
    return till_number(line.till) if line.bundle is None else line.bundle


def in_bundle(line: Line, bundle: int) -> Line:
    """Return a line as it lies in a bundle."""
    return replace(line, bundle=None if bundle == till_number(line.till) else bundle)


def order_of(line: Line) -> int:
    """Return a line's place among all lines: by bundle, then by number."""
    return bundle_of(line) * MOST_LINES + line.number


def is_blank(line: Line) -> bool:
    """Whether a line has nothing in it but its number."""
    return not (line.day or line.at or line.note.strip() or line.unread or has_entries(line))


def has_entries(line: Line) -> bool:
    """Whether a line says more than a day, a time or a note."""
    texts = (line.piece, line.way, line.group, line.claim)
    numbers = (line.amount, line.gift, line.count)
    return (
        any(text.strip() for text in texts)
        or any(value is not None for value in numbers)
        or line.kind != "sale"
        or line.with_above
        or line.waiting
        or any(key not in {"day", "time"} for key, _typed in line.unread)
    )


def kind_label(line: Line) -> str:
    """Return a line's kind as the sheet takes it: "?" where none of the kinds was typed."""
    return "?" if "kind" in dict(line.unread) else line.kind


def agreed_for_one(line: Line, digits: int) -> Decimal:
    """Return the price for one piece that was agreed with an order; 0: none."""
    price = line.agreed_price if line.kind == "order" else None
    return rounded(price, digits) if price and price > 0 else ZERO


def without_signs(text: str) -> str:
    """Return a piece's number or code without signs between."""
    return text.translate(str.maketrans("", "", BETWEEN))


def bare(text: str) -> str:
    """Return a piece's number or code without signs between, letters that look like digits as digits."""
    return text.translate(str.maketrans(*LIKE_DIGITS, BETWEEN))


def bare_forms(number: str) -> tuple[str, ...]:
    """Return how a piece's number may be typed, bare of signs, each once; none for a code alone."""
    if "-" not in number:
        return ()
    code, index = parts_of(number)
    return tuple(dict.fromkeys(bare(code) + typed for typed in (f"{index}", f"{index:02}", f"{index:03}")))


def trimmed(text: str) -> str:
    """Return a text without the spaces at its ends and with single ones within."""
    return " ".join(filter(None, text.split(" ")))


def fold_case(text: str) -> str:
    """Return a text in small letters and without spare spaces, as names and claim numbers are compared."""
    return trimmed(text).lower()


def resolved_lines(
    plan: Plan, register: Sequence[Piece], prices: Sequence[Decimal], lines: Iterable[Line]
) -> tuple[ResolvedLine, ...]:
    """Return the lines that have anything in them, by bundle and number.

    `prices` are the list prices of the register's pieces, in its order.
    """
    used = sorted((line for line in lines if not is_blank(line)), key=order_of)
    reader = _Reader(plan, register, prices, used)
    return tuple(reader.resolved(line) for line in used)


class _Reader:
    def __init__(
        self, plan: Plan, register: Sequence[Piece], prices: Sequence[Decimal], lines: Sequence[Line]
    ) -> None:
        self._register = register
        self._prices = prices
        self._rows = {piece.number: row for row, piece in enumerate(register, start=1)}
        self._goods = {good.code: good for good in plan.goods}
        self._codes = {code: row for row, code in enumerate(self._goods, start=1)}
        self._ways = _by_folded_case(way.name for way in plan.payments)
        self._way_rows = {way.name: row for row, way in enumerate(plan.payments, start=1)}
        self._only_way = plan.payments[0].name if len(plan.payments) == 1 else ""
        self._groups = _by_folded_case(group.name for group in plan.beneficiaries)
        self._days = days_of(lines, plan.sale.days[0])
        self._typed_ways = _ways(lines)
        self._digits = plan.sale.digits

    def resolved(self, line: Line) -> ResolvedLine:
        order, kind = order_of(line), line.kind
        typed = trimmed(line.piece).upper().translate(NEVER_IN_A_NUMBER)
        row = self._rows.get(typed, 0)
        alike = () if row or typed in self._goods or not typed else self._by_bare.get(bare(typed), ())
        loose = alike[0] if len(alike) == 1 else 0
        meant = self._register[loose - 1].number if loose else typed
        index = (row or loose) if kind in OF_A_PIECE or kind == "order" else 0
        piece = self._register[index - 1] if index else None
        good = self._goods.get(meant) if kind == "order" else None
        source = piece.source if piece else good
        numbered = piece is not None and piece.index > 0
        count, agreed = _count(line, numbered=numbered, known=index > 0), agreed_for_one(line, self._digits)
        price = self._prices[index - 1] if index else good.price if good else None
        price = agreed if agreed and not numbered else price
        days_before, day = self._days[order]
        way_from, typed_way = self._typed_ways[order]
        way = self._ways.get(fold_case(typed_way), "") if typed_way else self._only_way
        amount = self._money(line.amount)
        return ResolvedLine(
            line=line,
            kind=kind,
            order=order,
            days_before=days_before,
            day=day,
            typed_piece=typed,
            found=row,
            ware=0 if row else self._codes.get(typed, 0),
            alike=len(alike),
            loose=loose,
            piece_number=meant,
            index=index,
            numbered=numbered,
            count=count,
            name=source.name if source else "",
            list_price=None if price is None else price * count,
            own_way=order if way_from == order else 0,
            way_from=way_from,
            typed_way=typed_way,
            agreed=agreed,
            way=way,
            way_row=self._way_rows.get(way, 0),
            group=self._groups.get(fold_case(line.group), ""),
            typed=-amount if kind == "refund" else amount,
            gift=self._money(line.gift),
            asks=_asks(line, known=index > 0, numbered=numbered),
        )

    @cached_property
    def _by_bare(self) -> Mapping[str, Sequence[int]]:
        rows: dict[str, list[int]] = defaultdict(list)
        for row, piece in enumerate(self._register, start=1):
            for form in bare_forms(piece.number):
                rows[form].append(row)
        return rows

    def _money(self, amount: Decimal | None) -> Decimal:
        return ZERO if amount is None or amount < 0 else rounded(amount, self._digits)


def _by_folded_case(names: Iterable[str]) -> Mapping[str, str]:
    found: dict[str, str] = {}
    for name in names:
        found.setdefault(fold_case(name), name)
    return found


def days_of(lines: Iterable[Line], first_day: date) -> Mapping[int, tuple[int, date]]:
    """Carry the day down each bundle: by a line's order, how many days were typed and the last one.

    Expects the lines by bundle and number.
    """
    carried: dict[int, tuple[int, date]] = {}
    days: dict[int, tuple[int, date]] = {}
    for line in lines:
        bundle = bundle_of(line)
        typed, day = carried.get(bundle, (0, first_day))
        carried[bundle] = (typed + 1, line.day) if line.day else (typed, day)
        days[order_of(line)] = carried[bundle]
    return days


def _ways(lines: Sequence[Line]) -> Mapping[int, tuple[int, str]]:
    """Carry the way to pay down each bundle's lines that go with the one above and have none of their own.

    Returns for each line, by its order, the order of the nearest line with its own way, and that way.
    """
    ways: dict[int, tuple[int, str]] = {}
    nearest_bundle, nearest, way = 0, 0, ""
    for line in lines:
        bundle, order, own = bundle_of(line), order_of(line), trimmed(line.way)
        if own or not line.with_above:
            nearest_bundle, nearest, way = bundle, order, own
        ways[order] = nearest, way if bundle == nearest_bundle else ""
    return ways


def _count(line: Line, *, numbered: bool, known: bool) -> int:
    if numbered:
        return 1
    if not known and line.kind != "order":
        return 0
    return 1 if line.count is None else max(0, line.count)


def _asks(line: Line, *, known: bool, numbered: bool) -> Asks:
    if line.amount is not None or not known:
        return Asks.NOTHING
    if not numbered:
        return Asks.COUNTED if line.kind in {"sale", "refund"} else Asks.NOTHING
    asks = {"sale": Asks.LIST_PRICE, "balance": Asks.BALANCE, "refund": Asks.REFUND}
    return asks.get(line.kind, Asks.NOTHING)
