"""The sale pack: the workbook and the prints of one plan, put into a folder without harm to what is there."""

import secrets
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time
from pathlib import Path

from salebook.base.errors import FileError
from salebook.base.files import made_file, refuse_while_open, write_atomically
from salebook.base.folders import free_name, make_folder
from salebook.base.words import _
from salebook.book.file.filled_in import can_be_read, is_filled_in
from salebook.book.read import read_book
from salebook.book.write import FIRST_TILL, book_bytes, sale_id_of, till_book_bytes
from salebook.event.carry_forward import carry_forward
from salebook.event.entries import Entries
from salebook.event.event import Event, reckon_event
from salebook.event.offers import as_it_stands
from salebook.event.question import Question
from salebook.jobs.source import is_workbook, reckoning_from, reckoning_of
from salebook.photos.extra import can_read_photos, how_to_install
from salebook.prints.before.pack import all_prints
from salebook.prints.labels.labels import label_remarks
from salebook.prints.labels.pieces import pieces_on_the_table
from salebook.prints.pdf import pdfs_of
from salebook.prints.render import printer_for
from salebook.prints.studio.diary import diary_text
from salebook.reckoning import Reckoning

BOOK = "sale.xlsx"
DIARY = "sale.ics"
OFFICE = "0"
"""The till of lines typed into the sale's own book where tables have books of their own."""
ID_LETTERS = "CDFGHJKMNPQRTVWXY34679"
"""Signs that nobody takes for one another, and that make no words."""
ID_LENGTH = 5
NOTHING = Entries()


def new_book_id() -> str:
    """Return an id that no other book of the sale has."""
    return secrets.choice(ID_LETTERS[:16]) + "".join(
        secrets.choice(ID_LETTERS) for _sign in range(ID_LENGTH - 1)
    )


@dataclass(frozen=True, kw_only=True)
class PackSource:
    """What a pack is made from: a plan, or a sale's workbook as it now stands."""

    reckoning: Reckoning
    entries: Entries = NOTHING
    book: Path | None = None
    """The workbook; None: a plan."""
    sale_id: str = ""
    book_id: str = ""
    free_till: str = FIRST_TILL
    questions: tuple[Question, ...] = ()
    """What a person should look at in the workbook first."""


def pack_source(file: Path, *, today: date | None = None) -> PackSource:
    """Read what to make a pack from: a plan, "-" for standard input, or the workbook of a sale.

    Raises FileError where it cannot be read, WrongUseError where it is a workbook of another kind, and
    FaultyPlanError with all faults of the plan.
    """
    if not is_workbook(file):
        return PackSource(reckoning=reckoning_from(file, today=today))
    read = read_book(file)
    reckoning = reckoning_of(read.plan, file=file, today=today)
    entries = replace(read.entries, unplaced=(*read.entries.unplaced, *read.unread))
    return PackSource(
        reckoning=reckoning,
        entries=carry_forward(entries, reckoning),
        book=file,
        sale_id=read.sale_id,
        book_id=read.book_id,
        free_till=read.free_till,
        questions=read.questions,
    )


def make_pack(
    source: PackSource,
    *,
    templates: Path | None = None,
    as_pdf: bool = False,
    prints_only: bool = False,
    tills: int = 0,
    book_ids: Sequence[str] = (),
    stamp: datetime | None = None,
) -> dict[str, bytes]:
    """Return the files of the sale pack by name, the workbook first; `as_pdf` adds each print as PDF.

    With `tills` there is a workbook for each of so many tables beside the sale's own; `book_ids` are
    those of the books, the sale's own first. `prints_only` leaves all workbooks out. `stamp` is when the
    diary was made; as in the workbook the sale's first day stands for it where it is not given.

    Raises as `printer_for`, `all_prints` and `pdfs_of` do.
    """
    event = reckon_event(source.reckoning, source.entries)
    books = {} if prints_only else _books(source, event, tills, book_ids or [""] * (tills + 1))
    pieces = None if source.book is None else pieces_on_the_table(event)
    printer = printer_for(source.reckoning.plan, templates)
    prints = all_prints(printer, as_it_stands(source.reckoning, event), pieces)
    pdfs = pdfs_of(prints) if as_pdf else {}
    diary = _diary(source, stamp)
    return books | {name: text.encode() for name, text in (prints | {DIARY: diary}).items()} | pdfs


