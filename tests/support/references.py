"""What a formula refers to: functions, names and areas of cells."""

import re
from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from openpyxl.utils import column_index_from_string, get_column_letter

REFERENCE = re.compile(
    r"(?:(?P<sheet>'(?:[^']|'')+'|[A-Za-z_][\w.]*)!)?"
    r"\$?(?P<left>[A-Z]{1,3})\$?(?P<top>[1-9][0-9]*)(?::\$?(?P<right>[A-Z]{1,3})\$?(?P<bottom>[1-9][0-9]*))?",
    re.ASCII,
)
NAME = re.compile(r"[^\W\d][\w.]*")
PIECE = re.compile(
    r"""
    "(?:[^"]|"")*"                                        # a text, which may hold anything
  | (?P<array>\{)
  | (?P<function>[A-Za-z_][\w.]*)\(
  | (?P<operand>
        (?:'(?:[^']|'')+'!|[^\W\d][\w.]*!|\[\d+\][^!]+!)?
        (?:\#[A-Z0-9/]+[!?A]|[$]?[^\W\d][\w.$]*(?::[$]?[^\W\d]?[\w.$]*)?|[$]?\d+:[$]?\d+)
    )
  | (?:\d+\.?\d*|\.\d+)(?:[Ee][+-]?\d+)?                # a number
    """,
    re.VERBOSE,
)
BRACKET = re.compile(
    r'"(?:[^"]|"")*"|\'(?:[^\']|\'\')*\'|(?P<function>[A-Za-z_][\w.]*)?(?P<opens>\()|(?P<closes>\))|,'
)
TRUTHS = frozenset({"TRUE", "FALSE"})


class Area(NamedTuple):
    """A rectangle of cells on a sheet; columns and rows count from 1, both ends belong to it."""

    sheet: str
    left: int
    top: int
    right: int
    bottom: int

    def places(self) -> Iterator[tuple[str, str]]:
        """Return the sheet and address of each cell, row by row."""
        for row in range(self.top, self.bottom + 1):
            for column in range(self.left, self.right + 1):
                yield self.sheet, f"{get_column_letter(column)}{row}"


class Parts(NamedTuple):
    """What a formula is made of, as it is written."""

    functions: tuple[str, ...]
    operands: tuple[str, ...]
    """References, names and what is left of a reference that was lost: #REF!."""
    has_array: bool


class Call(NamedTuple):
    """A function in a formula, its arguments as they are written, and the functions that it stands in."""

    function: str
    arguments: tuple[str, ...]
    within: tuple[str, ...]


@cache
def calls_of_formula(formula: str) -> tuple[Call, ...]:
    """Return every function of a formula (without its "="), those inside before those around them."""
    found: list[Call] = []
    open_brackets: list[tuple[str, list[int]]] = []
    for mark in BRACKET.finditer(formula):
        if mark["opens"]:
            open_brackets.append(((mark["function"] or "").upper(), [mark.end()]))
        elif mark["closes"]:
            function, cuts = open_brackets.pop()
            ends = [cut - 1 for cut in cuts[1:]] + [mark.start()]
            arguments = tuple(formula[start:end] for start, end in zip(cuts, ends, strict=True))
            around = tuple(name for name, _cuts in open_brackets if name)
            found += [Call(function, arguments, around)] if function else []
        elif mark[0] == "," and open_brackets:
            open_brackets[-1][1].append(mark.end())
    return tuple(found)


@cache
def parts_of_formula(formula: str) -> Parts:
    """Take a formula (without its "=") to pieces.

    openpyxl's own tokenizer finds the same, forty times as slowly.
    """
    found = list(PIECE.finditer(formula))
    return Parts(
        tuple(piece["function"].upper() for piece in found if piece["function"]),
        tuple(p["operand"] for p in found if p["operand"] and p["operand"].upper() not in TRUTHS),
        any(piece["array"] for piece in found),
    )


def area(reference: str, *, sheet: str) -> Area | None:
    """Return the cells that a reference on `sheet` means; None where it is a name or no plain area."""
    found = REFERENCE.fullmatch(reference)
    if found is None:
        return None
    named = found["sheet"]
    title = named.strip("'").replace("''", "'") if named else sheet
    left, top = column_index_from_string(found["left"]), int(found["top"])
    right = column_index_from_string(found["right"]) if found["right"] else left
    return Area(title, left, top, right, int(found["bottom"] or top))


def is_name(operand: str) -> bool:
    """Whether an operand is written like a defined name."""
    return NAME.fullmatch(operand) is not None and REFERENCE.fullmatch(operand.upper()) is None
