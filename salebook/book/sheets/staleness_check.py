"""Stamps: the inputs from which a plain worked-out value came, and whether they have changed since."""

from collections.abc import Iterator, Sequence
from datetime import date

from salebook.base.words import _
from salebook.book.figure import Figure, Value, serial
from salebook.book.page import Content, Page, number
from salebook.book.table import Table, put_line
from salebook.making.loading import pieces_at
from salebook.reckoning import Reckoning

DIGITS = 6
"""Decimal places to which inputs are compared, so that floating-point noise is no change."""


Input = tuple[str, str, Value | date]
"""An input: what it is, the formula (without "=") that tells it now, and its value when worked out."""


def stamp_table(section: str) -> Table[Input]:
    """Declare a stamp: each input as it is now, beside its value when worked out."""
    table: Table[Input] = Table(section, "")

    def changed(row: Input) -> str:
        return "[now]<>[then]" if _format(row) == "text" else f"ROUND([now]-[then],{DIGITS})<>0"

    table.fixed("label", _("Input"), "small", lambda row: row[0])
    table.live("now", _("Now"), lambda row: f"result {_format(row)}", lambda row: row[1], _now)
    table.fixed("then", _("When worked out"), lambda row: f"worked {_format(row)}", _then)
    table.live("changed", _("Changed"), "worked whole", lambda row: f"IF({changed(row)},1,0)", lambda _row: 0)
    return table


def _format(row: Input) -> str:
    return "text" if isinstance(row[2], str) else "date" if isinstance(row[2], date) else "number"


def _now(row: Input) -> Value:
    return serial(row[2]) if isinstance(row[2], date) else row[2]


def _then(row: Input) -> Content:
    return row[2] if isinstance(row[2], str | date) else number(row[2])


def put_staleness_check(page: Page, name: str, says: str, inputs: Sequence[Input]) -> None:
    """Write a stamp; `name` is given to the number of inputs that have changed since."""
    page.band(says)
    placed = stamp_table(f"stamp.{name}").write(page, inputs)
    changed = Figure(f"=SUM([stamp.{name}.changed:])", 0)
    put_line(page, _("Changed since"), changed, "total whole", name=name, column=placed.column("now"))
    page.row += 1


def put_staleness_check_of_loads(page: Page, reckoning: Reckoning) -> None:
    """Write the stamp of the kiln loads."""
    put_staleness_check(
        page,
        "stale_loads",
        _("What the kiln loads were worked out from"),
        [*_kiln_inputs(reckoning), *_ware_inputs(reckoning)] if reckoning.studio.loadings else [],
    )


def _kiln_inputs(reckoning: Reckoning) -> list[Input]:
    kiln = reckoning.plan.kiln
    if kiln is None:
        return []
    shelf = kiln.shelf
    lengths = {
        "shelf.diameter": (_("Shelf across"), shelf.diameter),
        "shelf.width": (_("Shelf width"), shelf.width),
        "shelf.depth": (_("Shelf depth"), shelf.depth),
        "usable_height": (_("Height inside"), kiln.usable_height),
        "shelf_thickness": (_("Shelf thickness"), kiln.shelf_thickness),
        "clearance": (_("Above the tallest piece"), kiln.clearance),
        "gap": (_("Between pieces, glaze"), kiln.gap),
    }
    return [
        (_("Shelf"), "[kiln.shelf.shape]", shelf.shape),
        *(
            (label, f"SUM([kiln.{key}])", 0 if length is None else length.mm)
            for key, (label, length) in lengths.items()
        ),
        (_("Shelves owned"), "SUM([kiln.shelves])", kiln.shelves or 0),
    ]


def _ware_inputs(reckoning: Reckoning) -> Iterator[Input]:
    studio = reckoning.studio
    for loading in studio.loadings:
        label = {"biscuit": _("{code} to biscuit"), "glaze": _("{code} to glaze")}[loading.stage]
        for run in studio.runs:
            now = f"[starts.to_{loading.stage}@{run.ware.code}]"
            yield label.format(code=run.ware.code), now, pieces_at(loading.stage, run)
    for size in studio.sizes:
        for key, label, mm in (
            ("height", _("{code} height"), size.kiln_height_mm),
            ("diameter", _("{code} width"), size.kiln_diameter_mm),
        ):
            yield label.format(code=size.ware.code), f"SUM([sizes.kiln_{key}_mm@{size.ware.code}])", mm or 0
    for run in studio.runs:
        for key, label, most in (
            ("biscuit", _("{code} on a shelf, biscuit"), run.ware.per_shelf_biscuit),
            ("glaze", _("{code} on a shelf, glaze"), run.ware.per_shelf_glaze),
        ):
            yield label.format(code=run.ware.code), f"SUM([wares.per_shelf_{key}@{run.ware.code}])", most or 0
