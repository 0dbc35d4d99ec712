"""The tables of a plan file, and which kind of record stands in each."""

from collections.abc import Mapping

from salebook.plan.model import (
    Beneficiary,
    Clay,
    Donated,
    Energy,
    Firing,
    Hours,
    Kiln,
    Labels,
    Making,
    Material,
    OtherIncome,
    Outlook,
    Overhead,
    Payment,
    Record,
    Sale,
    Ware,
    Work,
)

SINGLE: Mapping[str, type[Record]] = {
    "sale": Sale,
    "making": Making,
    "kiln": Kiln,
    "energy": Energy,
    "hours": Hours,
    "labels": Labels,
}
"""Tables that a plan has once, as [sale]."""

LISTS: Mapping[str, type[Record]] = {
    "beneficiaries": Beneficiary,
    "clays": Clay,
    "wares": Ware,
    "donated": Donated,
    "firings": Firing,
    "materials": Material,
    "work": Work,
    "overheads": Overhead,
    "other_income": OtherIncome,
    "payments": Payment,
    "outlooks": Outlook,
}
"""Tables that a plan may have many of, as [[wares]]."""

TABLES = {**SINGLE, **LISTS}
REQUIRED = ("sale", "beneficiaries")


def table_of(kind: type[Record]) -> str:
    """Return the name of the table that holds records of a kind."""
    return next(table for table, record in TABLES.items() if record is kind)


def bracketed(table: str) -> str:
    """Write a table's name as it heads its keys: [sale], [[wares]]."""
    return f"[[{table}]]" if table in LISTS else f"[{table}]"


def homes(key: str) -> tuple[str, ...]:
    """Return the tables, as they are headed, that know a key."""
    return tuple(bracketed(table) for table, kind in TABLES.items() if key in kind.keys())  # noqa: SIM118 (a record, not a dict)
