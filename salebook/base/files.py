"""Files that are written whole or not at all."""

import errno
import os
import tempfile
from pathlib import Path

from salebook.base.errors import FileError
from salebook.base.words import _


def refuse_while_open(path: Path) -> None:
    """Refuse to touch a workbook that a spreadsheet program has open; raises FileError.

    While it is open there, such a program leaves a file of its own beside it.
    """
    marks = (f".~lock.{path.name}#", f"~${path.name}")
    if any(path.with_name(mark).exists() for mark in marks):
        says = _("{file}: is open in a spreadsheet program; close it there first")
        raise FileError(says.format(file=path))


def refuse_without_folder(path: Path) -> None:
    """Refuse a file whose folder is missing or not to be written to, before work is done for it.

    Raises FileError.
    """
    folder = path.resolve().parent
    if not os.access(folder, os.W_OK):
        raise _not_there(path, os.strerror(errno.EACCES if folder.exists() else errno.ENOENT))


def write_atomically(path: Path, content: bytes) -> None:
    """Put a file in place in one move: at any moment the old file stands there or the new one, whole.

    A link stays a link: the file that it leads to is replaced. Raises FileError where the folder cannot be
    written to, or where something other than a file stands in the way.
    """
    path = path.resolve()
    if path.exists() and not path.is_file():
        raise FileError(_("{file}: cannot be written: this is no ordinary file").format(file=path))
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
    except OSError as trouble:
        raise _not_there(path, trouble.strerror) from trouble
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        part.chmod(0o666 & ~_umask())
        part.replace(path)
    except OSError as trouble:
        says = _("{file}: cannot be written: {why}")
        raise FileError(says.format(file=path, why=trouble.strerror)) from trouble
    finally:
        part.unlink(missing_ok=True)


def made_file(path: Path) -> str:
    """Say that a file was written."""
    return _("Made {file}").format(file=path)


def _not_there(path: Path, why: str | None) -> FileError:
    says = _("{file}: cannot be written: {why}; choose another folder")
    return FileError(says.format(file=path, why=why))


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
