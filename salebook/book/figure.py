"""A formula together with the value that it must show."""

from dataclasses import dataclass
from decimal import Decimal

Value = str | int | float | bool | Decimal


@dataclass(frozen=True, slots=True)
class Figure:
    """A result cell: a live formula (with its leading "=") and what the model worked out for it.

    The value is stored in the file beside the formula, so that programs that do not calculate show it, and so
    that recalculating the file proves formula and model against each other.
    """

    formula: str
    value: Value
