"""A plan's text with some values changed, its comments and all else left as they were typed."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from salebook.plan.quantities import plain

ONLY = -1
"""The position of the record of a table that a plan has once."""


@dataclass(frozen=True, order=True)
class Spot:
    """Where a value stands: a key of one of many records, counted from 0, or of the only one, at ONLY."""

    table: str
    at: int
    key: str


def with_changes(text: str, changes: Mapping[Spot, object]) -> str:
    """Return a plan's text with the values put at their spots; None takes a key away, with its comment.

    A table, or a record at the end of its table, that is not there yet is made.
    """
    document = tomlkit.parse(text)
    for spot, value in sorted(changes.items(), key=lambda change: change[0]):
        _put(document, spot, value)
    return tomlkit.dumps(document)


def without_records(text: str, records: Mapping[str, set[int]]) -> str:
    """Return a plan's text without some records of tables that have many, by their positions."""
    document = tomlkit.parse(text)
    for table, positions in records.items():
        for at in sorted(positions, reverse=True):
            del document[table][at]
        if not len(document[table]):
            del document[table]
    return tomlkit.dumps(document)


def toml_value(text: str) -> object:
    """Return what a text says as the value of a key, such as "[[16, 0.9]]"; raises ValueError."""
    try:
        return tomlkit.value(text.strip())
    except TOMLKitError as trouble:
        raise ValueError(str(trouble)) from trouble


def _put(document: tomlkit.TOMLDocument, spot: Spot, value: object) -> None:
    record = _record(document, spot)
    if value is None:
        record.pop(spot.key, None)
    else:
        record[spot.key] = tomlkit.value(plain(value)) if isinstance(value, Decimal) else value


def _record(document: tomlkit.TOMLDocument, spot: Spot) -> Any:
    table: Any = document.setdefault(spot.table, tomlkit.aot() if spot.at >= 0 else tomlkit.table())
    if spot.at < 0:
        return table
    if spot.at == len(table):
        table.append(tomlkit.table())
    return table[spot.at]
