"""The room Accounts: statement and letters, an evening's page, the list to check, a copy without names."""

from datetime import date
from pathlib import Path
from typing import Final

from flask import Blueprint, render_template

from salebook.base.errors import WrongUseError
from salebook.base.words import _
from salebook.jobs.report import (
    before_forgetting,
    refuse_unless_final,
    report_lines,
    report_on,
    without_people_line,
    write_evening,
    write_report,
    write_without_people,
)
from salebook.jobs.verify import remarks, tables_of, verdict, verify_list, what_is_wrong
from salebook.page.done import show_done
from salebook.page.fields import day_in, file_in, is_ticked, text_in
from salebook.page.folder import the_folder

BOOKS: Final = ".xlsx"
LISTS: Final = ".csv"

accounts = Blueprint("accounts", __name__, url_prefix="/accounts")


@accounts.get("/")
def room() -> str:
    """Show what can be made of a filled-in workbook."""
    folder = the_folder()
    return render_template("accounts.html", books=folder.named(BOOKS))


@accounts.post("/report")
def report() -> str:
    """Make the accounts."""
    book = the_folder().file(text_in("book"))
    made = report_on(book, up_to=day_in("up_to", _("Up to the evening of")))
    if is_ticked("final"):
        refuse_unless_final(made)
    paths = write_report(made, _beside(book), today=date.today(), with_hours=is_ticked("hours"))
    title = _("The accounts are made") if made.is_final else _("The accounts are made, but are not final yet")
    return show_done(title, report_lines(made), asks=made.questions, files=paths)


@accounts.post("/evening")
def evening() -> str:
    """Make the page of one evening, for two people to sign."""
    book, day = the_folder().file(text_in("book")), day_in("day", _("The day"))
    if day is None:
        raise WrongUseError(_("Say of which day the page is to be."))
    made = report_on(book)
    paths = write_evening(made, day, _beside(book), today=date.today())
    says = _("Two people sign it, and each keeps one.")
    return show_done(_("The page of the evening is made"), [says], asks=made.questions, files=paths)


@accounts.post("/check")
def check() -> str:
    """Add a list up again, and compare it with a letter."""
    folder = the_folder()
    path = folder.file(folder.taken_in(file_in("file"), ending=LISTS, today=date.today()))
    found = verify_list(path, text_in("fingerprint"))
    return render_template(
        "verified.html",
        says=[verdict(found), *remarks(found)],
        wrong=list(what_is_wrong(found, str(path))),
        tables=list(tables_of(found)),
    )


@accounts.post("/forget")
def forget() -> str:
    """Say what holds names and what is still open; then, once that is read, write a copy without names."""
    name = text_in("book")
    book = the_folder().file(name)
    folder = _beside(book)
    if not is_ticked("sure"):
        made = report_on(book)
        return render_template("forget.html", book=name, says=before_forgetting(made, book, folder))
    copy = write_without_people(book, folder)
    return show_done(_("A copy without names"), [without_people_line(copy)], files=[copy])


def _beside(book: Path) -> Path:
    """Return the folder for the accounts of a book."""
    return the_folder().made(f"{book.stem}-accounts")
