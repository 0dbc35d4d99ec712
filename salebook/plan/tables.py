"""The tables of a plan file, and which kind of record stands in each."""

from collections.abc import Mapping
from typing import NamedTuple

from salebook.plan.keys import Record, keys_of
from salebook.plan.model import Plan

SINGLE: Mapping[str, type[Record]] = {
    key.name: key.inside for key in keys_of(Plan) if key.inside and not key.many
}
"""Tables that a plan has once, as [sale]."""

LISTS: Mapping[str, type[Record]] = {key.name: key.inside for key in keys_of(Plan) if key.inside and key.many}
"""Tables that a plan may have many of, as [[wares]]."""


class Place(NamedTuple):
    """Where in a plan something stands: a table, the code or name of a record, a key; empty for all of it."""

    table: str
    record: str = ""
    key: str = ""


TABLES = {**SINGLE, **LISTS}
REQUIRED = tuple(key.name for key in keys_of(Plan) if key.inside and key.required)


def table_of(kind: type[Record]) -> str:
    """Return the name of the table that holds records of a kind."""
    return next(table for table, record in TABLES.items() if record is kind)


def bracketed(table: str) -> str:
    """Write a table's name as it heads its keys: [sale], [[wares]]."""
    return f"[[{table}]]" if table in LISTS else f"[{table}]"


def homes(key: str) -> tuple[str, ...]:
    """Return the tables, as they are headed, that know a key."""
    return tuple(bracketed(table) for table, kind in TABLES.items() if key in kind.keys())  # noqa: SIM118 (a record, not a dict)
