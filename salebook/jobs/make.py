"""The sale pack: the workbook and the prints of one plan, put into a folder without harm to what is there."""

import secrets
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from salebook.base.errors import FileError
from salebook.base.files import refuse_while_open, write_atomically
from salebook.base.folders import free_name, make_folder
from salebook.base.words import _
from salebook.book.file.filled_in import can_be_read, is_filled_in
from salebook.book.write import FIRST_TILL, book_bytes, till_book_bytes
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.prints.before.pack import all_prints
from salebook.prints.pdf import pdfs_of
from salebook.prints.render import printer_for
from salebook.reckoning import Reckoning

BOOK = "sale.xlsx"
OFFICE = "0"
"""The till of lines typed into the sale's own book where tables have books of their own."""
ID_LETTERS = "CDFGHJKMNPQRTVWXY34679"
"""Signs that nobody takes for one another, and that make no words."""
ID_LENGTH = 5


def new_book_id() -> str:
    """Return an id that no other book of the sale has."""
    return secrets.choice(ID_LETTERS[:16]) + "".join(
        secrets.choice(ID_LETTERS) for _sign in range(ID_LENGTH - 1)
    )


def make_pack(
    reckoning: Reckoning,
    *,
    templates: Path | None = None,
    as_pdf: bool = False,
    tills: int = 0,
    book_ids: Sequence[str] = (),
) -> dict[str, bytes]:
    """Return the files of the sale pack by name, the workbook first; `as_pdf` adds each print as PDF.

    With `tills` there is a workbook for each of so many tables beside the sale's own; `book_ids` are
    those of the books, the sale's own first.

    Raises as `printer_for`, `all_prints` and `pdfs_of` do.
    """
    till = OFFICE if tills else FIRST_TILL
    own, *others = book_ids or [""] * (tills + 1)
    books = {BOOK: book_bytes(reckoning, reckon_event(reckoning, Entries()), till=till, book_id=own)}
    for number, book_id in zip(range(1, tills + 1), others, strict=True):
        books[till_book(number)] = till_book_bytes(reckoning, till=str(number), book_id=book_id)
    prints = all_prints(printer_for(reckoning.plan, templates), reckoning)
    pdfs = pdfs_of(prints) if as_pdf else {}
    return books | {name: html.encode() for name, html in prints.items()} | pdfs


def till_book(number: int) -> str:
    """Return the file name of one table's book."""
    return f"sale-till-{number}.xlsx"


def put_pack(files: dict[str, bytes], folder: Path, *, force: bool, today: date) -> tuple[Path, ...]:
    """Put a pack into a folder, which is made where it is missing; return the paths, the workbook first.

    With `force` a workbook with entries is kept as a copy with today's date in its name.

    Raises FileError where the folder cannot be written to, the workbook there is open in a spreadsheet
    program, or something has been filled in in it and `force` is not given.
    """
    make_folder(folder)
    books = [name for name in files if name.endswith(".xlsx")]
    for name in books:
        refuse_while_open(folder / name)
        _refuse_filled_in(folder / name, files[name], force=force)
    for name in books:
        _keep_copy(folder / name, files[name], today=today)
    for name, content in files.items():
        write_atomically(folder / name, content)
    return tuple(folder / name for name in files)


def _refuse_filled_in(book: Path, fresh: bytes, *, force: bool) -> None:
    if force or not book.exists() or not is_filled_in(book, fresh):
        return
    if not can_be_read(book):
        says = _(
            "{book}: this cannot be read as a workbook, so it stays as it is; move it away, choose another "
            "folder, or --force, which keeps a copy with today's date"
        )
        raise FileError(says.format(book=book))
    raise FileError(
        _(
            "{book}: something has been filled in here, so it stays as it is; after a change of plan, "
            "“salebook renew” carries it over into a fresh book; or choose another folder, or --force, which "
            "keeps a copy with today's date"
        ).format(book=book)
    )


def _keep_copy(book: Path, fresh: bytes, *, today: date) -> None:
    if book.exists() and is_filled_in(book, fresh):
        write_atomically(free_name(book, today.isoformat()), book.read_bytes())
