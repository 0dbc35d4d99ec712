"""The sheet Plan as the tables of a plan file."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from decimal import Decimal
from typing import Any, Final

from salebook.base.errors import UnfitError
from salebook.base.words import _
from salebook.book.marks import LINKED, LIVE
from salebook.book.plan_cells import ALONE, MANY, SECTIONS, UNITS, cells_of, kinds_of, unit_column
from salebook.book.reading.raw import Percentage, SheetError
from salebook.book.reading.tables import UNCALCULATED, Row, Tables
from salebook.book.reading.typed import CellParser, exact, minutes_of, tidy
from salebook.plan.faults import Unreadable
from salebook.plan.keys import Kind, Record, keys_of
from salebook.plan.model import Footprint, Step, Ware
from salebook.plan.quantities import plain
from salebook.plan.tables import LISTS

USUAL_UNITS: Final = {Kind.LENGTH: "mm", Kind.TEMPERATURE: "C"}
"""Units of amounts that have no column for theirs, or nothing in it."""
Tabled = dict[str, Any]
"""A record of the plan as a plan file holds it."""

Place = tuple[str, str | int, str]
"""A table, a ware's code or which of its records, from 0, and a key, empty for a whole record."""

PLAIN_TABLES: Final = tuple(table for table in LISTS if table not in {"wares", "firings"})


def plan_tables(tables: Tables, parser: CellParser) -> tuple[Tabled, Iterable[Place]]:
    """Return the plan's tables as a plan file holds them, and the places of which the plan said nothing."""
    reader = _Reader(tables, parser)
    data: Tabled = {"format": 1, **{table: reader.single(table) for table in ALONE}}
    data |= {table: reader.many(table) for table in PLAIN_TABLES}
    data |= {"wares": reader.wares(), "firings": reader.firings()}
    if rates := reader.many("energy.rates"):
        data["energy"] = {"rates": rates}
    return {key: table for key, table in data.items() if table}, reader.assumed


class _Reader:
    def __init__(self, tables: Tables, parser: CellParser) -> None:
        self._tables, self._parser = tables, parser
        self.assumed: list[Place] = []

    def single(self, section: str) -> Tabled:
        """Return a table of entries that stand alone, one a row."""
        record: Tabled = {}
        for row in self._tables.rows(section):
            key = row.mark.removeprefix(section + ".")
            value = self._take(row, "value", section, key)
            if value is None:
                continue
            if key in MANY:
                record.setdefault(key, []).append(value)
            elif key not in record:
                record[key] = value
                self.assumed += [(section, 0, key)] if row.assumed else []
        return _put_together(SECTIONS[section], record, "{}.{}")

    def many(self, section: str) -> list[Tabled]:
        """Return a table of records, one a row; rows in which nothing stands are left out."""
        records: list[Tabled] = []
        for row in self._tables.rows(section):
            record = self._record(row, section)
            if record:
                self._assume(section, row, len(records))
                records.append(_put_together(SECTIONS[section], record))
        return records

    def wares(self) -> list[Tabled]:
        """Return the wares, their parts, points of demand and earlier counts put together by code."""
        wares: dict[str, Tabled] = {}
        twice: list[Tabled] = []
        for part in self._tables.parts.get("wares", ()):
            for row in part.rows:
                record = self._record(row, "wares")
                code = self._take(row, "of.code", "wares") or record.get("code", "")
                if "of.code" in part.keys or code not in wares:
                    wares.setdefault(code, {}).update(record)
                    self._assume("wares", row, code)
                else:
                    twice.append(record)
        for row in self._tables.rows("demand"):
            record = self._record(row, "demand")
            code = self._take(row, "of.code", "wares")
            if record and code in wares:
                point = [record.get("price", ""), record.get("share", "")]
                wares[code].setdefault("demand", []).append(point)
        for row in self._tables.rows("seen_before"):
            record = self._record(row, "seen_before")
            code, stage = (self._take(row, key, "seen_before") for key in ("of.code", "of.stage"))
            if record and code in wares:
                count = [record.get("lost", ""), record.get("entered", "")]
                wares[code].setdefault("seen", {})[stage] = count
        return [_put_together(Ware, ware) for ware in (*wares.values(), *twice)]

    def firings(self) -> list[Tabled]:
        """Return the firings, each with its steps in their order."""
        firings, own_keys = self.many("firings"), {cell.column for cell in cells_of("steps")}
        steps = sorted(
            (self._record(row, "steps") for row in self._tables.rows("steps")),
            key=lambda step: step["n"] if isinstance(step.get("n"), int | Decimal) else 0,
        )
        for firing in firings:
            own = [step for step in steps if step.get("firing") == firing.get("name")]
            bare = ({key: step[key] for key in step if key in own_keys} for step in own)
            firing["steps"] = [_put_together(Step, step) for step in bare]
        return firings

    def _record(self, row: Row, section: str) -> Tabled:
        keys = (key for key in row.columns if not key.startswith((LINKED, LIVE)))
        taken = ((key, self._take(row, key, section)) for key in keys)
        return {key: value for key, value in taken if value is not None}

    def _assume(self, section: str, row: Row, which: str | int) -> None:
        self.assumed += [(section, which, key) for key in row.assumed]

    def _take(self, row: Row, column: str, section: str, key: str = "") -> Any:
        """Return what a cell says as a plan file would; what makes no sense stays as it is, for the rules."""
        value = row.get(column)
        if value is None or (isinstance(value, str) and not value.strip()):
            return None
        if isinstance(value, SheetError):
            return _unreadable(value)
        with suppress(UnfitError):
            return self._read(value, kinds_of(section).get(key or column, Kind.NUMBER))
        return str(value)

    def _read(self, value: Any, kind: Kind) -> Any:
        match kind:
            case Kind.TEXT | Kind.WORD | Kind.CLAY | Kind.YES_NO | Kind.PIECES:
                return value.strip() if isinstance(value, str) else tidy(value)
            case Kind.CODES:
                return [code for code in re.split(r"[,;\s]+", tidy(value).upper()) if code]
            case Kind.DAY:
                return self._parser.day(value)
            case Kind.CLOCK:
                return minutes_of(value)
            case Kind.MONEY | Kind.RATE:
                return self._parser.amount(value)
            case _:
                return cell_number(value)


