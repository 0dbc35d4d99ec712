"""Every key of a plan as fields to change: read from its file, put back into it, faults at their field."""

import hashlib
import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date, time
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any, Final

from salebook.base.errors import Fault, FaultyPlanError, FileError
from salebook.base.words import _
from salebook.jobs.renew import put_book
from salebook.plan.changed_text import ONLY, Spot, toml_value, with_changes, without_records
from salebook.plan.draft import places_of
from salebook.plan.faults import ARROW, ordinal, shortened
from salebook.plan.keys import Key, Kind, keys_of
from salebook.plan.load import read_plan, tables_in, text_of
from salebook.plan.model import Plan
from salebook.plan.quantities import plain
from salebook.plan.tables import LISTS, TABLES
from salebook.reckoning import made_and_costed

AS_TEXT: Final = frozenset({Kind.TEXT, Kind.WORD, Kind.CLAY, Kind.MASS, Kind.LENGTH, Kind.CLOCK})
"""Kinds that are put down as they are typed, in quotes; all others as a number, where it is one."""
YES, NO = "yes", "no"
LEFT_OUT: Final = "left out"
"""Ends the name of the box by which a record is left out."""


@dataclass(frozen=True, kw_only=True)
class Field:
    """One key of one record, as it can be typed; lists and tables within it as the file has them."""

    spot: Spot
    key: Key
    text: str
    place: str
    """Where its faults are said to be."""
    troubles: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """Its name in a form."""
        return f"{self.spot.table}.{self.spot.at}.{self.spot.key}"

    @property
    def label(self) -> str:
        """Its heading on the sheet Plan."""
        heading = self.key.words.label
        return _(heading).format(n="").strip()

    @property
    def note(self) -> str:
        """What it is."""
        says = self.key.words.says
        return _(says).replace("`", "")

    @property
    def choices(self) -> tuple[str, ...]:
        """What may be chosen; empty where anything may be typed."""
        return (YES, NO) if self.key.kind is Kind.YES_NO else self.key.choices


@dataclass(frozen=True, kw_only=True)
class Group:
    """The fields of one record of a table, or of one that may be added."""

    title: str
    is_new: bool
    fields: tuple[Field, ...]
    leave_out: str = ""
    """The name of the box by which it is left out; empty where there is none."""


@dataclass(frozen=True, kw_only=True)
class Block:
    """A table of the plan with its records."""

    table: str
    title: str
    groups: tuple[Group, ...]

    @property
    def has_trouble(self) -> bool:
        """Whether a fault stands at any of its fields."""
        return any(field.troubles for group in self.groups for field in group.fields)


@dataclass(frozen=True, kw_only=True)
class PlanKeys:
    """A plan's file as fields; `state` tells whether the file has changed since."""

    blocks: tuple[Block, ...]
    state: str
    faults: tuple[str, ...] = ()
    """Those that stand at no field."""


def plan_keys(file: Path) -> PlanKeys:
    """Read a plan's file into fields, with all its faults at theirs.

    Raises FileError where it cannot be read, FaultyPlanError where it is no TOML.
    """
    text = text_of(file)
    blocks = _blocks(tables_in(text, file=str(file)))
    return _with_faults(blocks, _faults_of(text, file), state=state_of(text))


def changed_keys(file: Path, typed: Mapping[str, str], *, today: date) -> PlanKeys | None:
    """Put what was typed into a plan's file, the plan before kept as a dated copy; None where that is done.

    Where the plan would have faults, nothing is written and its fields are returned with them. Raises
    FileError where the file has changed since the fields were read or cannot be read or written.
    """
    text = text_of(file)
    if typed.get("state") != state_of(text):
        says = _("{file}: was changed meanwhile, in another window or program; open it again")
        raise FileError(says.format(file=file))
    blocks = _blocks(tables_in(text, file=str(file)))
    said = {field.spot: _said(field, typed) for field in _fields_in(blocks)}
    changes = {
        field.spot: value_of(said[field.spot], field.key)
        for field in _fields_in(blocks)
        if said[field.spot] != field.text
    }
    with_all = with_changes(text, changes)
    changed = without_records(with_all, _left_out(blocks, typed))
    if faults := _faults_of(changed, file):
        places = {field.spot: field.place for field in _fields_in(_blocks(tables_in(with_all, file="")))}
        shown = _mapped(
            blocks,
            lambda field: replace(field, text=said[field.spot], place=places.get(field.spot, field.place)),
        )
        return _with_faults(shown, faults, state=state_of(text))
    if changed != text:
        put_book(file, changed.encode(), today=today)
    return None


def _said(field: Field, typed: Mapping[str, str]) -> str:
    return typed.get(field.name, field.text).replace("\r\n", "\n").strip()


def _fields_in(blocks: Sequence[Block]) -> Iterator[Field]:
    return (field for block in blocks for group in block.groups for field in group.fields)


def state_of(text: str) -> str:
    """Return what tells whether a text has changed meanwhile."""
    return hashlib.sha256(text.encode()).hexdigest()


