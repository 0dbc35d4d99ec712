"""The sheet Start here: what the book is, how a sale goes, and whether all is well."""

from collections.abc import Sequence
from operator import itemgetter
from typing import Final

from salebook.base.words import N_, _
from salebook.book.figure import Figure
from salebook.book.formulas import quoted
from salebook.book.page import Book, Page
from salebook.book.row_height import grow_height
from salebook.book.sheets.at_the_table import write_at_the_table
from salebook.book.sheets.checks import Check, checks_of
from salebook.book.sheets.sums_in_words import live_sentence
from salebook.book.table import Table
from salebook.event.entries import Unplaced
from salebook.event.event import Event
from salebook.plan.notes import assumptions
from salebook.reckoning import Reckoning
from salebook.say.find_out_first import find_out_first

WIDTHS: Final = (3, 33, 40, 31)

STEPS: Final = (
    (
        N_("1 · Plan"),
        N_(
            "Say what you will make, what it costs and what it should bring. Ask the "
            "groups. See what a price does."
        ),
        N_("Plan, Costs, Price, Cautions"),
    ),
    (
        N_("2 · Make"),
        N_(
            "Weigh out, throw, dry, fire; tick off what came out of the kiln. Number the "
            "pieces, stick the labels on."
        ),
        N_("Making, Firing, Pieces"),
    ),
    (
        N_("3 · Sell"),
        N_(
            "One line for each sale or gift: the piece's number and the way to pay are "
            "enough. Two people count the cash."
        ),
        N_("Takings, Hand over, Cash-up, Progress"),
    ),
    (
        N_("4 · Share out"),
        N_(
            "Fill in what things really cost and the fees on the statement; pay each "
            "group its share when the money is there."
        ),
        N_("Costs, Cash-up, Share-out"),
    ),
)
"""The steps of a sale: what one does, and on which sheets."""

COLOURS: Final = (
    (N_("Yours to fill in"), "input text", N_("yellow, with a dotted frame: type here, nowhere else")),
    (N_("Follows from the rest"), "result text", N_("a live formula: it moves when you change something")),
    (
        N_("Worked out by salebook"),
        "worked text",
        N_("grey italics: no formula can give it; when it is old, run: salebook renew"),
    ),
    (N_("Needs a look"), "remark text", N_("red: a remark in words, never only a colour")),
    (
        N_("salebook's marks"),
        "key",
        N_("tiny and grey, and in hidden rows: how the file is read back; leave them alone"),
    ),
)
"""What the looks of cells mean: words, the look, the meaning."""


def write_start_here(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Start here."""
    sale = reckoning.plan.sale
    page = book.page(N_("Start here"), widths=WIDTHS)
    page.title(
        str(sale.title),
        _(
            "This book goes with one sale of handmade pieces from the first bag of clay to "
            "the last penny for the groups. What you know stands on Plan; every other sheet "
            "follows from it, live. Yellow boxes are for you."
        ),
    )
    checks = checks_of(reckoning, event)
    _write_state(page, checks)
    page.band(_("The four steps of a sale"))
    steps_table().write(page, STEPS)
    page.row += 1
    _write_checks(page, checks)
    write_at_the_table(page)
    _write_colours(page)
    _write_assumptions(page, reckoning)
    _write_unplaced(page, event.entries.unplaced)
    _write_help(page, book)
    page.print_so_far()


def kept_table() -> Table[Unplaced]:
    """Declare the table of what the plan has no place for any more."""
    table: Table[Unplaced] = Table("kept", N_("Start here"), fitted=True)
    table.fixed("sheet", _("Sheet"), "label", read=True)
    table.fixed("says", _("What stood there"), "label wrapped", read=True)
    return table


def _write_unplaced(page: Page, kept: Sequence[Unplaced]) -> None:
    if kept:
        page.band(_("Kept from the book before: there is no place for it in this one"))
        kept_table().write(page, kept)
        page.row += 1


def _write_state(page: Page, checks: Sequence[Check]) -> None:
    """Say in one line whether all is well."""
    wrong = sum(not check.holds for check in checks)
    page.put(
        *(page.row, len(page.widths) + 2),
        Figure('=SUMPRODUCT(([checks.state:]<>"OK")*1)', wrong),
        "small whole",
    )
    count = page.address(page.row, len(page.widths) + 2).rpartition("!")[2]
    well = _("All is well: every check below says OK.")
    one = _("1 thing needs a look: see the checks below.")
    several, said = live_sentence(
        _("{count} things need a look: see the checks below."), count=(count, str(wrong))
    )
    formula = f"=IF({count}=0,{quoted(well)},IF({count}=1,{quoted(one)},{several}))"
    page.put(page.row, 2, Figure(formula, (well, one)[wrong] if wrong < 2 else said), "bigger")
    page.highlight(page.sheet.cell(page.row, 2).coordinate, f"{count}>0", fill=None)
    page.sheet.row_dimensions[page.row].height = 24
    page.row += 2


def steps_table() -> Table[tuple[str, str, str]]:
    """Declare the table of the steps of a sale."""
    table: Table[tuple[str, str, str]] = Table("sale_steps", N_("Start here"), fitted=True)
    table.fixed("step", _("Step"), "strong wrapped", lambda row: _(row[0]))
    table.fixed("does", _("What you do"), "label wrapped", lambda row: _(row[1]))
    table.fixed("sheets", _("Sheets"), "note wrapped", lambda row: _(row[2]))
    return table


def checks_table() -> Table[Check]:
    """Declare the table of the checks that are built in."""
    table: Table[Check] = Table("checks", N_("Start here"), fitted=True)
    table.fixed("check", _("What is looked at"), "label wrapped", lambda check: check.looks_at)
    table.fixed(
        *("=state", _("How it stands"), "result wrapped", lambda check: check.figure),
        alarm='[state]<>"OK"',
    )
    table.fixed("where", _("Where to look"), "note wrapped")
    return table


def _write_checks(page: Page, checks: Sequence[Check]) -> None:
    page.band(_("The checks that are built in"))
    placed = checks_table().write(page, checks)
    for row, check in zip(placed.rows.values(), checks, strict=True):
        grow_height(page, row, (placed.column("state"), check.trouble))
    page.row += 1


def _write_colours(page: Page) -> None:
    page.band(_("Key to the colours"))
    for text, style, meaning in COLOURS:
        page.put_row(((_(text), style), (_(meaning), "label")), first_column=2)
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
            "Changed the plan a lot, or is some figure old? “salebook renew” writes a fresh "
            "book with all that you filled in. After the sale “salebook report” writes the "
            "accounts and letters."
        )
    )
    ids = [("sale_id", _("leave it as it is"), book.sale_id)]
    if book.book_id:
        ids.append(("this_book", _("this book's own, by which its lines are known"), book.book_id))
    placed = ids_table().write(page, ids)
    for name, row in placed.rows.items():
        page.name(name, row, placed.column("value"))


def ids_table() -> Table[tuple[str, str, str]]:
    """Declare the table of the ids by which salebook knows the sale and the book."""
    table: Table[tuple[str, str, str]] = Table(
        "book", N_("Start here"), record=itemgetter(0), mark=itemgetter(0)
    )
    table.fixed("id", _("This sale's mark"), "label", itemgetter(1))
    table.fixed("value", "", "worked text", itemgetter(2))
    return table
