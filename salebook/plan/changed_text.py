"""A plan's text with some values changed, its comments and all else left as they were typed."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

import tomlkit
import tomlkit.items
from tomlkit.exceptions import TOMLKitError

from salebook.plan.quantities import plain

ONLY = -1
"""The position of the record of a table that a plan has once."""


@dataclass(frozen=True)
class Spot:
    """Where a value stands: a key of one of many records, counted from 0, or of the only one, at ONLY."""

    table: str
    at: int
    key: str


def with_changes(text: str, changes: Mapping[Spot, object]) -> str:
    """Return a plan's text with the values put at their spots; None takes a key away, with its comment.

    They are put in their order: a record at the end of its table that is not there yet is made, and a table.
    """
    document = tomlkit.parse(text)
    for spot, value in changes.items():
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
    if value is not None:
        record[spot.key] = _as_typed(value)
        return
    record.pop(spot.key, None)
    if spot.at == ONLY and not record:
        del document[spot.table]


def _as_typed(value: object) -> object:
    """Return a value whose numbers keep the digits that they were typed with."""
    match value:
        case Decimal():
            return tomlkit.value(plain(value))
        case list() if not isinstance(value, tomlkit.items.Array):
            return [_as_typed(one) for one in value]
    return value


def _record(document: tomlkit.TOMLDocument, spot: Spot) -> Any:
    table: Any = document.setdefault(spot.table, tomlkit.table() if spot.at == ONLY else tomlkit.aot())
    if spot.at == ONLY:
        return table
    if spot.at == len(table):
        table.append(tomlkit.table())
    return table[spot.at]