def _faults_of(text: str, file: Path) -> tuple[Fault, ...]:
    try:
        made_and_costed(read_plan(text, file=str(file)))
    except FaultyPlanError as faulty:
        return faulty.in_file(str(file)).faults
    return ()


def _blocks(tables: Mapping[str, Any]) -> tuple[Block, ...]:
    return tuple(
        Block(table=key.name, title=_title(key), groups=tuple(_groups(key.name, tables.get(key.name))))
        for key in keys_of(Plan)
        if key.inside
    )


def _title(key: Key) -> str:
    heading = key.words.label
    return _(heading)


def _groups(table: str, written: Any) -> Iterator[Group]:
    if table not in LISTS:
        record = written if isinstance(written, Mapping) else {}
        yield Group(title="", is_new=not record, fields=_fields(table, ONLY, record, table))
        return
    records = [record if isinstance(record, Mapping) else {} for record in written or ()]
    for at, (record, place) in enumerate(zip(records, places_of(table, tuple(records)), strict=True)):
        yield Group(
            title=str(record.get("name") or record.get("code") or place[-1]),
            is_new=False,
            fields=_fields(table, at, record, ARROW.join(map(shortened, place))),
            leave_out=f"{table}.{at}.{LEFT_OUT}",
        )
    at = len(records)
    yield Group(
        title=_("One more"),
        is_new=True,
        fields=_fields(table, at, {}, ARROW.join((table, ordinal(at + 1)))),
    )


def _fields(table: str, at: int, record: Mapping[str, Any], place: str) -> tuple[Field, ...]:
    return tuple(
        Field(
            spot=Spot(table, at, key.name),
            key=key,
            text=_text(record[key.name]) if key.name in record else "",
            place=ARROW.join((place, key.name)),
        )
        for key in keys_of(TABLES[table])
    )


def _text(value: object) -> str:
    """Write a value as it is typed: lists of plain things with commas, all that is deeper as in the file."""
    match value:
        case str():
            return value.strip()
        case bool():
            return YES if value else NO
        case list() if not any(isinstance(one, list | dict) for one in value):
            return ", ".join(map(_text, value))
        case list() | dict():
            return _inline(value)
    return _plain(value)


def _plain(value: object) -> str:
    match value:
        case Decimal():
            return plain(value) if value.is_finite() else str(value)
        case date() | time():
            return value.isoformat()
    return str(value)


def _inline(value: object) -> str:
    match value:
        case str():
            return json.dumps(value, ensure_ascii=False)
        case bool():
            return str(value).lower()
        case list():
            return f"[{', '.join(map(_inline, value))}]"
        case dict():
            pairs = (f"{key} = {_inline(one)}" for key, one in value.items())
            return f"{{ {', '.join(pairs)} }}"
    return _plain(value)


def value_of(text: str, key: Key) -> object:
    """Return what a text typed for a key puts down in the file; None where nothing stands there."""
    if not text:
        return None
    if text[0] in "[{":
        with suppress(ValueError):
            return toml_value(text)
    if key.kind is Kind.YES_NO and text in {YES, NO}:
        return text == YES
    if key.many and not key.inside:
        return [_single(one.strip(), key.kind) for one in text.split(",") if one.strip()]
    return _single(text, key.kind)


def _single(text: str, kind: Kind) -> object:
    if kind is Kind.DAY:
        with suppress(ValueError):
            return date.fromisoformat(text)
    if kind in AS_TEXT or kind is Kind.CODES:
        return text
    try:
        number = Decimal(text)
    except InvalidOperation:
        return text
    return number if number.is_finite() else text


def _left_out(blocks: Sequence[Block], typed: Mapping[str, str]) -> dict[str, set[int]]:
    chosen = (
        group.fields[0].spot
        for block in blocks
        for group in block.groups
        if group.leave_out and group.leave_out in typed
    )
    found: dict[str, set[int]] = {}
    for spot in chosen:
        found.setdefault(spot.table, set()).add(spot.at)
    return found


def _mapped(blocks: Sequence[Block], change: Callable[[Field], Field]) -> tuple[Block, ...]:
    def changed(block: Block) -> Block:
        groups = (replace(group, fields=tuple(map(change, group.fields))) for group in block.groups)
        return replace(block, groups=tuple(groups))

    return tuple(map(changed, blocks))


def _with_faults(blocks: Sequence[Block], faults: Sequence[Fault], *, state: str) -> PlanKeys:
    placed: set[Fault] = set()

    def at_its_field(field: Field) -> Field:
        mine = [fault for fault in faults if _is_at(fault, field)]
        placed.update(mine)
        return replace(field, troubles=tuple(map(str, mine)))

    shown = _mapped(blocks, at_its_field)
    others = tuple(str(fault) for fault in faults if fault not in placed)
    return PlanKeys(blocks=shown, state=state, faults=others)


def _is_at(fault: Fault, field: Field) -> bool:
    return fault.place == field.place or fault.place.startswith(f"{field.place}{ARROW}")
