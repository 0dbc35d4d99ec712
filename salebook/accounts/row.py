"""A row of the list of lines: sixteen texts, as they stand in the file."""

from dataclasses import astuple, dataclass, fields
from typing import Final, Literal

Part = Literal["sale", "currency", "line", "fee", "cost", "giver", "share", "paid"]
Status = Literal["final", "not final", "interim"]
Arrived = Literal["yes", "no", "straight"]
"""Whether a line's money came in, is promised, or went straight to a group."""


@dataclass(frozen=True, kw_only=True)
class Row:
    """One row; money is signed, and negative where it leaves the takings, but for what groups were paid."""

    part: str
    till: str = ""
    line: str = ""
    """The number of a line of takings; a group's place in the plan."""
    day: str = ""
    kind: str = ""
    """Of a line what it is about, of a cost its kind; the currency; whether the accounts are final."""
    piece: str = ""
    what: str = ""
    count: str = ""
    list_price: str = ""
    amount: str = ""
    """Gift left out."""
    gift: str = ""
    way: str = ""
    group: str = ""
    to_group: str = ""
    """What goes to the group by name."""
    parts: str = ""
    """Of what is shared; the smallest coins or units in one unit of the currency."""
    arrived: str = ""

    @property
    def texts(self) -> tuple[str, ...]:
        """Return the texts in the order of the heading."""
        return astuple(self)


def said(key: str) -> str:
    """Return a key as the heading writes it."""
    return key.replace("_", " ")


KEYS: Final = tuple(field.name for field in fields(Row))
HEADING: Final = tuple(map(said, KEYS))
"""The same in every language: the file is a format, not prose."""

MONEY: Final = frozenset({"list_price", "amount", "gift", "to_group"})
WHOLE: Final = frozenset({"line", "count", "parts"})
