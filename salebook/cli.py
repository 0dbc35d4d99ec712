"""The commands: arguments in, messages and exit codes out; no arithmetic."""
# ruff: noqa: PLC0415  each command imports the rooms that it needs, so that --help is quick

import io
import json
import os
import sys
import traceback
from collections.abc import Sequence
from contextlib import suppress
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from salebook import __version__
from salebook.errors import SalebookError

if TYPE_CHECKING:
    from salebook.event.question import Question
    from salebook.reckoning import Reckoning

DONE, COULD_NOT, NOT_FINAL = 0, 1, 3
MOST_TILLS = 50
TRACE = "SALEBOOK_TRACE"

PLAN = click.argument("plan", type=click.Path(path_type=Path))
FOLDER = click.Path(path_type=Path)
FORCE = click.option(
    "--force", is_flag=True, help="Overwrite a workbook with entries in it, and keep a dated copy."
)
TODAY = click.option(
    "--today",
    type=click.DateTime(formats=["%Y-%m-%d"]),
    help="The day from which to reckon if there is time, as year-month-day; without it, the computer's date.",
)
TEMPLATES = click.option("--templates", type=FOLDER, help="Folder of your own templates, which come first.")
PDF = click.option("--pdf", "as_pdf", is_flag=True, help="PDF as well; needs: pip install 'salebook[pdf]'.")
JSON = click.option("--json", "as_json", is_flag=True, help="Print one JSON object and nothing else.")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code.

    0 done, 1 could not, 2 wrong use or a faulty plan, 3 done but lines need a person.

    Whatever goes wrong is said in plain words on standard error; where the environment has SALEBOOK_TRACE,
    the traceback of what nobody foresaw follows.
    """
    _bear_any_text()
    try:
        code = commands.main(args=arguments, prog_name="salebook", standalone_mode=False)
        _flush()
    except BrokenPipeError:
        return _let_go()
    except Exception as trouble:
        return _tell(trouble)
    return code if isinstance(code, int) else DONE


def _tell(trouble: Exception) -> int:
    """Say what went wrong in plain words and return the exit code."""
    match trouble:
        case click.ClickException():
            trouble.show()
            return trouble.exit_code
        case SalebookError():
            _complain(str(trouble))
            return trouble.exit_code
        case click.Abort():
            _complain("Stopped.")
        case OSError():
            _complain(_could_not(trouble))
            return _let_go()
        case _:
            _complain(_unforeseen(trouble))
    return COULD_NOT


@click.group(name="salebook", context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, message="%(prog)s %(version)s")
def commands() -> None:
    """From one plan to a charity sale of handmade pieces.

    Write a plan, look at its price advice, make the sale pack.

    \b
    Examples:
      salebook demo
      salebook start
      salebook check plan.toml
      salebook price plan.toml
      salebook make plan.toml -o pack
    """


@commands.command()
@click.argument("file", default="plan.toml", type=click.Path(path_type=Path))
@click.option("--blank", is_flag=True, help="Ask nothing: write a plan with example values to change.")
def start(file: Path, *, blank: bool) -> None:
    """Ask a dozen questions and write a plan.

    FILE is where the plan goes; without it, plan.toml. With --blank it may be -, standard output.

    \b
    Examples:
      salebook start
      salebook start spring.toml
      salebook start spring.toml --blank
    """
    from salebook.first_plan import ask_for_plan, write_blank_plan
    from salebook.start.home import home_of

    home = home_of(os.environ, today=date.today())
    if blank:
        write_blank_plan(file, home, say=click.echo)
    else:
        ask_for_plan(file, home, ask=_ask, say=click.echo, on_terminal=_is_on_terminal())


@commands.command()
@click.argument("files", metavar="FILE...", nargs=-1, required=True, type=click.Path(path_type=Path))
@JSON
def check(files: tuple[Path, ...], *, as_json: bool) -> int:
    """List everything that is wrong in a plan or a filled-in workbook; changes nothing.

    FILE is a plan (.toml), - for standard input, or a workbook made by salebook. The exit code is 3 where
    rows of a workbook need a person.

    \b
    Examples:
      salebook check plan.toml
      salebook check sale.xlsx
    """
    from salebook.checking import check_answer, check_file, check_lines

    checks = [check_file(file) for file in files]
    if as_json:
        _answer({"files": [check_answer(each) for each in checks]})
    else:
        for each in checks:
            click.echo(_harmless("\n".join(check_lines(each))), err=bool(each.trouble))
    return max(each.exit_code for each in checks)


@commands.command()
@PLAN
@TODAY
@JSON
def price(plan: Path, *, today: datetime | None, as_json: bool) -> None:
    """Show the costing and the price advice.

    PLAN is a .toml file, - for standard input, or a workbook made by salebook.

    \b
    Examples:
      salebook price plan.toml
      salebook price plan.toml --today 2027-03-01
      salebook price plan.toml --json
    """
    from salebook.source import reckoning_from

    reckoning = reckoning_from(plan, today=_day(today))
    if as_json:
        from salebook.answer import price_answer

        _answer(price_answer(reckoning))
    else:
        from salebook.terminal import open_console, show_price

        show_price(reckoning, open_console())


@commands.command()
@PLAN
@click.option(
    "-o", "--out", "folder", required=True, type=FOLDER, help="Folder for the pack; made where missing."
)
@TODAY
@FORCE
@TEMPLATES
@PDF
@click.option(
    "--tills",
    type=click.IntRange(0, MOST_TILLS),
    default=0,
    help="A workbook for each of so many tables too; join them afterwards.",
)
def make(
    plan: Path,
    folder: Path,
    *,
    today: datetime | None,
    force: bool,
    templates: Path | None,
    as_pdf: bool,
    tills: int,
) -> None:
    """Make the sale pack: the workbook and the prints.

    PLAN is a .toml file, - for standard input, or a workbook made by salebook.

    \b
    Examples:
      salebook make plan.toml -o pack
      salebook make plan.toml -o pack --tills 2
      salebook make plan.toml -o pack --pdf
    """
    from salebook.source import reckoning_from

    reckoning = reckoning_from(plan, today=_day(today))
    _make(reckoning, folder, force=force, templates=templates, as_pdf=as_pdf, tills=tills)


@commands.command()
@click.argument("book", type=click.Path(path_type=Path))
@click.option("--plan", type=click.Path(path_type=Path), help="The changed plan; without it, the book's own.")
@TODAY
def renew(book: Path, *, plan: Path | None, today: datetime | None) -> int:
    """Write a fresh workbook after a change of plan, with all that was filled in.

    BOOK stays as it is; the fresh one stands beside it and is called NAME-renewed.xlsx. What the changed plan
    has no place for is kept there and asked about; the exit code is then 3.

    \b
    Examples:
      salebook renew sale.xlsx
      salebook renew sale.xlsx --plan plan.toml
    """
    from salebook.renewing import renew as renew_book

    made = renew_book(book, plan=plan, today=_day(today))
    click.echo(f"Made {made.path}: everything that was filled in in {book} stands in it.")
    _tell_copy(made.kept_copy)
    return _ask_about(made.questions)


@commands.command()
@click.argument("books", metavar="BOOK...", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option(
    "-o",
    "--out",
    required=True,
    type=click.Path(path_type=Path),
    help="The workbook to write, such as all.xlsx.",
)
@click.option(
    "--plan", type=click.Path(path_type=Path), help="The plan, where no BOOK is the sale's own workbook."
)
@FORCE
def join(books: tuple[Path, ...], *, out: Path, plan: Path | None, force: bool) -> int:
    """Put the workbooks of several tables into one.

    BOOK is the workbook of a table, or the sale's own, which holds the plan; where none is, sale.xlsx beside
    the first is read too. A line that stands in two copies counts once. The exit code is 3 where lines
    contradict one another.

    \b
    Examples:
      salebook join sale.xlsx sale-till-1.xlsx sale-till-2.xlsx -o all.xlsx
    """
    from salebook.joining import join_books

    made = join_books(books, out, plan=plan, force=force, today=date.today())
    click.echo(f"Made {made.path}: {made.lines} lines of takings in the order of time.")
    for note in made.notes:
        click.echo(_harmless(f"  good to know: {note}"))
    _tell_copy(made.kept_copy)
    return _ask_about(made.questions)


def _tell_copy(copy: Path | None) -> None:
    if copy:
        click.echo(f"The workbook that stood there before is now {copy}.")


def _ask_about(questions: "Sequence[Question]") -> int:
    from salebook.checking import question_line

    for question in questions:
        _complain(f"  to look at: {question_line(question)}")
    return NOT_FINAL if questions else DONE


@commands.command()
@click.argument("source", metavar="PLAN|BOOK", type=click.Path(path_type=Path))
@click.option(
    "-o", "--out", "file", type=FOLDER, help="The file to write; - is standard output.  [labels.html]"
)
@click.option("--only", default="", help='Some pieces: "LAN-003,LAN-007..012".')
@click.option("--made", is_flag=True, help="From a workbook: only wares whose count out of the kiln is in.")
@click.option("--without-reserved", is_flag=True, help="From a workbook: leave out what is spoken for.")
@click.option("--skip", default=0, help="Labels at the start of the first sheet that are used already.")
@click.option("--nudge", default="0,0", help='Move all labels, mm to the right and down: "0.5,-1".')
@click.option(
    "--outline", is_flag=True, help="Print the outlines and a ruler instead, to try on plain paper."
)
@click.option("--tags", is_flag=True, help="Tie-on cards with a stub in place of labels.")
@TEMPLATES
@click.option(
    "--pdf", "as_pdf", is_flag=True, help="PDF in place of HTML; needs: pip install 'salebook[pdf]'."
)
def labels(
    source: Path,
    *,
    file: Path | None,
    only: str,
    made: bool,
    without_reserved: bool,
    skip: int,
    nudge: str,
    outline: bool,
    tags: bool,
    templates: Path | None,
    as_pdf: bool,
) -> int:
    """Print labels, or tie-on cards, for all pieces or some.

    PLAN is a .toml file, - is standard input; BOOK is a sale's workbook, whose pieces that are sold or were
    not made get no label unless --only names them.

    \b
    Examples:
      salebook labels plan.toml
      salebook labels plan.toml --outline -o outline.html
      salebook labels sale.xlsx --only LAN-003,LAN-007..012 --skip 5 --nudge 0.5,-1
      salebook labels sale.xlsx --made --tags
    """
    from salebook.labelling import LabelOptions, labelling_from, print_remarks, printed

    options = LabelOptions(
        only=only, skip=skip, nudge=nudge, outline=outline, tags=tags, templates=templates, as_pdf=as_pdf
    )
    labelling = labelling_from(source, only=only, only_made=made, without_reserved=without_reserved)
    _put(printed(labelling, options), file or options.usual_file)
    for remark in print_remarks(labelling, options):
        _complain(remark)
    return NOT_FINAL if labelling.questions else DONE


@commands.command()
@click.argument("book", type=click.Path(path_type=Path))
@click.option("-o", "--out", "folder", type=FOLDER, help="Folder for the prints; made where missing.")
@click.option(
    "--up-to",
    type=click.DateTime(formats=["%Y-%m-%d"]),
    help="An interim report: the sale as it stood on the evening of this day, as year-month-day.",
)
@click.option("--final", is_flag=True, help="Write nothing while anything still needs a look.")
@click.option("--hours", is_flag=True, help="Say on the statement how many hours the maker gave.")
@click.option("--forget", is_flag=True, help="Write a copy of the book with Hand over emptied.")
@TEMPLATES
@PDF
@JSON
def report(
    book: Path,
    folder: Path | None,
    *,
    up_to: datetime | None,
    final: bool,
    hours: bool,
    forget: bool,
    templates: Path | None,
    as_pdf: bool,
    as_json: bool,
) -> int:
    """Make the accounts after the sale: statement, letters, thanks, poster, what is to hand over.

    BOOK is the filled-in workbook. The exit code is 3 while lines need a look: the figures are not final.

    \b
    Examples:
      salebook report sale.xlsx -o accounts
      salebook report sale.xlsx -o interim --up-to 2027-06-19
      salebook report sale.xlsx --json
      salebook report sale.xlsx -o accounts --final --forget
    """
    from salebook.prints.statement import sentences
    from salebook.report import needs_a_look, refuse_unless_final, report_on, write_report

    _refuse_to_mix(folder, up_to, final=final, as_json=as_json, forget=forget)
    made = report_on(book, up_to=up_to.date() if up_to else None)
    if final:
        refuse_unless_final(made)
    said = list(sentences(made))
    if folder:
        paths = write_report(
            made, folder, with_hours=hours, with_people=not forget, templates=templates, as_pdf=as_pdf
        )
        said += [f"Made {path}" for path in paths]
    if folder and forget:
        said += _forget(book, folder)
    if as_json:
        from salebook.report_answer import report_answer

        _answer(report_answer(made))
    else:
        click.echo(_harmless("\n".join(said)))
    if made.questions:
        _complain("\n".join(needs_a_look(made)))
    return NOT_FINAL if made.questions else DONE


def _refuse_to_mix(
    folder: Path | None, up_to: datetime | None, *, final: bool, as_json: bool, forget: bool
) -> None:
    if folder is None and (forget or not as_json):
        raise click.UsageError("Missing option '-o': the folder for the prints. Without it there is --json.")
    if final and up_to:
        raise click.UsageError("'--final' and '--up-to' do not go together: an interim report is not final.")


def _forget(book: Path, folder: Path) -> list[str]:
    from salebook.prints.after_pack import COLLECTION
    from salebook.report import write_without_people

    copy = write_without_people(book, folder)
    listed = folder / COLLECTION
    holds = [str(path) for path in (book, listed, listed.with_suffix(".pdf")) if path.exists()]
    return [
        f"Made {copy}: nobody stands on its sheet Hand over.",
        f"Names still stand in {', '.join(holds)}: delete what you need no longer.",
    ]


@commands.command()
@click.argument("folder", default="demo", type=FOLDER)
@FORCE
def demo(folder: Path, *, force: bool) -> None:
    """Make the sale pack of the full sample, with its plan, a filled-in workbook and the accounts.

    FOLDER is made where it is missing; without it, demo.

    \b
    Examples:
      salebook demo
      salebook start
      salebook demo somewhere
    """
    from salebook.samples import FULL, own_samples
    from salebook.source import reckoning_from

    _make(reckoning_from(own_samples() / FULL, today=date.today()), folder, force=force)
    _show_afterwards(folder)


def _show_afterwards(folder: Path) -> None:
    """Put the sample's plan and its filled-in workbook into a folder, and the accounts made from that."""
    from salebook.book.safe_file import write_whole
    from salebook.report import report_on, write_report
    from salebook.samples import FILLED, FULL, own_samples

    for name in (FULL, FILLED):
        if not (folder / name).exists():
            write_whole(folder / name, (own_samples() / name).read_bytes())
    made = report_on(folder / FILLED)
    paths = write_report(made, folder / "accounts")
    click.echo(f"The plan: {folder / FULL}")
    click.echo(f"The workbook after the weekend, some of it wrong on purpose: {folder / FILLED}")
    click.echo(f"What came of it, {len(paths)} files: {folder / 'accounts'}")
    click.echo(f"{len(made.questions)} rows need a look: salebook check {folder / FILLED}")


