"""The questions of a first plan as a form: answers kept from one time to the next, and the plan written."""

from collections.abc import Collection, Mapping
from contextlib import suppress
from datetime import date
from pathlib import Path

from salebook.base.errors import FileError
from salebook.base.files import write_atomically
from salebook.base.words import _
from salebook.jobs.renew import put_book
from salebook.start.form import SURE, Form, form_of, reckoned
from salebook.start.kept_answers import answers_file, answers_in, answers_text
from salebook.start.locale_defaults import LocaleDefaults, locale_defaults_of

__all__ = [
    "SURE",
    "Form",
    "LocaleDefaults",
    "keep_answers",
    "kept_form",
    "locale_defaults_of",
    "understood",
    "write_form",
]

understood = form_of


def kept_form(file: Path, defaults: LocaleDefaults) -> Form:
    """Return the form with the answers that are kept beside a plan, empty where there are none."""
    with suppress(OSError, ValueError):
        answers = answers_in(answers_file(file).read_text(encoding="utf-8"), defaults)
        return form_of({key: answer.words for key, answer in answers.items()}, (), defaults)
    return form_of({}, (), defaults)


def keep_answers(
    file: Path, typed: Mapping[str, str], unknown: Collection[str], defaults: LocaleDefaults
) -> Form:
    """Return the form of what was typed, its answers kept beside the plan for another time."""
    form = form_of(typed, unknown, defaults)
    write_atomically(answers_file(file), answers_text(form.given).encode())
    return reckoned(form)


def write_form(file: Path, form: Form, *, kept: Path, force: bool, today: date) -> Path | None:
    """Write the plan of a form; return where a plan that stood there before is kept now.

    The answers that are kept beside the plan `kept` are needed no longer.

    Raises FileError where one stands there and `force` is not given.
    """
    if file.exists() and not force:
        says = _("{file}: is there already, and stays as it is; name another file")
        raise FileError(says.format(file=file))
    copy = put_book(file, form.plan.encode(), today=today)
    answers_file(kept).unlink(missing_ok=True)
    return copy
