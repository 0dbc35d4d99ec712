"""Where a plan comes from: a file, or standard input."""

import sys
from dataclasses import replace
from datetime import date
from pathlib import Path

from salebook.errors import FaultyPlan, FileTrouble
from salebook.plan.load import LARGEST_BYTES, load_plan, read_plan
from salebook.plan.model import Plan
from salebook.reckoning import Reckoning, reckon
from salebook.words import _

STANDARD_INPUT = Path("-")


def plan_from(file: Path) -> Plan:
    """Read the plan in a file; "-" is standard input.

    Raises FileTrouble where it cannot be read, and FaultyPlan with all its faults.
    """
    return _plan_from_standard_input() if file == STANDARD_INPUT else load_plan(file)


def reckoning_from(file: Path, *, today: date | None = None) -> Reckoning:
    """Read the plan in a file and work it out; "-" is standard input, `today` asks if there is time.

    Raises FileTrouble where it cannot be read, and FaultyPlan with all its faults, those that only show in
    reckoning too, such as a piece that fits no empty kiln.
    """
    plan = plan_from(file)
    try:
        return reckon(plan, today=today)
    except FaultyPlan as faulty:
        raise FaultyPlan([replace(fault, file=name_of(file)) for fault in faulty.faults]) from None


def name_of(file: Path) -> str:
    """Say a file as a person would: "-" is standard input."""
    return _("standard input") if file == STANDARD_INPUT else str(file)


def _plan_from_standard_input() -> Plan:
    name = name_of(STANDARD_INPUT)
    # Python has no standard input at all where the shell closed it.
    written = b"" if sys.stdin is None else sys.stdin.buffer.read(LARGEST_BYTES + 1)
    if len(written) > LARGEST_BYTES:
        raise FileTrouble(_("{file}: too large for a plan (more than 2 MB)").format(file=name))
    try:
        return read_plan(written.decode("utf-8-sig"), file=name)
    except UnicodeDecodeError as trouble:
        raise FileTrouble(_("{file}: this is not text in UTF-8").format(file=name)) from trouble
