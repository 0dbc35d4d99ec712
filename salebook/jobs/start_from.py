"""The next sale's plan from a filled-in workbook, put into its file; never over one that is there unasked."""

from datetime import date, datetime
from pathlib import Path

from salebook.base.errors import FaultyPlanError, SalebookError, WrongUseError
from salebook.base.files import write_atomically
from salebook.base.words import _
from salebook.event.question import Question
from salebook.forecast.learned.lessons import Lessons
from salebook.jobs.forecast import BookForecast, forecast_from
from salebook.jobs.source import DASH, is_workbook
from salebook.jobs.start import agree_to_replace, check_place, refuse_if_there, tell_what_next, typed
from salebook.start.asking import Ask, Say, Terminal
from salebook.start.dialogue import faults_in
from salebook.start.locale_defaults import LocaleDefaults
from salebook.start.next_dialogue import NextSale, plan_as_proposed, plan_by_asking_anew


def lessons_from(book: Path, *, today: date | None, clock: datetime) -> BookForecast:
    """Read the workbook of a sale as it stood on the evening of a day, else as it stands.

    Raises WrongUseError where it is no workbook, and as `forecast_from` does.
    """
    if book.exists() and not is_workbook(book):
        says = _(
            "{file}: --from takes the filled-in workbook of a sale, such as pack/sale.xlsx. A plan alone has "
            "nothing to learn from: copy the file, and change what changes."
        )
        raise WrongUseError(says.format(file=book))
    return forecast_from(book, now=None, today=today, clock=clock)


def write_as_proposed(
    book: Path, file: Path, *, today: date | None, clock: datetime, say: Say, names_commands: bool = True
) -> tuple[Question, ...]:
    """Write the plan of the next sale with all as proposed; "-" is standard output.

    Returns what in the book needs a person. Raises as `lessons_from` does, FileError where the file is there
    already or cannot be written, FaultyPlanError where what is proposed does not go together.
    """
    if file != DASH:
        check_place(file)
        refuse_if_there(file)
    read = lessons_from(book, today=today, clock=clock)
    sale = _next_sale(read, today or clock.date())
    text = plan_as_proposed(sale)
    if faults := faults_in(text):
        raise FaultyPlanError(faults)
    if file == DASH:
        say(text.removesuffix("\n"))
    else:
        _tell(sale, read, say, names_commands=names_commands)
        write_atomically(file, text.encode())
        says = _("Days, title, target, numbers and prices are as proposed: look at them.")
        tell_what_next(file, says, say, names_commands=names_commands)
    return read.questions


def ask_for_next_plan(
    book: Path,
    file: Path,
    *,
    today: date | None,
    clock: datetime,
    ask: Ask,
    say: Say,
    on_terminal: bool,
) -> tuple[Question, ...]:
    """Say what a book taught, ask what changes, and write the plan of the next sale.

    Returns what in the book needs a person. Raises WrongUseError where there is nobody to ask, SalebookError
    where the person stops, FileError where the file cannot be written or is to stay as it is, and as
    `lessons_from` does.
    """
    if not on_terminal:
        says = _(
            "salebook start --from asks what changes, and there is no terminal to ask on. "
            "salebook start --from {book} {file} --yes takes what it proposes."
        )
        raise WrongUseError(says.format(book=typed(book), file=typed(file)))
    check_place(file)
    read = lessons_from(book, today=today, clock=clock)
    sale = _next_sale(read, today or clock.date())
    try:
        was_there = file.exists()
        if was_there:
            agree_to_replace(file, ask=ask, say=say)
        _tell(sale, read, say)
        text = plan_by_asking_anew(sale, Terminal(ask, say))
        if file.exists() and not was_there:
            agree_to_replace(file, ask=ask, say=say)
    except (EOFError, KeyboardInterrupt) as stop:
        says = _("Stopped: nothing was written.")
        raise SalebookError(f"\n{says}") from stop
    write_atomically(file, text.encode())
    say("")
    tell_what_next(file, "", say)
    return read.questions


def _next_sale(read: BookForecast, today: date) -> NextSale:
    return NextSale(lessons=Lessons(forecast=read.forecast), defaults=LocaleDefaults(today=today))


def _tell(sale: NextSale, read: BookForecast, say: Say, *, names_commands: bool = True) -> None:
    for line in sale.told():
        say(line)
    if read.to_look_at and names_commands:
        says = _("Something in the workbook needs a look first ({count}): salebook check {file}")
        say(says.format(count=read.to_look_at, file=typed(read.file)))
    say("")
