"""Columns by which formulas find a name whatever spaces were typed: the name without them, and its place."""

from collections.abc import Callable, Sequence
from typing import TypeVar

from salebook.base.words import _
from salebook.book.table import Table
from salebook.event.lines import trimmed
from salebook.plan.model import Payment

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


def add_way_lookup(
    table: Table[Row], ways: Sequence[Payment], way_of: Callable[[Row], Payment], *, column: int
) -> Table[Row]:
    """Let ways to pay be looked up by name, and where their money goes straight to."""
    names = [way.name for way in ways]
    add_lookup(table, "way", names, lambda row: way_of(row).name, column=column)
    # What is looked up must be a text: an empty cell would come as 0.
    table.live(
        *("=straight", _("Straight to, as text"), "text", '[paid_to]&""'),
        lambda row: way_of(row).paid_to or "",
        name="way_straight",
    )
    return table


def found(noun: str, typed: str) -> str:
    """Return the formula of the place at which a name stands that was typed; 0: no such name.

    MATCH would do, but for names that hold a * or a ?.
    """
    return f"SUMPRODUCT(({noun}_trimmed={typed})*{noun}_places)"


def standing_at(place: str, noun: str, column: str) -> str:
    """Return the formula of what a column says at a place that there is.

    INDEX would do, but some programs give an error where the column has a single row.
    """
    return f"LOOKUP({place},{noun}_places,{noun}_{column})"