def _make(
    reckoning: "Reckoning",
    folder: Path,
    *,
    force: bool,
    templates: Path | None = None,
    as_pdf: bool = False,
    tills: int = 0,
) -> None:
    from salebook.pack import make_pack, put_pack

    files = make_pack(reckoning, templates=templates, as_pdf=as_pdf, tills=tills)
    book, *prints = put_pack(files, folder, force=force, today=date.today())
    click.echo(f"Made {book}: open it first and begin at its sheet Start here.")
    for path in prints:
        click.echo(f"Made {path}")


def _put(content: bytes, file: Path) -> None:
    from salebook.book.safe_file import write_whole
    from salebook.source import STANDARD_INPUT

    if file == STANDARD_INPUT:
        click.echo(content, nl=False)
        return
    write_whole(file, content)
    click.echo(f"Made {file}")


def _day(given: datetime | None) -> date:
    return given.date() if given else date.today()


def _ask(prompt: str) -> str:
    with suppress(ImportError):
        import readline  # noqa: F401  lets the arrow keys work while one types
    return input(prompt)


def _is_on_terminal() -> bool:
    streams = (sys.stdin, sys.stdout)
    return all(stream is not None and stream.isatty() for stream in streams)


def _answer(answer: object) -> None:
    click.echo(json.dumps(answer, indent=2))


def _bear_any_text() -> None:
    """Let a terminal that lacks a letter show something in its place instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def _complain(message: str) -> None:
    click.echo(_harmless(message), err=True)


def _harmless(text: str) -> str:
    """Return a text in which no letter can steer a terminal, whatever file or name it was found in."""
    return "".join(
        letter if letter == "\n" or letter.isprintable() else "\N{REPLACEMENT CHARACTER}" for letter in text
    )


def _flush() -> None:
    if sys.stdout is not None:
        sys.stdout.flush()


def _let_go() -> int:
    """Write what can still be written, and drop what cannot, which Python would complain of at its end."""
    try:
        _flush()
    except OSError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return COULD_NOT


def _could_not(trouble: OSError) -> str:
    what = trouble.strerror or str(trouble) or type(trouble).__name__
    return f"{trouble.filename}: {what}" if trouble.filename else what


def _unforeseen(surprise: Exception) -> str:
    if os.environ.get(TRACE):
        traceback.print_exc()
    return (
        f"salebook met something that nobody foresaw ({type(surprise).__name__}: {surprise}). "
        f"Please report it, with the file and what {TRACE}=1 makes it print."
    )
