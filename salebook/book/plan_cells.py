"""How the keys of a plan stand in the cells of a sheet: which grey word each has, its words and its kind."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any, Final

from salebook.base.words import N_, _
from salebook.plan.keys import Key, Kind, Record, keys_of
from salebook.plan.model import DemandPoint, EnergyRate, SeenLoss, Step
from salebook.plan.tables import LISTS, SINGLE

ALONE: Final = tuple(table for table in SINGLE if table != "energy")
"""Tables of entries that stand alone, one a row, each with its key in the mark of the row."""
SECTIONS: Final[Mapping[str, type[Record]]] = {
    **{table: SINGLE[table] for table in ALONE},
    **LISTS,
    **{"demand": DemandPoint, "seen_before": SeenLoss, "steps": Step, "energy.rates": EnergyRate},
}
"""The tables of the sheet Plan, and which kind of record stands in each."""
LINKS: Final[Mapping[str, Mapping[str, Kind]]] = {
    "wares": {"of.code": Kind.WORD},
    "demand": {"of.code": Kind.WORD},
    "seen_before": {"of.code": Kind.WORD, "of.stage": Kind.WORD},
    "steps": {"firing": Kind.TEXT, "n": Kind.WHOLE},
}
"""Columns that say to which record of another table a row belongs."""
UNITS: Final[Mapping[Kind, tuple[str, ...]]] = {
    Kind.MASS: ("g", "kg", "oz", "lb"),
    Kind.LENGTH: ("mm", "cm", "m", "in"),
    Kind.TEMPERATURE: ("C", "F"),
}


@dataclass(frozen=True, kw_only=True)
class Cell:
    """A key as it stands on a sheet; `path` leads to its value through the attributes of a record."""

    column: str
    path: tuple[str, ...]
    label: str
    kind: Kind
    key: Key
    choices: tuple[str, ...] = ()
    is_unit: bool = False

    @property
    def heading(self) -> str:
        """The words above its column or before its input."""
        return _(self.label)

    def of(self, record: Any) -> Any:
        """Return the value in a record; None where the record within which it stands is not given."""
        for attribute in self.path:
            record = None if record is None else getattr(record, attribute)
        return record


def unit_column(key: Key) -> str:
    """Return the grey word above the unit of a key; all lengths of a record share one."""
    return "length_unit" if key.kind is Kind.LENGTH else f"{key.name}_unit"


@cache
def cells_of(section: str) -> tuple[Cell, ...]:
    """Return the cells of a table's records, in the order of their keys; an amount's unit follows it."""
    cells: dict[str, Cell] = {}
    for cell in _cells(SECTIONS[section], "{}.{}" if section in ALONE else "{1}"):
        cells[cell.column] = cell
        if section not in ALONE and cell.kind in UNITS:
            unit = _unit(cell)
            cells.pop(unit.column, None)
            cells[unit.column] = unit
    return tuple(cells.values())


def _cells(kind: type[Record], inner: str) -> Iterator[Cell]:
    for key in keys_of(kind):
        if key.inside is None:
            path, label = (key.attribute,), key.words.label
            yield Cell(column=key.name, path=path, label=label, kind=key.kind, key=key, choices=key.choices)
        elif not key.apart:
            for cell in _cells(key.inside, inner):
                column = inner.format(key.name, cell.column)
                yield replace(cell, column=column, path=(key.attribute, *cell.path))


def _unit(cell: Cell) -> Cell:
    return replace(
        cell,
        column=unit_column(cell.key),
        label=N_("°") if cell.kind is Kind.TEMPERATURE else N_("Unit"),
        choices=UNITS[cell.kind],
        is_unit=True,
    )


def kinds_of(section: str) -> Mapping[str, Kind]:
    """Return what stands under each grey word of a table."""
    own = {cell.column: Kind.WORD if cell.is_unit else cell.kind for cell in cells_of(section)}
    return {**own, **LINKS.get(section, {})}


MANY: Final = frozenset(
    cell.column for table in ALONE for cell in cells_of(table) if cell.kind is Kind.DAY and cell.key.many
)
"""Keys of entries that may stand in several rows."""
