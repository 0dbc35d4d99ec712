"""The part of the sheet Making that shows the chance of enough for each number started."""

from itertools import islice

from openpyxl.utils import get_column_letter

from salebook.base.rounding import TOLERANCE
from salebook.base.rounding import ceil as rounded_up
from salebook.base.words import _
from salebook.book.figure import Figure
from salebook.book.formulas import up
from salebook.book.page import Page
from salebook.book.sheets.row_height import named_row
from salebook.making.losses import Run, chance_of_enough, one_loss

ROWS_AFTER = 8
"""Numbers shown beyond the chosen one, so that the plan can be changed some way before the table runs out."""
SIDE_BY_SIDE = 5
"""Wares beside each other; more of them start a new block below."""


def put_one_loss(page: Page, runs: tuple[Run, ...]) -> None:
    """Write what one piece surely lost, or surely good, does to the chance of enough."""
    page.band(_("What one more or one fewer loss would do to the chance of enough"))
    page.headings(
        ("name", "code", "more", "chance", "fewer"),
        (_("Name"), _("Code"), _("One surely lost"), _("As planned"), _("One surely good")),
        section="one_loss",
    )
    for run in runs:
        _one_loss_row(page, run)
    page.row += 1


def _one_loss_row(page: Page, run: Run) -> None:
    row = page.book.addresses["making", run.ware.code, "row"]
    good = f"J{page.book.addresses['making', run.ware.code, 'shares']}"
    change = one_loss(run)
    # BINOMDIST fails outside 0 to k.
    more = f"=IF(E{row}-1<D{row},0,1-BINOMDIST(D{row}-1,E{row}-1,{good},TRUE))"
    fewer = f"=IF(D{row}<=1,1,1-BINOMDIST(D{row}-2,E{row}-1,{good},TRUE))"
    page.put_row(
        (
            ("one_loss", "key"),
            (Figure(f"=B{row}", run.ware.name), "result wrapped"),
            (Figure(f"=C{row}", run.ware.code), "result text"),
            (Figure(more, change.more), "result percent"),
            (Figure(f"=F{row}", run.chance_of_enough), "result percent"),
            (Figure(fewer, change.fewer), "result percent"),
        )
    )


def put_chances(page: Page, runs: tuple[Run, ...]) -> None:
    """Write a small table for each ware: number started, chance of enough; the chosen one is marked."""
    page.band(_("How sure is enough? Each number started and its chance"))
    page.paragraph(
        _("The smallest number whose chance is as high as you want to be sure is taken (marked)."), "note"
    )
    numbered = iter(enumerate(runs, start=1))
    while block := tuple(islice(numbered, SIDE_BY_SIDE)):
        _block(page, block)
    _whether_tables_suffice(page, runs)


def _block(page: Page, block: tuple[tuple[int, Run], ...]) -> None:
    heading = page.row
    for at, (n, run) in enumerate(block):
        _table(page, heading, 3 + 2 * at, n, run)
    page.row = heading + 3 + max(_rows(run) for _n, run in block) + 1


def first_started(run: Run) -> int:
    """Return the smallest number that could do: below it fewer than the wanted come through on average."""
    if run.ware.wanted == 1:
        return 1
    return max(run.ware.wanted, rounded_up((run.ware.wanted - 1) / run.good_share))


def _rows(run: Run) -> int:
    return run.started - first_started(run) + 1 + ROWS_AFTER


def _table(page: Page, top: int, column: int, n: int, run: Run) -> None:
    ware, place = run.ware, page.book.addresses
    row_of_run = place["making", ware.code, "row"]
    good = f"J{place['making', ware.code, 'shares']}"
    first, rows = first_started(run), _rows(run)
    here, beside = get_column_letter(column), get_column_letter(column + 1)
    start, end = top + 3, top + 2 + rows
    page.put(top, column, Figure(f"=C{row_of_run}", ware.code), "heading text")
    page.put(top, column + 1, None, "heading")
    below = run.started - first
    chances = f"{beside}{start}:{beside}{end}"
    page.put(top + 1, column, _("below"), "small")
    page.put(
        top + 1,
        column + 1,
        Figure(f"=SUMPRODUCT(({chances}<confidence-forgiven_chance)*1)", below),
        "worked whole",
    )
    page.name(f"chances_below_{n}", top + 1, column + 1)
    page.put(top + 2, column, _("started"), "small")
    page.put(top + 2, column + 1, _("chance"), "small")
    lowest = f"=MAX(D{row_of_run},{up(f'(D{row_of_run}-1)/{good}')})"
    for index in range(rows):
        row, started = start + index, first + index
        formula = lowest if index == 0 else f"={here}{row - 1}+1"
        page.put(row, column, Figure(formula, started), "result whole")
        chance = f"=1-BINOMDIST($D${row_of_run}-1,{here}{row},{good},TRUE)"
        value = chance_of_enough(started, ware.wanted, float(run.good_share))
        page.put(row, column + 1, Figure(chance, value), "result percent")
    page.name(f"starting_from_{n}", start, column)
    page.name(f"chances_{n}", start, column + 1, last_row=end)
    page.highlight(
        f"{here}{start}:{beside}{end}", f"${here}{start}=$E${row_of_run}", fill="DCE9E4", colour="22313F"
    )


def _whether_tables_suffice(page: Page, runs: tuple[Run, ...]) -> None:
    forgiven = _("Forgiven in comparing chances")
    named_row(page, "forgiven_chance", forgiven, float(TOLERANCE), "worked number")
    enough = ",".join(f"chances_below_{n}<ROWS(chances_{n})" for n in range(1, len(runs) + 1))
    said, figure = _("Every table is long enough (1: yes)"), Figure(f"=IF(AND({enough}),1,0)", 1)
    named_row(page, "making_table_ok", said, figure, "worked whole")
    page.row += 1
