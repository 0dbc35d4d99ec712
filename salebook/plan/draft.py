"""A plan as far as it is sound: each record read by itself, so that one bad one hides no other."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Generic, TypeVar, cast

from pydantic import ValidationError

from salebook.base.words import _
from salebook.plan.faults import Finding, described, findings_in, ordinal, unknown_key, wrong
from salebook.plan.model import Plan, Record
from salebook.plan.tables import LISTS, REQUIRED, SINGLE, TABLES, bracketed, table_of

FORMAT = 1

TOP = ("format", *TABLES)
"""What may stand at the top of a plan."""

R = TypeVar("R", bound=Record)


@dataclass(frozen=True, kw_only=True)
class Placed(Generic[R]):
    """A sound record and where it stands, as a person says it."""

    place: tuple[str, ...]
    record: R


@dataclass(kw_only=True)
class Draft:
    """What could be read of a plan, and everything that could not."""

    findings: list[Finding] = field(default_factory=list)
    records: dict[str, list[Placed[Record]]] = field(default_factory=dict)
    written: dict[str, tuple[object, ...]] = field(default_factory=dict)
    """The records of each table as they stand in the file, sound or not."""

    def all(self, kind: type[R]) -> tuple[Placed[R], ...]:
        """Return the sound records of a kind, in plan order."""
        table = table_of(kind)
        return tuple(cast("Placed[R]", placed) for placed in self.records.get(table, ()))

    def one(self, kind: type[R]) -> R | None:
        """Return the only record of a kind; nothing where it is not given or not sound."""
        return next((placed.record for placed in self.all(kind)), None)

    def has(self, kind: type[Record]) -> bool:
        """Whether the file has any record of a kind, sound or not."""
        return bool(self.written.get(table_of(kind)))

    def is_sound(self, kind: type[Record]) -> bool:
        """Whether every record of a kind is sound."""
        return len(self.all(kind)) == len(self.written.get(table_of(kind), ()))

    def names(self, kind: type[Record], key: str = "name") -> tuple[str, ...]:
        """Return the names (or codes) of all records of a kind, also of those that are not sound."""
        return tuple(text for _place, text in self.texts(kind, key))

    def texts(self, kind: type[Record], key: str) -> Iterator[tuple[tuple[str, ...], str]]:
        """Yield what each record says under a key, with its place, also those that are not sound."""
        table = table_of(kind)
        written = self.written.get(table, ())
        for place, record in zip(places_of(table, written), written, strict=True):
            if text := _text_at(record, key):
                yield place, text

    def plan(self) -> Plan:
        """Return the plan; only where nothing was found to be wrong."""
        lists = {table: tuple(placed.record for placed in self.records.get(table, ())) for table in LISTS}
        single = {table: self.records[table][0].record for table in SINGLE if self.records.get(table)}
        return Plan.model_validate({"format": FORMAT, **lists, **single})


def read_draft(data: Mapping[str, object]) -> Draft:
    """Read every record of a plan by itself, from its tables as they stand in the file."""
    draft = Draft()
    draft.findings += _format_findings(data)
    draft.findings += [unknown_key((key,), TOP) for key in data if key not in TOP]
    for table, kind in TABLES.items():
        if table in data or table in REQUIRED:
            _read_table(draft, table, kind, data.get(table))
    return draft


def _format_findings(data: Mapping[str, object]) -> Iterator[Finding]:
    written = data.get("format")
    if isinstance(written, bool) or written != FORMAT:
        expected = _("format = 1, the form of plan that this salebook reads")
        yield wrong(described(written), expected, "format")


def _read_table(draft: Draft, table: str, kind: type[Record], written: object) -> None:
    many = table in LISTS
    if not isinstance(written, list | tuple if many else Mapping):
        draft.findings.append(_not_a_table((table,), written))
        return
    records = tuple(cast("list[object]", written)) if many else (written,)
    draft.written[table] = records
    draft.records[table] = []
    for place, record in zip(places_of(table, records), records, strict=True):
        _read_record(draft, place, kind, record)


def _read_record(draft: Draft, place: tuple[str, ...], kind: type[Record], written: object) -> None:
    if not isinstance(written, Mapping):
        draft.findings.append(_not_a_table(place, written))
        return
    try:
        record = kind.model_validate(dict(written))
    except ValidationError as trouble:
        draft.findings += [finding.under(*place) for finding in findings_in(kind, trouble)]
    else:
        draft.records[place[0]].append(Placed(place=place, record=record))


def _not_a_table(place: tuple[str, ...], written: object) -> Finding:
    expected = _("{table} with its keys below it").format(table=bracketed(place[0]))
    return wrong(described(written), expected, *place)


def places_of(table: str, records: tuple[object, ...]) -> Iterator[tuple[str, ...]]:
    """Name each record by its code or name, or by its position where that says it better."""
    if table in SINGLE:
        yield (table,)
        return
    labels = [_text_at(record, "code") or _text_at(record, "name") for record in records]
    uses = Counter(labels)
    for position, label in enumerate(labels, 1):
        yield (table, label if label and uses[label] == 1 else ordinal(position))


def _text_at(record: object, key: str) -> str:
    value = record.get(key) if isinstance(record, Mapping) else None
    return value.strip() if isinstance(value, str) else ""
