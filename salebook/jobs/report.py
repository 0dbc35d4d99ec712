"""The report on a filled-in workbook: reckoned, written into a folder, and told."""

from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path

from salebook.accounts.file import LINES, list_bytes
from salebook.accounts.lines import lines_of
from salebook.base.errors import NOT_FINAL, SalebookError
from salebook.base.files import write_atomically
from salebook.base.folders import free_name, make_folder
from salebook.base.words import _, ngettext
from salebook.book.file.forgetting import without_people
from salebook.book.read import BookRead, TillRead, read_book
from salebook.event.question import question_line
from salebook.event.report import Report, report_of
from salebook.jobs.names_left import names_left, names_left_lines
from salebook.jobs.source import reckoning_of
from salebook.plan.money import ZERO
from salebook.prints.after.evening import evening_html, evening_name
from salebook.prints.after.pack import CHECK, prints_after
from salebook.prints.after.page import status_lines
from salebook.prints.after.statement import told
from salebook.prints.pdf import pdfs_of
from salebook.prints.render import printer_for
from salebook.reckoning import Reckoning


class NotFinalError(SalebookError):
    """Final figures were asked for while something still needs a person."""

    exit_code = NOT_FINAL


def report_on(book: Path, *, up_to: date | None = None) -> Report:
    """Read a workbook and reckon its accounts, up to a day where one is given.

    Raises FileError where it cannot be read, WrongUseError where it is no sale's workbook, FaultyPlanError
    with all faults of its plan.
    """
    read = read_book(book)
    return report_in(read, reckoning_of(read.plan, file=book), up_to=up_to)


def report_in(read: BookRead | TillRead, reckoning: Reckoning, *, up_to: date | None = None) -> Report:
    """Reckon the accounts of a workbook that was read, up to a day where one is given."""
    return report_of(
        reckoning,
        read.entries,
        asked=read.questions,
        notes=read.notes,
        rows=read.rows,
        stored=read.stored,
        uncounted=read.uncounted,
        up_to=up_to,
    )


def refuse_unless_final(report: Report) -> None:
    """Refuse to go on while anything needs a look; raises NotFinalError with all of it."""
    if not report.is_final:
        raise NotFinalError("\n".join((*needs_a_look(report), _("Nothing was written."))))


def needs_a_look(report: Report) -> tuple[str, ...]:
    """Say that figures are not final, and each question with its place."""
    return (*status_lines(report), *(f"  {question_line(question)}" for question in report.questions))


def understood(report: Report) -> tuple[str, ...]:
    """Say what was read although it is typed loosely, so that the sheets' own sums may be others."""
    if not report.notes:
        return ()
    says = _("Understood, though the workbook's own sheets may count it otherwise:")
    return (says, *(f"  {question_line(note)}" for note in report.notes))


def report_lines(report: Report) -> tuple[str, ...]:
    """Say the sums of a report, and what was understood."""
    return (*told(report), *understood(report))


def write_report(
    report: Report,
    folder: Path,
    *,
    today: date,
    with_hours: bool = False,
    with_people: bool = True,
    templates: Path | None = None,
    as_pdf: bool = False,
) -> tuple[Path, ...]:
    """Write the prints, dated `today`, and the table for a bookkeeper into a folder; return their paths.

    The list of what is to hand over, which names people, is written only `with_people`, and never for an
    interim report, since it goes by the book as it stands now. `as_pdf` adds each print as PDF. Raises
    FileError where the folder cannot be written to, and as `printer_for`, `prints_after`
    and `pdfs_of` do.
    """
    with_people = with_people and report.up_to is None
    printer = printer_for(report.plan, templates)
    prints = prints_after(printer, report, today=today, with_hours=with_hours, with_people=with_people)
    return _written(prints, folder, as_pdf=as_pdf, more={LINES: list_bytes(lines_of(report))})


def write_evening(
    report: Report,
    day: date,
    folder: Path,
    *,
    today: date,
    templates: Path | None = None,
    as_pdf: bool = False,
) -> tuple[Path, ...]:
    """Write the page of one day's evening, dated `today`, into a folder; return its path, and its PDF's.

    Raises WrongUseError where no line is of that day, and as `write_report` does.
    """
    page = evening_html(printer_for(report.plan, templates), report, day, today=today)
    return _written({evening_name(day): page}, folder, as_pdf=as_pdf)


def _written(
    prints: Mapping[str, str], folder: Path, *, as_pdf: bool, more: Mapping[str, bytes] | None = None
) -> tuple[Path, ...]:
    files = {name: text.encode() for name, text in prints.items()} | dict(more or {})
    if as_pdf:
        files |= pdfs_of({name: text for name, text in prints.items() if name != CHECK})
    make_folder(folder)
    for name, content in files.items():
        write_atomically(folder / name, content)
    return tuple(folder / name for name in files)


def still_open(report: Report) -> Iterator[str]:
    """Say what is not handed over, paid or arrived yet; nothing where nobody waits."""
    sale = report.plan.sale
    sent = sum(waiting.is_sent for waiting in report.waiting)
    owed = [waiting.to_pay for waiting in report.waiting if waiting.to_pay]
    promised = sum((line.waiting for line in report.event.state.lines), ZERO)
    if report.waiting:
        yield _not_handed_over(len(report.waiting) - sent, sent)
    if owed:
        says = ngettext(
            "{count} of them still owes {sum}.", "{count} of them still owe {sum} together.", len(owed)
        )
        yield says.format(count=len(owed), sum=sale.format_money(sum(owed, ZERO)))
    if promised:
        yield _("{sum} is promised and has not arrived.").format(sum=sale.format_money(promised))
    if report.waiting or promised:
        yield _(
            "The copy without names does not say whose: keep the book with its sheet Hand over until all is "
            "done."
        )


def before_forgetting(report: Report, book: Path, folder: Path) -> tuple[str, ...]:
    """Say what is still open, and which files in the book's folder and in that of the prints hold names.

    Raises as read_any_book does for the book.
    """
    return (*still_open(report), *names_left_lines(names_left(book, folder, report)))


def without_people_line(copy: Path) -> str:
    """Say that a copy without names was written."""
    return _("Made {copy}: nobody stands on its sheet Hand over.").format(copy=copy)


def _not_handed_over(fetched: int, sent: int) -> str:
    if not sent:
        says = _("Not handed over yet: {fetched} to fetch.")
    elif not fetched:
        says = _("Not handed over yet: {sent} to send.")
    else:
        says = _("Not handed over yet: {fetched} to fetch, {sent} to send.")
    return says.format(fetched=fetched, sent=sent)


def write_without_people(book: Path, folder: Path) -> Path:
    """Write a copy of a workbook with Hand over emptied into a folder, and return its path.

    Raises FileError where the workbook has no such sheet, or the folder cannot be written to.
    """
    copy = without_people(book.read_bytes(), file=str(book))
    make_folder(folder)
    path = free_name(folder / book.name, "without-people")
    write_atomically(path, copy)
    return path
