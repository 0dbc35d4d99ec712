"""The plan that a workbook's sheet Plan holds."""

from collections.abc import Iterable, Mapping
from typing import Any

from salebook.book.reading.plan_sheet import plan_tables
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


def _without(data: Mapping[str, Any], plan: Plan, assumed: Iterable[tuple[str, ...]]) -> dict[str, Any]:
    """Leave out what was assumed and still is as assumed."""
    left = {table: _copied(records) for table, records in data.items()}
    for place in assumed:
        table, name, key = _parts(place)
        record = _record_of(plan, table, name)
        written = left.get(table) if table in SINGLE else _written(left.get(table, ()), name)
        if record is None or not isinstance(written, dict):
            continue
        if not key:
            left[table] = [] if record == _assumed_record(plan, table) else left[table]
        elif _is_usual(record, key):
            written.pop(key, None)
    return {table: records for table, records in left.items() if records}


def _parts(place: tuple[str, ...]) -> tuple[str, str, str]:
    if place[0] in SINGLE:
        return place[0], "", place[-1]
    return place[0], place[1], place[2] if len(place) > 2 else ""


def _copied(records: Any) -> Any:
    if isinstance(records, list):
        return [dict(record) for record in records]
    return dict(records) if isinstance(records, dict) else records


def _written(records: Iterable[Any], name: str) -> Any:
    return next((one for one in records if name in {one.get("code"), one.get("name")}), None)


def _record_of(plan: Plan, table: str, name: str) -> Record | None:
    if table not in TABLES:
        return None
    found = getattr(plan, table, None)
    if table in SINGLE:
        return found if isinstance(found, Record) else None
    return next(
        (one for one in found or () if name in {getattr(one, "code", None), getattr(one, "name", None)}), None
    )


def _assumed_record(plan: Plan, table: str) -> Record | None:
    """Return the one record that stands in for a table that the plan does not have."""
    none_given = plan.model_copy(update={f"{table}_given": ()})
    none_given.__dict__.pop(table, None)
    records = getattr(none_given, table, ())
    return records[0] if len(getattr(plan, table)) == 1 and records else None


def _is_usual(record: Record, key: str) -> bool:
    for name, field in type(record).model_fields.items():
        if key in {name, field.alias}:
            return bool(getattr(record, name) == field.default)
    return False
