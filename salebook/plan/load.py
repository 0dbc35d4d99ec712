"""From a file to a plan, or to everything that is wrong with it."""

import re
import tomllib
from collections.abc import Mapping
from decimal import Decimal, DecimalException
from pathlib import Path
from typing import Any

from salebook.base.errors import FaultyPlanError, FileError, error_text
from salebook.base.words import _
from salebook.plan.draft import read_draft
from salebook.plan.faults import Finding, shortened
from salebook.plan.likely_cause import likely_cause
from salebook.plan.model import Plan
from salebook.plan.rules import broken_rules

LARGEST_BYTES = 2_000_000

_AT_LINE = re.compile(r"\(at line ([0-9]+), column ([0-9]+)\)$")
_DOTTED = re.compile(r"(?<![\w.])(?:[\w\"'-]{1,60}[ \t]{0,9}\.[ \t]{0,9}){120}")
"""No name of a plan has so many dots; reading such a key would take minutes."""


def load_plan(path: Path) -> Plan:
    """Read a plan file (TOML).

    Raises FileError where it cannot be read, and FaultyPlanError with all its faults.
    """
    return read_plan(text_of(path), file=str(path))


def read_plan(text: str, *, file: str) -> Plan:
    """Read a plan's TOML text; `file` is the name that faults carry.

    Raises FaultyPlanError with all its faults.
    """
    return plan_from_mapping(tables_in(text, file=file), file=file)


def plan_from_mapping(data: Mapping[str, object], *, file: str) -> Plan:
    """Read a plan from its tables, as a TOML file or a workbook's Plan sheet holds them.

    Raises FaultyPlanError with all its faults.
    """
    draft = read_draft(data)
    findings = [*draft.findings, *broken_rules(draft)]
    if findings:
        raise FaultyPlanError([finding.in_file(file) for finding in findings])
    return draft.plan()


def text_of(path: Path) -> str:
    """Return the text of a plan file; raises FileError."""
    try:
        with path.open("rb") as file:  # no more than that, since a device may have no end
            content = file.read(LARGEST_BYTES + 1)
        if len(content) > LARGEST_BYTES:
            raise FileError(_("{file}: too large for a plan (more than 2 MB)").format(file=path))
        return content.decode("utf-8-sig")
    except FileNotFoundError as trouble:
        raise FileError(_("{file}: there is no such file").format(file=path)) from trouble
    except IsADirectoryError as trouble:
        raise FileError(_("{file}: this is a folder, not a plan file").format(file=path)) from trouble
    except UnicodeDecodeError as trouble:
        says = _("{file}: this is not a text file in UTF-8; save it as plain text, UTF-8")
        raise FileError(says.format(file=path)) from trouble
    except (OSError, ValueError) as trouble:
        says = _("{file}: cannot be read ({why})")
        raise FileError(says.format(file=path, why=error_text(trouble))) from trouble


def tables_in(text: str, *, file: str) -> dict[str, Any]:
    """Return the tables of a plan's text, whatever they hold; raises FaultyPlanError where it is no TOML."""
    try:
        if len(text) > LARGEST_BYTES or _DOTTED.search(text):
            raise RecursionError
        return tomllib.loads(_with_line_ends(text.removeprefix("\ufeff")), parse_float=Decimal)
    except tomllib.TOMLDecodeError as trouble:
        finding = _broken_line(text, str(trouble))
    except (RecursionError, ValueError, DecimalException, OverflowError):
        finding = Finding(
            place=(),
            found=_("a number, or brackets within brackets, beyond all measure"),
            expected=_("a plan such as salebook start --blank writes"),
        )
    raise FaultyPlanError([finding.in_file(file)])


def _with_line_ends(text: str) -> str:
    """Turn the line ends of old computers, a carriage return alone, into today's."""
    return text if "\n" in text else text.replace("\r", "\n")


def _broken_line(text: str, says: str) -> Finding:
    at = _AT_LINE.search(says)
    lines = text.splitlines() or [""]
    number = min(int(at[1]), len(lines)) if at else len(lines)
    line = lines[number - 1].strip()
    return Finding(
        place=(_("line {number}").format(number=number),),
        found=f"\N{LEFT DOUBLE QUOTATION MARK}{shortened(line)}\N{RIGHT DOUBLE QUOTATION MARK}",
        expected=_('a line such as price = 16 or name = "Mug", with texts in straight quotation marks'),
        hint=likely_cause(line, says),
    )
