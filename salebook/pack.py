"""The sale pack: the workbook and the prints of one plan, put into a folder without harm to what is there."""

from datetime import date
from pathlib import Path

from salebook.book.safe_file import write_whole
from salebook.book.write import book_bytes
from salebook.errors import FileTrouble
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.filled_in import is_filled_in
from salebook.prints.pack import all_prints
from salebook.reckoning import Reckoning
from salebook.words import _

BOOK = "sale.xlsx"
OPEN_MARKS = (f".~lock.{BOOK}#", f"~${BOOK}")
"""Files that spreadsheet programs leave beside a workbook while they have it open."""


def make_pack(reckoning: Reckoning) -> dict[str, bytes]:
    """Return the files of the sale pack by name, the workbook first."""
    book = book_bytes(reckoning, reckon_event(reckoning, Entries()))
    return {BOOK: book} | {name: html.encode() for name, html in all_prints(reckoning).items()}


def put_pack(files: dict[str, bytes], folder: Path, *, force: bool, today: date) -> tuple[Path, ...]:
    """Put a pack into a folder, which is made where it is missing; return the paths, the workbook first.

    With `force` a workbook with entries is kept as a copy with today's date in its name.

    Raises FileTrouble where the folder cannot be written to, the workbook there is open in a spreadsheet
    program, or something has been filled in in it and `force` is not given.
    """
    _make_folder(folder)
    _refuse_while_open(folder)
    _guard_entries(folder / BOOK, files[BOOK], force=force, today=today)
    for name, content in files.items():
        write_whole(folder / name, content)
    return tuple(folder / name for name in files)


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileExistsError as trouble:
        raise FileTrouble(_("{folder}: this is a file, not a folder").format(folder=folder)) from trouble
    except (OSError, ValueError) as trouble:
        why = trouble.strerror if isinstance(trouble, OSError) else trouble
        says = _("{folder}: this folder cannot be made ({why})").format(folder=folder, why=why)
        raise FileTrouble(says) from trouble


def _refuse_while_open(folder: Path) -> None:
    if any((folder / mark).exists() for mark in OPEN_MARKS):
        says = _("{book}: is open in a spreadsheet program; close it there first")
        raise FileTrouble(says.format(book=folder / BOOK))


def _guard_entries(book: Path, fresh: bytes, *, force: bool, today: date) -> None:
    if not book.exists() or not is_filled_in(book, fresh):
        return
    if not force:
        raise FileTrouble(
            _(
                "{book}: something has been filled in here, so it stays as it is; choose another folder, "
                "or --force, which keeps a copy with today's date"
            ).format(book=book)
        )
    write_whole(_free_name(book, today), book.read_bytes())


def _free_name(book: Path, today: date) -> Path:
    dated = book.with_name(f"{book.stem}-{today.isoformat()}{book.suffix}")
    count = 1
    while dated.exists():
        count += 1
        dated = book.with_name(f"{book.stem}-{today.isoformat()}-{count}{book.suffix}")
    return dated
