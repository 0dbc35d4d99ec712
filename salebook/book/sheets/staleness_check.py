"""Stamps: the inputs from which a plain worked-out value came, and whether they have changed since."""

from collections.abc import Sequence
from datetime import date

from salebook.base.words import _
from salebook.book.figure import Figure, Value, serial
from salebook.book.page import Content, Page, number
from salebook.making.loading import pieces_at
from salebook.reckoning import Reckoning

DIGITS = 6
"""Decimal places to which inputs are compared, so that floating-point noise is no change."""


def put_staleness_check(
    page: Page, name: str, says: str, inputs: Sequence[tuple[str, str, Value | date]]
) -> None:
    """Write (label, formula without "=", value) rows, each beside its value when worked out.

    `name` is given to the number of inputs that have changed since.
    """
    page.band(says)
    page.headings(
        ("label", "now", "then", "changed"),
        (_("Input"), _("Now"), _("When worked out"), _("Changed")),
        section=f"stamp.{name}",
    )
    first = page.row
    for label, formula, value in inputs:
        row, (now, then, style) = page.row, _now_and_then(value)
        differs = f"C{row}<>D{row}" if style == "text" else f"ROUND(C{row}-D{row},{DIGITS})<>0"
        page.put_row(
            (
                (None, ""),
                (label, "small"),
                (Figure(f"={formula}", now), f"result {style}"),
                (then, f"worked {style}"),
                (Figure(f"=IF({differs},1,0)", 0), "worked whole"),
            )
        )
    last = page.row - 1
    changed = Figure(f"=SUM(E{first}:E{last})" if inputs else "=0", 0)
    row = page.put_row(((None, ""), (_("Changed since"), "label"), (changed, "total whole")))
    page.name(name, row, 3)
    page.row += 1


def _now_and_then(value: Value | date) -> tuple[Value, Content, str]:
    """Return an input as a formula gives it, as a plain cell holds it, and the style of both."""
    if isinstance(value, str):
        return value, value, "text"
    if isinstance(value, date):
        return serial(value), value, "date"
    return value, number(value), "number"


def put_staleness_check_of_loads(page: Page, reckoning: Reckoning) -> None:
    """Write the stamp of the kiln loads."""
    put_staleness_check(
        page,
        "stale_loads",
        _("What the kiln loads were worked out from"),
        [*_kiln_inputs(page, reckoning), *_ware_inputs(page, reckoning)] if reckoning.studio.loadings else [],
    )


def _kiln_inputs(page: Page, reckoning: Reckoning) -> list[tuple[str, str, Value]]:
    kiln = reckoning.plan.kiln
    if kiln is None:
        return []
    places, shelf = page.book.addresses, kiln.shelf
    lengths = {
        "shelf.diameter": (_("Shelf across"), shelf.diameter),
        "shelf.width": (_("Shelf width"), shelf.width),
        "shelf.depth": (_("Shelf depth"), shelf.depth),
        "usable_height": (_("Height inside"), kiln.usable_height),
        "shelf_thickness": (_("Shelf thickness"), kiln.shelf_thickness),
        "clearance": (_("Above the tallest piece"), kiln.clearance),
        "gap": (_("Between pieces, glaze"), kiln.gap),
    }
    found: list[tuple[str, str, Value]] = [(_("Shelf"), str(places["kiln", "", "shelf.shape"]), shelf.shape)]
    found += [
        (label, f"N({places['kiln', '', key]})", 0 if length is None else length.mm)
        for key, (label, length) in lengths.items()
    ]
    return [*found, (_("Shelves owned"), f"N({places['kiln', '', 'shelves']})", kiln.shelves or 0)]


def _ware_inputs(page: Page, reckoning: Reckoning) -> list[tuple[str, str, Value]]:
    found: list[tuple[str, str, Value]] = []
    for loading in reckoning.studio.loadings:
        column = {"biscuit": "ware_to_biscuit", "glaze": "ware_to_glaze"}[loading.stage]
        label = {"biscuit": _("{code} to biscuit"), "glaze": _("{code} to glaze")}[loading.stage]
        for n, run in enumerate(reckoning.studio.runs, start=1):
            pieces = pieces_at(loading.stage, run)
            found.append((label.format(code=run.ware.code), f"INDEX({column},{n})", pieces))
    for size in reckoning.studio.sizes:
        code = size.ware.code
        for key, label, mm in (
            ("height", _("{code} height"), size.kiln_height_mm),
            ("width", _("{code} width"), size.kiln_diameter_mm),
        ):
            found.append((label.format(code=code), f"N({page.book.addresses['sizes', code, key]})", mm or 0))
    for run in reckoning.studio.runs:
        code = run.ware.code
        for key, label, most in (
            ("per_shelf_biscuit", _("{code} on a shelf, biscuit"), run.ware.per_shelf_biscuit),
            ("per_shelf_glaze", _("{code} on a shelf, glaze"), run.ware.per_shelf_glaze),
        ):
            found.append(
                (label.format(code=code), f"N({page.book.addresses['wares', code, key]})", most or 0)
            )
    return found
