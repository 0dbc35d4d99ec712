"""What is wrong with a file, all of it, and what to mind where nothing is."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from salebook.book.read import TillRead, read_any_book
from salebook.errors import DONE, NOT_FINAL, Fault, FaultyPlan, FileTrouble, WrongUse
from salebook.event.question import Question, question_line
from salebook.event.report import report_of
from salebook.plan.notes import assumptions
from salebook.source import is_workbook, name_of, reckoning_from, reckoning_of
from salebook.words import _


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
    except FaultyPlan as faulty:
        return Check(file=name_of(file), exit_code=faulty.exit_code, faults=faulty.faults)
    except (FileTrouble, WrongUse) as trouble:
        return Check(file=name_of(file), exit_code=trouble.exit_code, trouble=str(trouble))
    return Check(file=name_of(file), warnings=reckoning.advice.warnings, assumed=assumptions(reckoning.plan))


def _check_book(file: Path) -> Check:
    read = read_any_book(file)
    if read.plan is None:
        return _checked(file, read, read.questions)
    reckoning = reckoning_of(read.plan, file=file)
    report = report_of(
        reckoning,
        read.entries,
        asked=read.questions,
        rows=read.rows,
        stored=read.stored,
        uncounted=read.uncounted,
    )
    check = _checked(file, read, report.questions)
    return replace(check, warnings=reckoning.advice.warnings, assumed=assumptions(reckoning.plan))


def _checked(file: Path, read: TillRead, questions: Sequence[Question]) -> Check:
    return Check(
        file=name_of(file),
        exit_code=NOT_FINAL if questions else DONE,
        questions=tuple(questions),
        notes=read.notes,
        lines=len(read.entries.lines),
    )


def check_lines(check: Check) -> tuple[str, ...]:
    """Say a check in lines: a verdict, or each fault, then what to mind."""
    if check.trouble:
        return (check.trouble,)
    if check.faults:
        return tuple(str(fault) for fault in check.faults)
    return (
        _verdict(check),
        *(_("  to look at: {place}").format(place=question_line(question)) for question in check.questions),
        *(_("  understood: {place}").format(place=question_line(note)) for note in check.notes),
        *(_("  to mind: {warning}").format(warning=warning) for warning in check.warnings),
        *(_("  assumed: {assumed}").format(assumed=assumed) for assumed in check.assumed),
    )


def _verdict(check: Check) -> str:
    if not check.questions:
        return _("{file}: sound").format(file=check.file)
    says = _("{file}: lines of takings read: {lines}; things that need a look: {count}")
    return says.format(file=check.file, lines=check.lines, count=len(check.questions))


def check_answer(check: Check) -> dict[str, Any]:
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