def _diary(source: PackSource, stamp: datetime | None) -> str:
    sale = source.reckoning.plan.sale
    made_at = stamp or datetime.combine(sale.days[0], time(), UTC)
    return diary_text(source.reckoning, sale_id=source.sale_id or sale_id_of(sale), stamp=made_at)


def _books(source: PackSource, event: Event, tills: int, book_ids: Sequence[str]) -> dict[str, bytes]:
    own, *others = book_ids
    own_till = OFFICE if tills else source.free_till
    book_id, sale_id = source.book_id or own, source.sale_id
    books = {BOOK: book_bytes(source.reckoning, event, sale_id=sale_id, till=own_till, book_id=book_id)}
    for number, of_table in zip(range(1, tills + 1), others, strict=True):
        books[till_book(number)] = till_book_bytes(
            source.reckoning, event, till=str(number), sale_id=sale_id, book_id=of_table
        )
    return books


def till_book(number: int) -> str:
    """Return the file name of one table's book."""
    return f"sale-till-{number}.xlsx"


def put_pack(
    files: dict[str, bytes], folder: Path, *, force: bool, today: date, source: Path | None = None
) -> tuple[Path, ...]:
    """Put a pack into a folder, which is made where it is missing; return the paths, the workbook first.

    With `force` a workbook with entries is kept as a copy with today's date in its name.

    Raises FileError where the folder cannot be written to, the workbook there is open in a spreadsheet
    program or the `source` of the pack, or something has been filled in in it and `force` is not given.
    """
    make_folder(folder)
    if source:
        _refuse_source(source, [folder / name for name in files])
    books = [name for name in files if name.endswith(".xlsx")]
    for name in books:
        refuse_while_open(folder / name)
        _refuse_filled_in(folder / name, files[name], force=force)
    for name in books:
        _keep_copy(folder / name, files[name], today=today)
    for name, content in files.items():
        write_atomically(folder / name, content)
    return tuple(folder / name for name in files)


def pack_lines(paths: Sequence[Path]) -> Iterator[str]:
    """Say what was put into a folder, and with which workbook to begin."""
    first, *others = paths
    says = _("Made {book}: open it first and begin at its sheet Start here.").format(book=first)
    yield says if first.suffix == ".xlsx" else made_file(first)
    yield from map(made_file, others)
    if not can_read_photos():
        yield how_to_install()


def pack_remarks(source: PackSource) -> Iterator[str]:
    """Say what to mind on the labels of a pack."""
    yield from label_remarks(source.reckoning)


def _refuse_source(source: Path, targets: Sequence[Path]) -> None:
    if any(target.exists() and target.samefile(source) for target in targets):
        says = _(
            "{book}: the pack is made from this book, so it stays as it is; --prints-only makes the prints "
            "alone, “salebook renew” a fresh book beside it; or choose another folder"
        )
        raise FileError(says.format(book=source))


def _refuse_filled_in(book: Path, fresh: bytes, *, force: bool) -> None:
    if force or not book.exists() or not is_filled_in(book, fresh):
        return
    if not can_be_read(book):
        says = _(
            "{book}: this cannot be read as a workbook, so it stays as it is; move it away, choose another "
            "folder, or have it replaced (--force, on the page a box to tick), which keeps a copy with "
            "today's date"
        )
        raise FileError(says.format(book=book))
    raise FileError(
        _(
            "{book}: something has been filled in here, so it stays as it is; after a change of plan, "
            "“salebook renew” carries it over into a fresh book (on the page “Make a fresh workbook”); or "
            "choose another folder, or have it replaced (--force, on the page a box to tick), which keeps a "
            "copy with today's date"
        ).format(book=book)
    )


def _keep_copy(book: Path, fresh: bytes, *, today: date) -> None:
    if book.exists() and is_filled_in(book, fresh):
        write_atomically(free_name(book, today.isoformat()), book.read_bytes())
