"""Where a plan comes from: a file, or standard input."""

import sys
from datetime import date
from pathlib import Path
from typing import Literal

from salebook.base.errors import FaultyPlanError, FileError, WrongUseError
from salebook.base.words import _
from salebook.plan.load import LARGEST_BYTES, load_plan, read_plan
from salebook.plan.model import Plan
from salebook.reckoning import Reckoning, reckon

DASH = Path("-")
"""Standard input where something is read, standard output where something is written."""
FARTHEST_YEARS = 50
"""From today to the sale; beyond it a date is a slip of the keyboard, or the computer's clock is wrong."""

MomentOption = Literal["--today", "--now"]
"""By which option of a command the day may have been given."""

BOOK_ENDINGS = frozenset({".xlsx", ".xlsm", ".xls", ".xltx", ".ods"})
BOOK_STARTS = frozenset({b"PK\x03\x04", b"\xd0\xcf\x11\xe0"})
"""A zip archive, and the compound file of locked and of old workbooks."""


def plan_from(file: Path) -> Plan:
    """Read the plan in a file, TOML or the sheet Plan of a workbook; "-" is standard input.

    Raises FileError where it cannot be read, WrongUseError where it is a workbook of another kind, and
    FaultyPlanError with all its faults.
    """
    if file == DASH:
        return _plan_from_standard_input()
    if is_workbook(file):
        from salebook.book.read import read_book  # noqa: PLC0415  most plans are text, and this takes time

        return read_book(file).plan
    return load_plan(file)


def is_workbook(file: Path) -> bool:
    """Whether a file is a workbook, or wants to be one, by its name or by how it begins."""
    if file.suffix.lower() in BOOK_ENDINGS:
        return True
    if file == DASH or not file.is_file():
        return False
    try:
        with file.open("rb") as opened:
            return opened.read(4) in BOOK_STARTS
    except OSError:
        return False


def reckoning_from(file: Path, *, today: date | None = None, said: MomentOption = "--today") -> Reckoning:
    """Read the plan in a file and work it out; "-" is standard input, `today` asks if there is time.

    Raises FileError where it cannot be read, and FaultyPlanError with all its faults, those that only show in
    reckoning too, such as a piece that fits no empty kiln.
    """
    return reckoning_of(plan_from(file), file=file, today=today, said=said)


def reckoning_of(
    plan: Plan, *, file: Path, today: date | None = None, said: MomentOption = "--today"
) -> Reckoning:
    """Work out a plan that was read from a file; `said` is the option by which today may have been given.

    Raises FaultyPlanError with the file's name, and WrongUseError where today is out of all reach of the
    sale.
    """
    if today is not None:
        _refuse_far_off(today, plan.sale.days[0], said)
    try:
        return reckon(plan, today=today)
    except FaultyPlanError as faulty:
        raise faulty.in_file(name_of(file)) from None


def _refuse_far_off(today: date, sale: date, said: MomentOption) -> None:
    if abs(today.year - sale.year) > FARTHEST_YEARS:
        says = _(
            "{today} lies more than {years} years from the sale on {sale}: "
            "look at {option}, the computer's date and the plan's days"
        )
        raise WrongUseError(says.format(today=today, years=FARTHEST_YEARS, sale=sale, option=said))


def name_of(file: Path) -> str:
    """Say a file as a person would: "-" is standard input."""
    return _("standard input") if file == DASH else str(file)


def _plan_from_standard_input() -> Plan:
    name = name_of(DASH)
    # Python has no standard input at all where the shell closed it.
    written = b"" if sys.stdin is None else sys.stdin.buffer.read(LARGEST_BYTES + 1)
    if len(written) > LARGEST_BYTES:
        raise FileError(_("{file}: too large for a plan (more than 2 MB)").format(file=name))
    try:
        return read_plan(written.decode("utf-8-sig"), file=name)
    except UnicodeDecodeError as trouble:
        raise FileError(_("{file}: this is not text in UTF-8").format(file=name)) from trouble
