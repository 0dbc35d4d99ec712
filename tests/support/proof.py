"""Two computations of every number: each stored result against what another program makes of its formula."""

import math
import os
import signal
import subprocess
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from tests.support.cells import (
    FormulaCell,
    Place,
    SheetError,
    Value,
    formula_cells,
    values_of,
    without_stored_results,
)
from tests.support.programs import libreoffice_command

__all__ = [
    "differences",
    "differing_cells",
    "formula_cells",
    "recalculated_by_libreoffice",
    "values_of",
    "without_stored_results",
]

SECONDS_TO_START = 60
SECONDS_PER_BOOK = 20
"""Longest that LibreOffice may take, far above what it takes."""

NEAR, NEAR_RELATIVE, NEAR_MONEY = 1e-7, 1e-9, 1e-6
"""How far apart two numbers may lie; large ones relatively, but never so far that it shows in money."""


HALF_A_DIGIT = 5e-15
"""Relative: some programs write 15 digits, of which the last, in squares of sums, is more than that."""


class NotRecalculatedError(AssertionError):
    """A program did not recalculate a workbook."""


@dataclass(frozen=True, kw_only=True)
class Forgiven:
    """A difference that is none, and why."""

    why: str
    holds: Callable[[Value, Value], bool]


def _is_number(value: Value) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _near(stored: Value, found: Value) -> bool:
    if not (_is_number(stored) and _is_number(found)):
        return False
    apart, size = abs(float(stored) - float(found)), abs(float(stored))
    least = max(NEAR, min(NEAR_MONEY, NEAR_RELATIVE * size), HALF_A_DIGIT * size)
    return math.isfinite(apart) and apart <= least


FORGIVEN = (
    Forgiven(why="floating-point sums differ in their last digits with the order of adding", holds=_near),
)


def same(stored: Value, found: Value) -> bool:
    """Whether a result is the stored one: same kind and value, or forgiven for a reason."""
    if isinstance(stored, SheetError) or isinstance(found, SheetError):
        return False
    alike = isinstance(stored, str) == isinstance(found, str) and isinstance(stored, bool) == isinstance(
        found, bool
    )
    return (alike and stored == found) or any(difference.holds(stored, found) for difference in FORGIVEN)


def differences(original: bytes, recalculated: Mapping[Place, Value]) -> list[str]:
    """Return one line for each formula cell whose stored result is not what was recalculated."""
    return list(differing_cells(original, recalculated).values())


def differing_cells(original: bytes, recalculated: Mapping[Place, Value]) -> dict[Place, str]:
    """Return the differences by the cell that they are in."""
    lines = {(f.sheet, f.cell): _difference(f, recalculated) for f in formula_cells(original)}
    return {place: line for place, line in lines.items() if line}


def _difference(cell: FormulaCell, recalculated: Mapping[Place, Value]) -> str:
    where = f"{cell.sheet}!{cell.cell} ={cell.formula}"
    if cell.stored is None:
        return f"{where}: no stored result"
    place = (cell.sheet, cell.cell)
    if place not in recalculated:
        return f"{where}: stored {cell.stored!r}, missing after recalculation"
    found = recalculated[place]
    if same(cell.stored, found):
        return ""
    shown = f"error {found}" if isinstance(found, SheetError) else repr(found)
    return f"{where}: stored {cell.stored!r}, recalculated {shown}"


def recalculated_by_libreoffice(books: Mapping[str, bytes], *, locale: str = "") -> dict[str, bytes]:
    """Return each workbook as LibreOffice saves it after working out every formula anew; one run for all.

    `locale` is the language and country, such as de-DE, in which it runs. Raises NotRecalculatedError where
    LibreOffice fails, takes too long or leaves a workbook out.
    """
    # LibreOffice trusts stored results even when told to recalculate: left in, the file would meet itself.
    return converted_by_libreoffice(
        {title: without_stored_results(book) for title, book in books.items()}, locale=locale
    )


def converted_by_libreoffice(
    books: Mapping[str, bytes], *, kinds: tuple[str, str] = ("xlsx", "xlsx"), locale: str = ""
) -> dict[str, bytes]:
    """Return each workbook as LibreOffice saves it; `kinds` are the kinds of file that it opens and saves."""
    if not books:
        return {}
    with tempfile.TemporaryDirectory(prefix="proof-") as name:
        folder = Path(name)
        given, made, profile = folder / "given", folder / "made", folder / "profile"
        given.mkdir()
        for title, book in books.items():
            (given / f"{title}.{kinds[0]}").write_bytes(book)
        if locale:
            (profile / "user").mkdir(parents=True)
            (profile / "user" / "registrymodifications.xcu").write_text(SETTINGS.format(locale=locale))
        said = _convert(sorted(given.iterdir()), made, kind=kinds[1], profile=profile)
        missing = [title for title in books if not (made / f"{title}.{kinds[1]}").exists()]
        if missing:
            raise NotRecalculatedError(f"LibreOffice made no {', '.join(missing)}:\n{said}")
        return {title: (made / f"{title}.{kinds[1]}").read_bytes() for title in books}


SETTINGS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Setup/L10N">
<prop oor:name="ooSetupSystemLocale" oor:op="fuse"><value>{locale}</value></prop>
</item>
</oor:items>
"""


def _convert(books: list[Path], folder: Path, *, kind: str, profile: Path) -> str:
    arguments = ["--convert-to", kind, "--outdir", str(folder), *map(str, books)]
    longest = SECONDS_TO_START + SECONDS_PER_BOOK * len(books)
    # LibreOffice starts children of its own, which only go when their whole session is ended.
    with subprocess.Popen(
        libreoffice_command(profile, *arguments),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        start_new_session=True,
    ) as run:
        try:
            said, _nothing = run.communicate(timeout=longest)
        except subprocess.TimeoutExpired as late:
            os.killpg(run.pid, signal.SIGKILL)
            raise NotRecalculatedError(
                f"LibreOffice took more than {longest} s for {len(books)} books"
            ) from late
    if run.returncode:
        raise NotRecalculatedError(f"LibreOffice ended with {run.returncode}:\n{said}")
    return said