def _unreadable(error: SheetError) -> Unreadable:
    return Unreadable(
        _("a formula that was never calculated")
        if error == UNCALCULATED
        else _("the error {error}").format(error=str(error))
    )


def cell_number(value: Any) -> Any:
    """Return a number, or as text what is shown: "90 %", of which its key knows what one per cent is."""
    if isinstance(value, Percentage):
        return f"{plain(100 * exact(value))} %"
    return exact(value) if isinstance(value, int | float) and not isinstance(value, bool) else tidy(value)


def _with_unit(value: Any, unit: Any) -> Any:
    """Return an amount with its unit, unless it brings one of its own."""
    if isinstance(value, Unreadable) or (isinstance(value, str) and re.search(r"[^\W\d_]", value)):
        return value
    said = plain(value) if isinstance(value, Decimal) else str(value)
    return f"{said} {unit}".strip()


def _put_together(
    kind: type[Record], cells: Tabled, inner: str = "{1}", units: Mapping[str, Any] | None = None
) -> Tabled:
    """Put cells together as a plan file says them: amounts with their units, records within the record.

    `inner` says how the grey word of a key within another is made of both.
    """
    left = dict(cells)
    for key in keys_of(kind):
        if key.inside is not None and not key.apart:
            words = {inner.format(key.name, own.name): own.name for own in keys_of(key.inside)}
            found = {own: left.pop(word) for word, own in words.items() if word in left}
            within = _put_together(key.inside, found, units=cells)
            left |= {key.name: _joined(key.inside, within)} if within else {}
        elif key.name in left and key.kind in UNITS:
            unit = (units or cells).get(unit_column(key), USUAL_UNITS.get(key.kind, ""))
            left[key.name] = _with_unit(left[key.name], unit)
        elif key.name in left and key.kind is Kind.COINS:
            left[key.name] = _listed(left[key.name])
    used = {unit_column(key) for key in keys_of(kind) if key.kind in UNITS}
    return {key: value for key, value in left.items() if key not in used}


def _joined(kind: type[Record], within: Tabled) -> Any:
    return " x ".join(map(str, within.values())) if kind is Footprint else within


def _listed(value: Any) -> Sequence[Any]:
    if not isinstance(value, str):
        return [value]
    return list(_numbers(value))


def _numbers(text: str) -> Iterator[Any]:
    for part in text.split(";"):
        if part.strip():
            yield cell_number(part)
