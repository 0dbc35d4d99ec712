"""A first plan put into its file: asked for on a terminal, or blank; never over one that is there unasked."""

import os
import shlex
import subprocess
from collections.abc import Mapping
from pathlib import Path

from salebook.base.errors import FileError, SalebookError, WrongUseError
from salebook.base.files import write_atomically
from salebook.base.words import _
from salebook.jobs.source import DASH, is_workbook
from salebook.start.asking import PROMPT, YES, Ask, Say
from salebook.start.dialogue import blank_plan, plan_by_asking
from salebook.start.kept_answers import answers_file, answers_in, answers_text
from salebook.start.locale_defaults import LocaleDefaults
from salebook.start.plan_text import assumed_in
from salebook.start.question import Answer


def write_blank_plan(file: Path, defaults: LocaleDefaults, *, say: Say) -> None:
    """Write a plan with example values; "-" is standard output.

    Raises FileError where the file is there already or cannot be written.
    """
    text = blank_plan(defaults)
    if file == DASH:
        say(text.removesuffix("\n"))
        return
    check_place(file)
    refuse_if_there(file)
    write_atomically(file, text.encode())
    tell_what_next(file, _("Every value in it is an example: put yours."), say)


def refuse_if_there(file: Path) -> None:
    """Leave a file as it is that is there already; raises FileError."""
    if file.exists():
        says = _("{file}: is there already, and stays as it is; name another file")
        raise FileError(says.format(file=file))


def ask_for_plan(
    file: Path, defaults: LocaleDefaults, *, ask: Ask, say: Say, on_terminal: bool, every: bool = False
) -> None:
    """Ask for a plan and write it at the end, whole; `every` asks more than the dozen.

    Where the person stops, the answers are kept beside it for the next time.

    Raises WrongUseError where there is nobody to ask, FileError where the file cannot be written or is to
    stay as it is, SalebookError where the person stops.
    """
    if not on_terminal:
        raise WrongUseError(
            _(
                "salebook start asks questions, and there is no terminal to ask on. "
                "salebook start {file} --blank writes a plan with example values to change."
            ).format(file=typed(file))
        )
    check_place(file)
    given: dict[str, Answer] = {}
    try:
        _write_what_is_said(file, defaults, given, ask=ask, say=say, every=every)
    except (EOFError, KeyboardInterrupt) as stop:
        raise SalebookError("\n" + _stopped(file, given)) from stop
    answers_file(file).unlink(missing_ok=True)


def _stopped(file: Path, given: Mapping[str, Answer]) -> str:
    """Keep what was answered and say how to go on."""
    if not given:
        return _("Stopped: nothing was written.")
    write_atomically(answers_file(file), answers_text(given).encode())
    return _("Stopped: your answers are kept in {kept}. To go on: salebook start {file}").format(
        kept=answers_file(file), file=typed(file)
    )


def _write_what_is_said(
    file: Path, defaults: LocaleDefaults, given: dict[str, Answer], *, ask: Ask, say: Say, every: bool
) -> None:
    was_there = file.exists()
    if was_there:
        agree_to_replace(file, ask=ask, say=say)
    kept = _kept_answers(answers_file(file), defaults)
    if kept and _agrees_to_go_on(file, ask=ask, say=say):
        given.update(kept)
    text = plan_by_asking(defaults, given, ask=ask, say=say, every=every)
    if file.exists() and not was_there:
        agree_to_replace(file, ask=ask, say=say)
    write_atomically(file, text.encode())
    assumed = assumed_in(text)
    says = _("What nobody knew is assumed, and marked in it ({count}).") if assumed else ""
    say("")
    tell_what_next(file, says.format(count=assumed), say)


def agree_to_replace(file: Path, *, ask: Ask, say: Say) -> None:
    """Ask whether a plan that is there may go; raises FileError where it may not."""
    say(_("{file} is there already. Write a new plan over it? (yes or no)").format(file=file))
    if ask(PROMPT).strip().lower() not in YES:
        says = _("{file}: stays as it is; name another file, such as another.toml")
        raise FileError(says.format(file=file))


def _kept_answers(kept: Path, defaults: LocaleDefaults) -> dict[str, Answer]:
    """Return the answers of a talk that was stopped; none where there was none or nobody can read them."""
    try:
        return answers_in(kept.read_text(encoding="utf-8"), defaults)
    except (OSError, ValueError):
        return {}


def _agrees_to_go_on(file: Path, *, ask: Ask, say: Say) -> bool:
    says = _("Your answers of the last time are kept in {kept}. Go on with them? (yes or no)")
    say(says.format(kept=answers_file(file)))
    return ask(PROMPT).strip().lower() in {"", *YES}


def check_place(file: Path) -> None:
    """Find out before the first question whether the answers can be kept."""
    if file == DASH or file.is_dir() or is_workbook(file):
        raise FileError(_("{file}: a plan needs a file, such as plan.toml").format(file=file))
    if not file.parent.is_dir():
        raise FileError(_("{file}: there is no such folder").format(file=file))
    if not os.access(file.parent, os.W_OK):
        says = _("{file}: cannot be written, since this folder can only be read; choose another folder")
        raise FileError(says.format(file=file))


def tell_what_next(file: Path, says: str, say: Say, *, names_commands: bool = True) -> None:
    """Say that a plan was made, and which commands take it."""
    say(_("Made {file}. {says}").format(file=file, says=says).rstrip())
    if not names_commands:
        return
    say(_("What it comes to: salebook price {file}").format(file=typed(file)))
    say(_("The workbook, the labels and the prints: salebook make {file}").format(file=typed(file)))


def typed(file: Path) -> str:
    """Return a file as it is typed behind a command, in quotes where its name needs them."""
    return subprocess.list2cmdline([str(file)]) if os.name == "nt" else shlex.quote(str(file))
