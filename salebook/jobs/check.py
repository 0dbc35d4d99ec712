"""What is wrong with a file, all of it, and what to mind where nothing is."""

from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from salebook.base.errors import DONE, NOT_FINAL, Fault, FaultyPlanError, FileError, WrongUseError
from salebook.base.words import _
from salebook.book.read import TillRead, read_any_book
from salebook.book.sheets.checks import checks_of
from salebook.event.offers import as_it_stands
from salebook.event.question import Question, question_line
from salebook.jobs.join import owner_beside, put_together
from salebook.jobs.make import BOOK
from salebook.jobs.report import report_in
from salebook.jobs.source import is_workbook, name_of, reckoning_from, reckoning_of
from salebook.plan.model import Sale
from salebook.plan.notes import assumptions
from salebook.prints.wording import day_in_full

MANY_LINES = 10
"""After so many lines the verdict stands at the end too, where a terminal still shows it."""


@dataclass(frozen=True, kw_only=True)
class Check:
    """One file looked at: the trouble of reading it, or its faults, or what to mind where it is sound."""

    file: str
    exit_code: int = DONE
    trouble: str = ""
    faults: tuple[Fault, ...] = ()
    warnings: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()
    """What a person must look at in a workbook; the exit code is 3 while there is any."""
    notes: tuple[Question, ...] = ()
    """What was understood in a workbook although its own sheets cannot count it."""
    lines: int = 0
    """Lines of takings in a workbook."""
    assumed: tuple[str, ...] = ()
    holds_plan: bool = True
    """False for the workbook of one table."""

    @property
    def is_sound(self) -> bool:
        """Whether salebook can work with the file as it is."""
        return self.exit_code == DONE


def check_file(file: Path) -> Check:
    """Read a plan or a workbook and reckon it; changes nothing, raises nothing that the file could cause."""
    try:
        if is_workbook(file):
            return _check_book(file)
        reckoning = reckoning_from(file)
    except FaultyPlanError as faulty:
        return Check(file=name_of(file), exit_code=faulty.exit_code, faults=faulty.faults)
    except (FileError, WrongUseError) as trouble:
        return Check(file=name_of(file), exit_code=trouble.exit_code, trouble=str(trouble))
    return Check(file=name_of(file), warnings=reckoning.advice.warnings, assumed=assumptions(reckoning.plan))


def _check_book(file: Path) -> Check:
    read = read_any_book(file)
    if read.plan is None:
        return _check_table(file, read)
    reckoning = reckoning_of(read.plan, file=file)
    report = report_in(read, reckoning)
    troubles = (
        f"{check.trouble} ({check.where})"  # the checks on Start here, by the same words
        for check in checks_of(reckoning, report.event)
        if not check.holds
    )
    advice = as_it_stands(reckoning, report.event).advice
    warnings = (*advice.warnings, *troubles, *_days_outside(read, report.plan.sale))
    check = _checked(file, read, report.questions)
    return replace(check, warnings=warnings, assumed=assumptions(reckoning.plan))


def _check_table(file: Path, read: TillRead) -> Check:
    """Check the book of one table as if it were put together with the sale's own book."""
    owner = owner_beside(file, read.sale_id)
    if owner is None or owner.plan is None:
        says = _(
            "{book} of this sale does not lie beside it: pieces, prices and ways to pay were not looked at"
        )
        warnings = (says.format(book=BOOK),)
        return replace(_checked(file, read, read.questions), warnings=warnings, holds_plan=False)
    reckoning = reckoning_of(owner.plan, file=Path(owner.file))
    _event, questions, _notes = put_together([owner, read], reckoning)
    own = [replace(asked, book="") for asked in questions if asked.book == file.name]
    return replace(_checked(file, read, own), holds_plan=False)


def _days_outside(read: TillRead, sale: Sale) -> Iterator[str]:
    """Yield the days typed on Takings that are none of the sale's: late money, or a slip."""
    for line in read.entries.lines:
        if line.day and line.day not in sale.days:
            says = _("{day} is no day of the sale").format(day=day_in_full(line.day, sale.locale))
            row = read.rows.get(line.identity, 0)
            yield question_line(Question(sheet=_("Takings"), row=row, says=says))


def _checked(file: Path, read: TillRead, questions: Sequence[Question]) -> Check:
    return Check(
        file=name_of(file),
        exit_code=NOT_FINAL if questions else DONE,
        questions=tuple(questions),
        notes=read.notes,
        lines=len(read.entries.lines),
    )


def check_lines(check: Check) -> tuple[str, ...]:
    """Say a check in lines: each fault, or a verdict, then what to mind; after many the verdict again."""
    if check.trouble:
        return (check.trouble,)
    if check.faults:
        return tuple(str(fault) for fault in check.faults)
    verdict, minded = _verdict(check), tuple(_minded(check))
    return (verdict, *minded, *([verdict] if len(minded) >= MANY_LINES else []))


def _minded(check: Check) -> Iterator[str]:
    """Yield what to look at, what was understood, what to mind and what was assumed."""
    for question in check.questions:
        yield _("  to look at: {place}").format(place=question_line(question))
    for note in check.notes:
        yield _("  understood: {place}").format(place=question_line(note))
    for warning in check.warnings:
        yield _("  please note: {warning}").format(warning=warning)
    if check.lines and check.assumed:
        says = _("  assumed, as the plan does not say: {count}; “salebook price {file}” lists them")
        yield says.format(count=len(check.assumed), file=check.file)
        return
    for assumed in check.assumed:
        yield _("  assumed: {assumed}").format(assumed=assumed)


def _verdict(check: Check) -> str:
    if not check.questions:
        return _("{file}: sound").format(file=check.file)
    says = _("{file}: lines of takings read: {lines}; things that need a look: {count}")
    return says.format(file=check.file, lines=check.lines, count=len(check.questions))


def check_json(check: Check) -> dict[str, Any]:
    """Return a check as values that JSON holds."""
    faults = [{key: value for key, value in asdict(fault).items() if key != "file"} for fault in check.faults]
    return {
        "file": check.file,
        "sound": check.is_sound,
        "trouble": check.trouble,
        "faults": faults,
        "warnings": list(check.warnings),
        "lines": check.lines,
        "questions": [asdict(question) for question in check.questions],
        "notes": [asdict(note) for note in check.notes],
        "assumed": list(check.assumed),
    }
