"""Columns by which formulas find a name whatever spaces were typed: the name without them, and its place."""

from collections.abc import Callable, Sequence
from typing import TypeVar

from salebook.base.words import _
from salebook.book.table import Table
from salebook.event.lines import trimmed

Row = TypeVar("Row")


def add_lookup(
    table: Table[Row], noun: str, names: Sequence[str], name_of: Callable[[Row], str], *, column: int
) -> Table[Row]:
    """Let the names `names` of a table be looked up, by columns right of what is printed."""
    places = {name: place for place, name in enumerate(names, start=1)}
    table.helpers()
    table.skip_to(column)
    table.live(
        *("=trimmed", _("Name without spare spaces"), "text", "TRIM([name])"),
        lambda row: trimmed(name_of(row)),
        name=f"{noun}_trimmed",
    )
    table.live(
        *("=place", _("Place"), "whole", "ROWS([name^])"),
        lambda row: places[name_of(row)],
        name=f"{noun}_places",
    )
    return table


def found(noun: str, typed: str) -> str:
    """Return the formula of the place at which a name stands that was typed; 0: no such name.

    MATCH would do, but for names that hold a * or a ?.
    """
    return f"SUMPRODUCT(({noun}_trimmed={typed})*{noun}_places)"
