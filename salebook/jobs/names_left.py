"""Which files beside a workbook still hold names, so that somebody can delete them."""

import os
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from html import unescape
from pathlib import Path
from typing import Final

from salebook.base.errors import FaultyPlanError, FileError, WrongUseError
from salebook.base.words import _, ngettext
from salebook.book.read import TillRead, read_any_book
from salebook.event.report import Report
from salebook.jobs.source import BOOK_ENDINGS
from salebook.photos.endings import is_photo
from salebook.prints.after.pack import COLLECTION
from salebook.prints.labels.addresses import ADDRESSES

TEXTS: Final = frozenset({".html", ".htm", ".csv", ".txt"})
PRINTED_LISTS: Final = {Path(name).with_suffix(".pdf").name for name in (COLLECTION, ADDRESSES)}
LARGEST_TEXT: Final = 20_000_000
"""Bytes; no print and no list of a sale is larger."""
SHORTEST_NAME: Final = 3
"""Shorter ones stand in every text."""
DEEPEST: Final = 2
"""How many folders down photographs are looked for: in piles, a folder for each way to pay."""


@dataclass(frozen=True, kw_only=True)
class NamesLeft:
    """What was found; photographs may show names, which nobody can look up in them."""

    buyers: tuple[Path, ...]
    """Files with names or contacts from Hand over, or with a sheet Hand over that is not empty."""
    others: tuple[Path, ...]
    """Files with those who speak for a group, who gave, or who counted."""
    unread: tuple[Path, ...]
    """Workbooks that cannot be looked into."""
    photos: tuple[tuple[Path, int], ...]
    """Folders, and how many photographs lie in each."""


def names_left(book: Path, folder: Path, report: Report) -> NamesLeft:
    """Look through the folder of a workbook and the one for the prints."""
    by_place = {place.resolve(): place for place in (folder, book.parent) if place.is_dir()}
    places = [by_place[place] for place in sorted(by_place)]
    files = [file for place in places for file in sorted(place.iterdir()) if file.is_file()]
    own = read_any_book(book)
    holds = {
        file: _has_people(own) if file == book else _holds_people(file, own.sale_id)
        for file in files
        if file.suffix.lower() in BOOK_ENDINGS
    }
    contacts = (text for claim in own.entries.claims for text in (claim.name, claim.contact))
    buyers = _with_names(files, contacts)
    lists = (file for file in files if file.name in PRINTED_LISTS and file not in buyers)
    others = [file for file in _with_names(files, _other_names(report)) if file not in buyers]
    photos = Counter(photo.parent for place in places for photo in _photos(place))
    return NamesLeft(
        buyers=(*(file for file, has in holds.items() if has), *buyers, *lists),
        others=tuple(others),
        unread=tuple(file for file, has in holds.items() if has is None),
        photos=tuple(sorted(photos.items())),
    )


def names_left_lines(left: NamesLeft) -> Iterator[str]:
    """Say what was found, a line for each file or folder."""
    if left.buyers:
        yield _("Names from Hand over stand in these files; delete what you need no longer:")
        yield from (f"  {file}" for file in left.buyers)
    if left.others:
        yield _("Names of those who speak for a group, gave or counted stand in:")
        yield from (f"  {file}" for file in left.others)
    if left.unread:
        yield _("These could not be looked into:")
        yield from (f"  {file}" for file in left.unread)
    for folder, count in left.photos:
        says = ngettext(
            "{folder}: {count} picture, which may show a name",
            "{folder}: {count} pictures, which may show names",
            count,
        )
        yield says.format(folder=folder, count=count)


def _holds_people(file: Path, sale_id: str) -> bool | None:
    """Whether a workbook is one of the sale with people on Hand over; None where it cannot be read."""
    try:
        read = read_any_book(file)
    except WrongUseError:
        return False
    except (FileError, FaultyPlanError):
        return None
    return read.sale_id == sale_id and _has_people(read)


def _has_people(read: TillRead) -> bool:
    return any(
        text.strip() for claim in read.entries.claims for text in (claim.name, claim.contact, claim.what)
    )


def _other_names(report: Report) -> Iterator[str]:
    yield from (group.contact or "" for group in report.plan.beneficiaries)
    yield from (given.maker for given in report.plan.donated)
    for count in report.event.entries.cash:
        yield from (count.counted_by, count.checked_by)


def _with_names(files: Sequence[Path], names: Iterable[str]) -> list[Path]:
    """Return the texts in which one of the names stands, and the PDF of each, where nobody can look."""
    worth_finding = {name.strip() for name in names if len(name.strip()) >= SHORTEST_NAME}
    if not worth_finding:
        return []
    any_name = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, worth_finding))})(?!\w)", re.IGNORECASE)
    found = [file for file in files if file.suffix.lower() in TEXTS and any_name.search(_text_of(file))]
    pdfs = {file.with_suffix(".pdf") for file in found}
    return [*found, *(file for file in files if file in pdfs)]


def _text_of(file: Path) -> str:
    try:
        if file.stat().st_size > LARGEST_TEXT:
            return ""
        return unescape(file.read_text(encoding="utf-8", errors="replace"))
    except OSError:
        return ""


def _photos(place: Path) -> Iterator[Path]:
    for folder, below, names in os.walk(place):
        here = Path(folder)
        if len(here.relative_to(place).parts) >= DEEPEST:
            below.clear()
        yield from (here / name for name in names if is_photo(Path(name)))
