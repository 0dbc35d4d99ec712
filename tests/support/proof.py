"""Two computations of every number: each stored result against what another program makes of its formula."""

import contextlib
import io
import math
import os
import signal
import subprocess
import tempfile
import warnings
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import formulas
from formulas.functions import XlError
from schedula import EMPTY  # type: ignore[import-untyped]  # ships no types

from tests.support.cells import (
    FormulaCell,
    Place,
    SheetError,
    Value,
    formula_cells,
    parts_of,
    sheet_parts,
    values_of,
    without_stored_results,
)
from tests.support.programs import libreoffice_command

__all__ = [
    "differences",
    "differing_cells",
    "formula_cells",
    "recalculated_by_formulas",
    "recalculated_by_libreoffice",
    "values_of",
    "without_stored_results",
]

SECONDS_TO_START = 60
SECONDS_PER_BOOK = 20
"""Longest that LibreOffice may take, far above what it takes."""

NEAR, NEAR_RELATIVE, NEAR_MONEY = 1e-7, 1e-9, 1e-6
"""How far apart two numbers may lie; large ones relatively, but never so far that it shows in money."""


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
    return math.isfinite(apart) and (apart <= NEAR or apart <= min(NEAR_MONEY, NEAR_RELATIVE * size))


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


def recalculated_by_libreoffice(books: Mapping[str, bytes]) -> dict[str, bytes]:
    """Return each workbook as LibreOffice saves it after working out every formula anew; one run for all.

    Raises NotRecalculatedError where LibreOffice fails, takes too long or leaves a workbook out.
    """
    if not books:
        return {}
    with tempfile.TemporaryDirectory(prefix="proof-") as name:
        folder = Path(name)
        given, made = folder / "given", folder / "made"
        given.mkdir()
        for title, book in books.items():
            # LibreOffice trusts stored results even when told to recalculate: left in, the file would meet
            # itself.
            (given / f"{title}.xlsx").write_bytes(without_stored_results(book))
        said = _convert(sorted(given.iterdir()), made, profile=folder / "profile")
        missing = [title for title in books if not (made / f"{title}.xlsx").exists()]
        if missing:
            raise NotRecalculatedError(f"LibreOffice made no {', '.join(missing)}:\n{said}")
        return {title: (made / f"{title}.xlsx").read_bytes() for title in books}


def _convert(books: list[Path], folder: Path, *, profile: Path) -> str:
    arguments = ["--convert-to", "xlsx", "--outdir", str(folder), *map(str, books)]
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


def recalculated_by_formulas(xlsx: bytes) -> dict[Place, Value]:
    """Return what every cell shows after the package `formulas` has worked it out, at some 4 ms a cell."""
    titles = {title.upper(): title for title in sheet_parts(parts_of(xlsx))}
    with tempfile.TemporaryDirectory(prefix="proof-") as folder:
        path = Path(folder) / "book.xlsx"
        path.write_bytes(without_stored_results(xlsx))
        with warnings.catch_warnings(), contextlib.redirect_stderr(io.StringIO()):
            warnings.simplefilter("ignore")
            solution = _solve(path)
    return dict(_single_cells(solution, titles))


def _solve(path: Path) -> Mapping[str, Any]:
    solution: Mapping[str, Any] = formulas.ExcelModel().loads(str(path)).finish().calculate()
    return solution


def _single_cells(solution: Mapping[str, Any], titles: Mapping[str, str]) -> Iterator[tuple[Place, Value]]:
    for key, ranges in solution.items():
        sheet, separator, cell = str(key).rpartition("!")
        if separator and ":" not in cell and sheet.startswith("'[book.xlsx]"):
            title = titles.get(sheet[len("'[book.xlsx]") : -1].replace("''", "'"))
            if title is not None:
                yield (title, cell), _plain(ranges.value[0, 0])


def _plain(value: Any) -> Value:
    """Turn a value of the package into a plain one."""
    if value is None or value is EMPTY:
        return ""
    if isinstance(value, XlError):
        return SheetError(str(value))
    if isinstance(value, str):
        return str(value)
    plain: Value = value.item() if hasattr(value, "item") else value
    return plain
