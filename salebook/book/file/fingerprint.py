"""A short text for what stands in input cells, by which a change shows."""

import hashlib
from collections.abc import Iterable
from datetime import date, datetime, time, timedelta

PLAN_PROPERTY = "salebook plan"
"""The workbook's property that holds the fingerprint of the sheet Plan as it was written."""


def fingerprint(values: Iterable[object]) -> str:
    """Return one text for values in any order, as written or as openpyxl reads them, empty ones left out."""
    said = sorted(_canonical(value) for value in values if value not in {None, ""})
    return hashlib.sha256("\n".join(said).encode()).hexdigest()[:16]


def _canonical(value: object) -> str:
    match value:
        case datetime():
            return value.date().isoformat()
        case date():
            return value.isoformat()
        case time():
            return _number((value.hour * 60 + value.minute) / 1440)
        case timedelta():
            return _number(value.total_seconds() / 86_400)
        case int() | float():
            return _number(value)
        case _:
            return str(value).strip()


def _number(value: float) -> str:
    return f"{value:.9g}"
