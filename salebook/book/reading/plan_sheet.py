"""The sheet Plan as the tables of a plan file."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from decimal import Decimal
from typing import Any, Final

from salebook.book.marks import LINKED, LIVE
from salebook.book.reading.raw import SheetError
from salebook.book.reading.tables import UNCALCULATED, Row, Tables
from salebook.book.reading.typed import Tongue, UnreadError, exact, minutes_of, tidy
from salebook.plan.faults import Unreadable
from salebook.plan.quantities import plain
from salebook.words import _

Record = dict[str, Any]

TEXT: Final = "text"
NUMBER: Final = "number"
MONEY: Final = "money"
DAY: Final = "day"
CLOCK: Final = "clock"
CODES: Final = "codes"

KINDS: Final[Mapping[str, str]] = {
    **dict.fromkeys(("target", "price_step", "price", "seconds_price", "pack_price", "fixed"), MONEY),
    **dict.fromkeys(("expected", "amount.overheads", "rate.hours"), MONEY),
    **dict.fromkeys(("agreed", "days", "free_days"), DAY),
    **dict.fromkeys(("start", "from", "to.energy"), CLOCK),
    **dict.fromkeys(("name", "title", "maker", "venue", "registration", "contact", "care", "unit"), TEXT),
    **dict.fromkeys(
        ("currency", "locale", "fuel", "stage", "met_by", "per", "page", "clay", "paid_to"), TEXT
    ),
    **dict.fromkeys(("code", "numbered", "whole_packs", "cash", "promise", "shelf.shape"), TEXT),
    **dict.fromkeys(
        ("calibration.firing", "firing", "length_unit", "ball_unit", "pack_unit", "to_unit"), TEXT
    ),
    "wares": CODES,
}
"""What a cell holds, by its key, or by key and section where that differs; any other holds a number."""

KILN_LENGTHS: Final = frozenset(
    {
        *("shelf.diameter", "shelf.width", "shelf.depth", "usable_height"),
        *("shelf_thickness", "clearance", "gap"),
    }
)
LABEL_LENGTHS: Final = frozenset({"width", "height", "left", "top", "across", "down"})
WARE_LENGTHS: Final = ("made_height", "made_diameter", "fired_height", "fired_diameter")
LOSSES: Final = ("throwing", "drying", "biscuit", "glaze")
MANY: Final = frozenset({"days", "free_days"})
PLAIN_TABLES: Final = (
    *("beneficiaries", "donated", "work", "overheads", "other_income", "materials"),
    *("payments", "outlooks"),
)
ALONE: Final = ("sale", "making", "kiln", "hours", "labels")
"""Tables of entries that stand alone, one a row, each with its key in the mark of the row."""
SECTIONS: Final = (
    *(*ALONE, "clays", "wares", "demand", "firings", "steps"),
    *("energy.rates", *PLAIN_TABLES),
)


def plan_tables(tables: Tables, tongue: Tongue) -> tuple[Record, Iterable[tuple[str, ...]]]:
    """Return the plan's tables as a plan file holds them, and the places of which the plan said nothing.

    A place is a table, a record's code or name where it has many, and a key; a whole record has no key.
    """
    reader = _Reader(tables, tongue)
    data: Record = {"format": 1, "sale": reader.single("sale")}
    data["making"], data["hours"] = reader.single("making"), reader.single("hours")
    data["labels"] = _measured(reader.single("labels"), LABEL_LENGTHS)
    if kiln := reader.single("kiln"):
        data["kiln"] = _kiln(kiln)
    for table in PLAIN_TABLES:
        data[table] = reader.many(table)
    data["clays"] = [_clay(record) for record in reader.many("clays")]
    data["wares"] = [_ware(record) for record in reader.wares()]
    data["firings"] = reader.firings()
    if rates := reader.many("energy.rates"):
        data["energy"] = {"rates": rates}
    with suppress(KeyError):
        data["sale"]["denominations"] = _listed(data["sale"]["denominations"])
    return {key: table for key, table in data.items() if table}, reader.assumed


class _Reader:
    def __init__(self, tables: Tables, tongue: Tongue) -> None:
        self._tables, self._tongue = tables, tongue
        self.assumed: list[tuple[str, ...]] = []

    def single(self, section: str) -> Record:
        """Return a table of entries that stand alone, one a row."""
        record: Record = {}
        for row in self._tables.rows(section):
            key = row.mark.removeprefix(section + ".")
            value = self._take(row, "value", section, key)
            if value is None:
                continue
            if key in MANY:
                record.setdefault(key, []).append(value)
            elif key not in record:
                record[key] = value
                self.assumed += [(section, key)] if row.assumed else []
        return record

    def many(self, section: str) -> list[Record]:
        """Return a table of records, one a row; rows in which nothing stands are left out."""
        records = []
        for row in self._tables.rows(section):
            record = self._record(row, section)
            if record:
                records.append(record)
                self._assume(section, row, record)
        return records

    def wares(self) -> list[Record]:
        """Return the wares, their parts and points of demand put together by code."""
        wares: dict[str, Record] = {}
        twice: list[Record] = []
        for part in self._tables.parts.get("wares", ()):
            for row in part.rows:
                record = self._record(row, "wares")
                code = self._take(row, "of.code", "wares", "code") or record.get("code", "")
                if "of.code" in part.keys or code not in wares:
                    wares.setdefault(code, {}).update(record)
                    self._assume("wares", row, {"code": code})
                else:
                    twice.append(record)
        for row in self._tables.rows("demand"):
            record = self._record(row, "demand")
            code = self._take(row, "of.code", "wares", "code")
            if record and code in wares:
                point = [record.get("price", ""), record.get("share", "")]
                wares[code].setdefault("demand", []).append(point)
        return [*wares.values(), *twice]

    def firings(self) -> list[Record]:
        """Return the firings, each with its steps in their order."""
        firings = self.many("firings")
        steps = sorted(
            (self._record(row, "steps") for row in self._tables.rows("steps")),
            key=lambda step: step["n"] if isinstance(step.get("n"), int | Decimal) else 0,
        )
        for firing in firings:
            own = [step for step in steps if step.get("firing") == firing.get("name")]
            firing["steps"] = [_step(step) for step in own]
        return firings

    def _record(self, row: Row, section: str) -> Record:
        keys = (key for key in row.columns if not key.startswith((LINKED, LIVE)))
        taken = ((key, self._take(row, key, section, key)) for key in keys)
        return {key: value for key, value in taken if value is not None}

    def _assume(self, section: str, row: Row, record: Record) -> None:
        name = str(record.get("code") or record.get("name") or "")
        self.assumed += [(section, name, key) if key else (section, name) for key in row.assumed]

    def _take(self, row: Row, key: str, section: str, meaning: str) -> Any:
        """Return what a cell says as a plan file would; what makes no sense stays as it is, for the rules."""
        value = row.get(key)
        if value is None or (isinstance(value, str) and not value.strip()):
            return None
        if isinstance(value, SheetError):
            return _unreadable(value)
        kind = KINDS.get(f"{meaning}.{section.partition('.')[0]}") or KINDS.get(meaning, NUMBER)
        with suppress(UnreadError):
            return self._read(value, kind)
        return str(value)

    def _read(self, value: Any, kind: str) -> Any:
        if kind == TEXT:
            return value.strip() if isinstance(value, str) else tidy(value)
        if kind == CODES:
            return [code for code in re.split(r"[,;\s]+", tidy(value).upper()) if code]
        if kind == DAY:
            return self._tongue.day(value)
        if kind == CLOCK:
            return minutes_of(value)
        if kind == MONEY:
            return self._tongue.amount(value)
        return _number(value)


def _unreadable(error: SheetError) -> Unreadable:
    return Unreadable(
        _("a formula that was never calculated")
        if error == UNCALCULATED
        else _("the error {error}").format(error=str(error))
    )


def _number(value: Any) -> Any:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return _share(value) if isinstance(value, str) else tidy(value)
    return exact(value)


def _share(text: str) -> Any:
    """Take "90 %" as a share; any other text stands for itself."""
    found = re.fullmatch(r"\s*([0-9]+(?:[.,][0-9]+)?)\s*%\s*", text)
    return Decimal(found[1].replace(",", ".")) / 100 if found else text.strip()


def _with_unit(value: Any, unit: Any) -> Any:
    """Return an amount with its unit, unless it brings one of its own."""
    if isinstance(value, Unreadable) or (isinstance(value, str) and re.search(r"[^\W\d_]", value)):
        return value
    said = plain(value) if isinstance(value, Decimal) else str(value)
    return f"{said} {unit}".strip()


def _measured(record: Record, keys: Iterable[str]) -> Record:
    lengths = {key: _with_unit(record[key], "mm") for key in keys if key in record}
    return record | lengths


def _kiln(entries: Record) -> Record:
    kiln = _measured(entries, KILN_LENGTHS)
    for nested in ("shelf", "calibration"):
        inner = {key.partition(".")[2]: value for key, value in kiln.items() if key.startswith(nested + ".")}
        kiln = {key: value for key, value in kiln.items() if not key.startswith(nested + ".")}
        if inner:
            kiln[nested] = inner
    return kiln


def _clay(record: Record) -> Record:
    return _weighed(record, "pack")


def _weighed(record: Record, key: str) -> Record:
    unit = record.get(f"{key}_unit", "")
    left = {name: value for name, value in record.items() if name != f"{key}_unit"}
    return left | ({key: _with_unit(record[key], unit)} if key in record else {})


def _ware(record: Record) -> Record:
    ware = _weighed(record, "ball")
    unit = ware.pop("length_unit", "mm")
    ware |= {key: _with_unit(ware[key], unit) for key in WARE_LENGTHS if key in ware}
    sides = [_with_unit(ware.pop(key), unit) for key in ("widest", "narrowest") if key in ware]
    if sides:
        ware["footprint"] = " x ".join(map(str, sides))
    losses = {stage: ware.pop(stage) for stage in LOSSES if stage in ware}
    return ware | ({"losses": losses} if losses else {})


def _step(record: Record) -> Record:
    step = {key: value for key, value in record.items() if key in {"rate", "hold"}}
    if "to" in record:
        step["to"] = _with_unit(record["to"], record.get("to_unit", "C"))
    return step


def _listed(value: Any) -> Sequence[Any]:
    if not isinstance(value, str):
        return [value]
    return list(_numbers(value))


def _numbers(text: str) -> Iterator[Any]:
    for part in text.split(";"):
        if part.strip():
            yield _number(part)
