"""What was typed and ticked in a form."""

from datetime import date

from flask import request
from werkzeug.datastructures import FileStorage
from werkzeug.utils import secure_filename

from salebook.base.errors import WrongUseError
from salebook.base.words import _


def text_in(name: str) -> str:
    """Return what stands in a field, without space around it."""
    return request.form.get(name, "").strip()


def is_ticked(name: str) -> bool:
    """Whether a box is ticked."""
    return name in request.form


def file_in(name: str) -> FileStorage:
    """Return the file that was sent, one without a name where there is none."""
    return request.files.get(name) or FileStorage(filename="")


def number_in(name: str, label: str, most: int) -> int:
    """Return the whole number in a field, 0 where nothing stands there; raises WrongUseError."""
    text = text_in(name) or "0"
    if not (text.isascii() and text.isdigit()) or int(text) > most:
        says = _("{label}: found {found}, expected a whole number from 0 to {most}")
        raise WrongUseError(says.format(label=label, found=text, most=most))
    return int(text)


def new_file_in(name: str, ending: str, says: str) -> str:
    """Return the name of a new file in a field, its ending added where it has none.

    Raises WrongUseError, in the words of `says` with its {value}.
    """
    file = secure_filename(text_in(name))
    if file and "." not in file:
        file += ending
    if not file.lower().endswith(ending):
        raise WrongUseError(says.format(value=text_in(name) or _("nothing")))
    return file


def day_in(name: str, label: str) -> date | None:
    """Return the day in a field, None where nothing stands there; raises WrongUseError."""
    text = text_in(name)
    try:
        return date.fromisoformat(text) if text else None
    except ValueError as trouble:
        says = _("{label}: found {found}, expected a date as year-month-day, such as 2027-06-12")
        raise WrongUseError(says.format(label=label, found=text)) from trouble
