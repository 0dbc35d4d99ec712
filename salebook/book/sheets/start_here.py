"""The sheet Start here: what the book is, how a sale goes, and whether all is well."""

from collections.abc import Sequence
from typing import Final

from salebook.base.words import _
from salebook.book.figure import Figure
from salebook.book.formulas import quoted
from salebook.book.page import Book, Page
from salebook.book.sheets.at_the_table import write_at_the_table
from salebook.book.sheets.checks import Check, checks_of
from salebook.book.sheets.row_height import fitted_row, grow_height
from salebook.book.sheets.sums_in_words import live_sentence
from salebook.event.entries import Unplaced
from salebook.event.event import Event
from salebook.plan.notes import assumptions
from salebook.reckoning import Reckoning
from salebook.say.find_out_first import find_out_first

WIDTHS: Final = (3, 33, 40, 31)


def write_start_here(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Start here."""
    sale = reckoning.plan.sale
    page = book.page(_("Start here"), widths=WIDTHS)
    page.title(
        str(sale.title),
        _(
            "This book goes with one sale of handmade pieces from the first bag of clay to "
            "the last penny for the groups. What you know stands on Plan; every other sheet "
            "follows from it, live. Straw cells are for you."
        ),
    )
    checks = checks_of(reckoning, event)
    state = page.row
    page.row += 2
    _write_steps(page)
    cells = _write_checks(page, checks)
    _write_state(page, state, checks, cells)
    write_at_the_table(page)
    _write_colours(page)
    _write_assumptions(page, reckoning)
    _write_unplaced(page, event.entries.unplaced)
    _write_help(page, book)


def _write_unplaced(page: Page, kept: Sequence[Unplaced]) -> None:
    """Write what the plan has no place for any more; nothing where there is nothing."""
    if not kept:
        return
    page.band(_("Kept from the book before: there is no place for it in this one"))
    page.headings(("sheet", "says"), (_("Sheet"), _("What stood there")), section="kept")
    for one in kept:
        fitted_row(page, (("kept", "key"), (one.sheet, "label"), (one.says, "label wrapped")), first_column=1)
    page.row += 1


def _write_state(page: Page, row: int, checks: tuple[Check, ...], cells: str) -> None:
    """Say in one line whether all is well."""
    wrong = sum(not check.holds for check in checks)
    count = f'SUMPRODUCT(({cells}<>"OK")*1)'
    well = _("All is well: every check below says OK.")
    one = _("1 thing needs a look: see the checks below.")
    several, said = live_sentence(
        _("{count} things need a look: see the checks below."), count=(count, str(wrong))
    )
    formula = f"=IF({count}=0,{quoted(well)},IF({count}=1,{quoted(one)},{several}))"
    page.put(row, 2, Figure(formula, (well, one)[wrong] if wrong < 2 else said), "bigger")
    page.highlight(f"B{row}", f"{count}>0", fill=None)
    page.sheet.row_dimensions[row].height = 24


def _write_steps(page: Page) -> None:
    page.band(_("The four steps of a sale"))
    page.headings(("step", "does", "sheets"), (_("Step"), _("What you do"), _("Sheets")), section="steps")
    steps = (
        (
            _("1 · Plan"),
            _(
                "Say what you will make, what it costs and what it should bring. Ask the "
                "groups. See what a price does."
            ),
            _("Plan, Costs, Price, Cautions"),
        ),
        (
            _("2 · Make"),
            _(
                "Weigh out, throw, dry, fire; tick off what came out of the kiln. Number the "
                "pieces, stick the labels on."
            ),
            _("Making, Firing, Pieces"),
        ),
        (
            _("3 · Sell"),
            _(
                "One line for each sale or gift: the piece's number and the way to pay are "
                "enough. Two people count the cash."
            ),
            _("Takings, Hand over, Cash-up, Progress"),
        ),
        (
            _("4 · Share out"),
            _(
                "Fill in what things really cost and the fees on the statement; pay each "
                "group its share when the money is there."
            ),
            _("Costs, Cash-up, Share-out"),
        ),
    )
    for step, does, sheets in steps:
        fitted_row(page, ((step, "strong wrapped"), (does, "label wrapped"), (sheets, "note wrapped")))
    page.row += 1


def _write_checks(page: Page, checks: tuple[Check, ...]) -> str:
    """Write a row for each check and return the cells that say OK."""
    page.band(_("The checks that are built in"))
    page.headings(
        ("check", "=state", "where"),
        (_("What is looked at"), _("How it stands"), _("Where to look")),
        section="checks",
    )
    first = page.row
    for check in checks:
        row = fitted_row(
            page,
            (
                (check.looks_at, "label wrapped"),
                (check.figure, "result wrapped"),
                (check.where, "note wrapped"),
            ),
        )
        grow_height(page, row, (3, check.trouble))
    cells = f"C{first}:C{page.row - 1}"
    page.highlight(cells, f'C{first}<>"OK"')
    page.row += 1
    return cells


def _write_colours(page: Page) -> None:
    page.band(_("Key to the colours"))
    colours = (
        (_("Yours to fill in"), "input text", _("straw, with a dotted frame: type here, nowhere else")),
        (_("Follows from the rest"), "result text", _("a live formula: it moves when you change something")),
        (
            _("Worked out by salebook"),
            "worked text",
            _("grey italics: no formula can give it; renew the book when it is stale"),
        ),
        (_("Needs a look"), "remark text", _("red: a remark in words, never only a colour")),
        (_("salebook's marks"), "key", _("tiny and grey: how the file is read back; leave them alone")),
    )
    for text, style, meaning in colours:
        page.put_row(((text, style), (meaning, "label")), first_column=2)
    page.row += 1


def _write_assumptions(page: Page, reckoning: Reckoning) -> None:
    page.band(_("What rests on an assumption"))
    first = find_out_first(reckoning.plan)
    if first:
        page.paragraph(_("Find these out first:"))
        for number, question in enumerate(first, start=1):
            page.paragraph(f"{number}. {question}")
    assumed = assumptions(reckoning.plan)
    page.paragraph(
        _("The plan did not say the following, so that salebook assumed it:")
        if assumed
        else _("Nothing: the plan says it all.")
    )
    for sentence in assumed:
        page.paragraph(f"· {sentence}", "note")
    page.row += 1


def _write_help(page: Page, book: Book) -> None:
    page.band(_("Good to know"))
    page.paragraph(
        _(
            "Sorting or filtering: sheets are protected without a password, so that formulas "
            "are not lost by mistake. To sort, unprotect the sheet (Review or Tools menu, "
            "Unprotect sheet), sort whole rows, and protect it again."
        )
    )
    page.paragraph(
        _(
            "Changed the plan a lot, or is something stale? “salebook renew” writes a fresh "
            "book with all that you filled in. After the sale “salebook report” writes the "
            "accounts and letters."
        )
    )
    page.headings(("id", "value"), (_("This sale's mark"), ""), section="book")
    own = ("this_book", _("this book's own, by which its lines are known")) if book.mark else None
    for name, says, mark in (
        ("sale_id", _("leave it as it is"), book.sale_id),
        *([(*own, book.mark)] if own else []),
    ):
        row = page.put_row(((name, "key"), (says, "label"), (mark, "worked text")))
        page.name(name, row, 3)
