"""The plan that a workbook's sheet Plan holds."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from copy import deepcopy
from typing import Any

from salebook.book.reading.plan_sheet import Place, plan_tables
from salebook.book.reading.tables import Tables
from salebook.book.reading.typed import CellParser
from salebook.plan.load import plan_from_mapping
from salebook.plan.model import Plan, Record
from salebook.plan.tables import SINGLE, TABLES


def plan_from_sheet(tables: Tables, parser: CellParser, *, file: str) -> Plan:
    """Return the plan; what nobody said and nobody changed since is left unsaid.

    Raises FaultyPlanError with all its faults.
    """
    data, assumed = plan_tables(tables, parser)
    plan = plan_from_mapping(data, file=file)
    unsaid = _without(data, plan, assumed)
    return plan_from_mapping(unsaid, file=file) if unsaid != data else plan


def _without(data: Mapping[str, Any], plan: Plan, assumed: Iterable[Place]) -> dict[str, Any]:
    """Leave out what was assumed and still is as assumed."""
    left = deepcopy(dict(data))
    for table, which, key in assumed:
        record = _record_of(plan, table, which)
        written = left.get(table) if table in SINGLE else _at(left.get(table, ()), which, dict.get)
        if record is None or not isinstance(written, dict):
            continue
        if not key:
            left[table] = [] if record == _assumed_record(plan, table) else left[table]
        elif _is_usual(record, key):
            written.pop(key, None)
    return {table: records for table, records in left.items() if records}


def _at(records: Sequence[Any], which: str | int, get: Callable[[Any, str, None], Any]) -> Any:
    """Return the record of a code, or at a place; None where there is none."""
    if isinstance(which, int):
        return records[which] if which < len(records) else None
    return next((one for one in records if get(one, "code", None) == which), None)


def _record_of(plan: Plan, table: str, which: str | int) -> Record | None:
    found = getattr(plan, table, None) if table in TABLES else None
    if table not in SINGLE:
        found = _at(found or (), which, getattr)
    return found if isinstance(found, Record) else None


def _assumed_record(plan: Plan, table: str) -> Record | None:
    """Return the one record that stands in for a table that the plan does not have."""
    none_given = plan.model_copy(update={f"{table}_given": ()})
    none_given.__dict__.pop(table, None)
    records = getattr(none_given, table, ())
    return records[0] if len(getattr(plan, table)) == 1 and records else None


def _is_usual(record: Record, key: str) -> bool:
    fields = type(record).model_fields.items()
    return any(
        key in {name, field.alias} and getattr(record, name) == field.default for name, field in fields
    )
