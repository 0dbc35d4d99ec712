"""The sale pack: the workbook and the prints of one plan, put into a folder without harm to what is there."""

from datetime import date
from pathlib import Path

from salebook.book.safe_file import write_whole
from salebook.book.write import book_bytes
from salebook.errors import FileTrouble
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.filled_in import is_filled_in
from salebook.folders import free_name, make_folder
from salebook.prints.pack import all_prints
from salebook.prints.pdf import pdfs_of
from salebook.reckoning import Reckoning
from salebook.words import _

BOOK = "sale.xlsx"
OPEN_MARKS = (f".~lock.{BOOK}#", f"~${BOOK}")
"""Files that spreadsheet programs leave beside a workbook while they have it open."""


def make_pack(
    reckoning: Reckoning, *, templates: Path | None = None, as_pdf: bool = False
) -> dict[str, bytes]:
    """Return the files of the sale pack by name, the workbook first; `as_pdf` adds each print as PDF.

    Raises as `all_prints` and `pdfs_of` do.
    """
    book = book_bytes(reckoning, reckon_event(reckoning, Entries()))
    prints = all_prints(reckoning, templates=templates)
    pdfs = pdfs_of(prints) if as_pdf else {}
    return {BOOK: book} | {name: html.encode() for name, html in prints.items()} | pdfs


def put_pack(files: dict[str, bytes], folder: Path, *, force: bool, today: date) -> tuple[Path, ...]:
    """Put a pack into a folder, which is made where it is missing; return the paths, the workbook first.

    With `force` a workbook with entries is kept as a copy with today's date in its name.

    Raises FileTrouble where the folder cannot be written to, the workbook there is open in a spreadsheet
    program, or something has been filled in in it and `force` is not given.
    """
    make_folder(folder)
    _refuse_while_open(folder)
    _guard_entries(folder / BOOK, files[BOOK], force=force, today=today)
    for name, content in files.items():
        write_whole(folder / name, content)
    return tuple(folder / name for name in files)


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
    write_whole(free_name(book, today.isoformat()), book.read_bytes())
