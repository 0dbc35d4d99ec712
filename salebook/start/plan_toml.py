"""A whole plan as the text of its file: every key that it says, what each is, and remarks."""

import json
import textwrap
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date, time
from decimal import Decimal
from typing import Any, Final

from salebook.base.words import N_, _
from salebook.plan.dates import clock_text
from salebook.plan.keys import Key, Kind, Record, keys_of
from salebook.plan.model import DemandPoint, Footprint, Plan, SeenLoss
from salebook.plan.piece_numbers import in_stretches
from salebook.plan.quantities import OUNCES_PER_POUND, Mass, Quantity, Temperature, plain
from salebook.plan.tables import Place, bracketed

WIDTH: Final = 100
DELETE: Final = "\x7f"
IN_BRACKETS: Final = (DemandPoint, SeenLoss)
"""Records that a plan file writes as a list of their values."""


Remarks = Mapping[Place, Sequence[str]]
"""What is said in comments above a key, above a record, or at the top of the file."""

TOP: Final = Place("")
WHAT_IT_IS: Final = N_(
    "A plan for salebook. Change what you like in any text editor: salebook check says whether it is sound, "
    "salebook price what it comes to. Lines that begin with # are notes for people."
)
"""What stands at the top of every plan that is written."""


def plan_toml(plan: Plan, remarks: Remarks | None = None) -> str:
    """Return the text of a plan file that is read as the same plan; remarks stand in it as comments."""
    return "\n".join(_lines(plan, remarks or {})) + "\n"


def comment_lines(text: str) -> list[str]:
    """Write a text as comment lines."""
    return [f"# {line}" for line in textwrap.wrap(text, WIDTH)]


def quoted(text: str) -> str:
    """Write a text as TOML does, whatever letters it holds."""
    return json.dumps(text, ensure_ascii=False).replace(DELETE, "\\u007f")


def _lines(plan: Plan, remarks: Remarks) -> Iterator[str]:
    yield from comment_lines(_(WHAT_IT_IS))
    yield from _comments(remarks, TOP)
    for key in _said(plan):
        value = getattr(plan, key.attribute)
        if key.inside is None:
            yield f"{key.name} = {_written(value, key.kind)}"
            continue
        records = value if key.many else (value,)
        for nth, record in enumerate(records):
            if lines := list(_record(key.name, record, remarks, is_first=not nth)):
                yield ""
                yield from comment_lines(_(key.words.label)) if not nth else ()
                yield from lines


def _record(table: str, record: Record, remarks: Remarks, *, is_first: bool) -> Iterator[str]:
    """Write a record below its heading, nothing where there is nothing to say; what a key is, once."""
    name = str(getattr(record, "code", "") or getattr(record, "name", ""))
    said = _said(record)
    unsaid = [
        place
        for place in remarks
        if place[:2] == (table, name) and place.key not in {key.name for key in said}
    ]
    for place in unsaid:
        yield from _comments(remarks, place)
    if said or unsaid:
        yield bracketed(table)
    for key in said:
        yield from _comments(remarks, Place(table, name, key.name))
        line = f"{key.name} = {_written(getattr(record, key.attribute), key.kind)}"
        yield from _with_meaning(line, _meaning(key) if is_first else "")


def _with_meaning(line: str, says: str) -> Iterator[str]:
    """Write what a key is beside its line, above where that would be too long."""
    if not says:
        yield line
    elif len(line) + len(says) > WIDTH:
        yield from (f"# {says}", line)
    else:
        yield f"{line}  # {says}"


def _said(record: Record) -> list[Key]:
    """Return the keys that a record says itself, and not as they are where nobody says them."""
    said = (key for key in keys_of(type(record)) if key.attribute in record.model_fields_set)
    return [key for key in said if getattr(record, key.attribute) not in (None, (), "")]


def _comments(remarks: Remarks, place: Place) -> Iterator[str]:
    for says in remarks.get(place, ()):
        yield from comment_lines(says)


def _meaning(key: Key) -> str:
    """Say what a key is, unless its name says as much."""
    label = _(key.words.label).partition(" {")[0]
    if label.lower() == key.name.replace("_", " "):
        return ""
    return _("{key}, in {unit}").format(key=label, unit=_(key.words.unit)) if key.words.unit else label


def _written(value: object, kind: Kind = Kind.WORD) -> str:
    write = next((write for one, write in WRITERS.items() if isinstance(value, one)), None)
    return quoted(str(value)) if write is None else write(value, kind)


def _listed(values: Sequence[object], kind: Kind) -> str:
    if kind is Kind.PIECES:
        return quoted(in_stretches([str(value) for value in values]))
    return f"[{', '.join(_written(value, kind) for value in values)}]"


def _in_coins(amount: Decimal) -> str:
    """Write an amount as people do: 15, or 15.40."""
    written = plain(amount)
    return f"{written}0" if written[-2:-1] == "." else written


def _on_scales(mass: Mass) -> str:
    """Write a mass as it is weighed out: more than a pound of ounces as pounds and ounces."""
    pounds, ounces = divmod(mass.amount, OUNCES_PER_POUND)
    if mass.unit != "oz" or not pounds:
        return mass.to_text()
    return f"{plain(pounds)} lb {plain(ounces)} oz" if ounces else f"{plain(pounds)} lb"


def _written_record(record: Record) -> str:
    if isinstance(record, Footprint):
        return quoted(f"{record.widest.to_text()} x {record.narrowest.to_text()}")
    values = {key.name: _written(getattr(record, key.attribute), key.kind) for key in _said(record)}
    if isinstance(record, IN_BRACKETS):
        return f"[{', '.join(values.values())}]"
    return f"{{ {', '.join(f'{name} = {value}' for name, value in values.items())} }}"


WRITERS: Final[Mapping[type, Callable[[Any, Kind], str]]] = {
    bool: lambda value, _kind: str(value).lower(),
    int: lambda value, kind: quoted(clock_text(value)) if kind is Kind.CLOCK else str(value),
    Decimal: lambda value, kind: _in_coins(value) if kind is Kind.MONEY else plain(value),
    date: lambda value, _kind: value.isoformat(),
    time: lambda value, _kind: quoted(value.isoformat("minutes")),
    Temperature: lambda value, _kind: plain(value.amount) if value.unit == "C" else quoted(value.to_text()),
    Mass: lambda value, _kind: quoted(_on_scales(value)),
    Quantity: lambda value, _kind: quoted(value.to_text()),
    Record: lambda value, _kind: _written_record(value),
    tuple: _listed,
}
"""How values are written, by the first type that they are; all others are texts."""
