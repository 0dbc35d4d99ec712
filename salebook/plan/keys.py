"""A key of the plan, described once: its words, its kind, and what stands where it is left out."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from functools import cache
from typing import Any, dataclass_transform, get_args, get_origin

from pydantic import BaseModel, ConfigDict, Field, model_validator


class Kind(Enum):
    """What a value is, and so how a sheet shows it, offers it and reads it."""

    TEXT = "a text, in several lines where it is long"
    WORD = "a text in one line"
    CLAY = "the name of one of the clays"
    YES_NO = "yes or no"
    WHOLE = "a whole number"
    NUMBER = "a number, with the digits that were typed"
    SHARE = "a share in whole per cent"
    FINE_SHARE = "a share in tenths of a per cent"
    MONEY = "an amount of money"
    RATE = "money for one of something small, with more digits than coins have"
    DAY = "a day"
    CLOCK = "a time of day"
    MASS = "a mass with its unit"
    LENGTH = "a length with its unit"
    TEMPERATURE = "a temperature with its unit"
    CODES = "codes of wares"
    PIECES = "numbers of pieces, and stretches of them"
    COINS = "coins and notes"


@dataclass(frozen=True, kw_only=True)
class Words:
    """What a person is told of a key, in English: to be looked up when it is shown."""

    label: str
    says: str
    usual: str
    note: str
    unit: str


@dataclass(frozen=True, kw_only=True)
class Key:
    """A key of a record: `name` in the plan file, `attribute` in the record."""

    name: str
    attribute: str
    kind: Kind
    words: Words
    choices: tuple[str, ...]
    inside: "type[Record] | None"
    """The record that stands there, or the records where there are many."""
    many: bool
    required: bool
    default: object

    @property
    def apart(self) -> bool:
        """Whether a sheet shows it in a table of its own: many records, or a record of records."""
        return self.many or (self.inside is not None and any(key.inside for key in keys_of(self.inside)))


def key(
    label: str,
    says: str = "",
    *,
    default: Any = ...,
    alias: str | None = None,
    usual: str = "",
    note: str = "",
    unit: str = "",
) -> Any:
    """Describe a key: its heading on a sheet, what it is, what stands where it is left out.

    On a sheet `note` stands beside an input that has a row to itself, with its `unit`. The README says what
    the key is, else the note or the heading, and `usual`, else the default.
    """
    words = Words(label=label, says=says or note, usual=usual, note=note, unit=unit)
    extra: dict[str, Any] = {"words": words}
    return Field(default, alias=alias, json_schema_extra=extra)


@cache
def keys_of(record: "type[Record]") -> tuple[Key, ...]:
    """Return the keys of a kind of record, in its order."""
    return tuple(_key(record, attribute) for attribute in record.model_fields)


def _key(record: "type[Record]", attribute: str) -> Key:
    field = record.model_fields[attribute]
    parts = (*_parts(field.annotation), *field.metadata)
    kinds = [part for part in parts if isinstance(part, Kind)]
    inside = (part for part in parts if isinstance(part, type) and issubclass(part, Record))
    extra: Any = field.json_schema_extra
    return Key(
        name=field.alias or attribute,
        attribute=attribute,
        kind=kinds[-1] if kinds else Kind.WORD,
        words=extra["words"],
        choices=tuple(part for part in parts if isinstance(part, str)),
        inside=next(inside, None),
        many=tuple in parts,
        required=field.is_required(),
        default=field.default,
    )


def _parts(annotation: object) -> Iterator[object]:
    """Take a type apart, what is inside first: types, marks of their kind, the words of a choice."""
    for part in get_args(annotation):
        yield from _parts(part)
    yield get_origin(annotation) or annotation


class Missing:
    """Stands where a required key is left out."""


MISSING = Missing()


@dataclass_transform(kw_only_default=True, frozen_default=True, field_specifiers=(key,))
class Record(BaseModel, frozen=True):
    """A part of the plan: its keys are the plan file's, none other, and nothing changes it."""

    model_config = ConfigDict(extra="forbid", populate_by_name=False)

    @model_validator(mode="before")
    @classmethod
    def _ask_for_what_is_missing(cls, data: object) -> object:
        """Put a mark where a required key is left out, so that its field says what it expects there."""
        return {**dict.fromkeys(cls.required_keys(), MISSING), **data} if isinstance(data, dict) else data

    @classmethod
    def keys(cls) -> tuple[str, ...]:
        """Return the keys of this record as the plan file spells them."""
        return tuple(key.name for key in keys_of(cls))

    @classmethod
    def required_keys(cls) -> tuple[str, ...]:
        """Return the keys that have no default."""
        return tuple(key.name for key in keys_of(cls) if key.required)
