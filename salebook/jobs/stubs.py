"""Photographs of stubs, pile by pile, made into lines of takings in a fresh workbook."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import chain, count
from pathlib import Path
from typing import Final

from PIL import Image

from salebook.base.errors import FileError
from salebook.base.files import refuse_while_open, refuse_without_folder, write_atomically
from salebook.base.words import _, ngettext
from salebook.book.read import BookRead, read_book
from salebook.event.entries import Line
from salebook.event.event import Event
from salebook.event.question import Question, questions_of
from salebook.event.register import register_of
from salebook.event.stubs import (
    Pile,
    SaleCodes,
    SeenPhoto,
    StubLine,
    lines_from,
    questions_on_stubs,
    without_lines,
)
from salebook.jobs.piles import Asked, PhotoPile, day_asked, left_out, piles_asked
from salebook.jobs.renew import carried_over, copy_lines, fresh_book, put_book
from salebook.jobs.source import reckoning_of
from salebook.photos.codes import SeenCode, codes_left, codes_on
from salebook.photos.outlines import outlined
from salebook.photos.photo import grey_photo
from salebook.prints.file_name import plain_name
from salebook.reckoning import Reckoning

ENDING: Final = "stubs"

Seen = Mapping[Path, Sequence[SeenCode]]
"""The codes on each photograph."""


@dataclass(frozen=True, kw_only=True)
class StubsRead:
    """What was read, and the workbook that was written: none in a dry run, or where no line was made."""

    path: Path
    is_written: bool
    piles: tuple[Pile, ...]
    lines: tuple[StubLine, ...]
    questions: tuple[Question, ...]
    pictures: tuple[Path, ...]
    kept_copy: Path | None
    left_out: tuple[Path, ...]
    """What lies among the photographs and is none."""

    @property
    def falls_short(self) -> bool:
        """Whether fewer stubs were read than were counted."""
        return any(pile.falls_short for pile in self.piles)


def read_stubs(
    book: Path, asked: Asked, *, out: Path | None = None, is_dry: bool = False, today: date
) -> StubsRead:
    """Add a line for each stub on photographs to a fresh workbook, beside pictures of what was read.

    A workbook that stands there already is kept as a copy with today's date in its name; `is_dry` writes
    nothing.

    Raises FileError where a file cannot be read or written or is open in a spreadsheet program; WrongUseError
    for a pile, a count or a day that the sale does not have; FaultyPlanError with all faults of the plan.
    """
    target = out or book.with_name(f"{book.stem}-{ENDING}.xlsx")
    for file in (book, target):
        refuse_while_open(file)
    if not is_dry:
        refuse_without_folder(target)
    read = read_book(book)
    reckoning = reckoning_of(read.plan, file=book, today=today)
    day = day_asked(asked, read.plan)
    files = piles_asked(asked, read.plan)
    codes = SaleCodes(register_of(reckoning.plan, reckoning.studio.runs))
    seen = _seen(files, codes)
    piles = tuple(_pile(pile, seen, codes) for pile in files)
    event, lines = _with_lines(read, reckoning, piles, day=day)
    is_written = bool(lines) and not is_dry
    pictures = () if is_dry else _draw(files, seen, codes, target)
    return StubsRead(
        path=target,
        is_written=is_written,
        piles=piles,
        lines=lines,
        questions=(
            *questions_on_stubs(piles, event, lines),
            *read.questions,
            *questions_of(reckoning, without_lines(event, lines), read.rows),
        ),
        pictures=pictures,
        kept_copy=put_book(target, fresh_book(read, reckoning, event), today=today) if is_written else None,
        left_out=left_out(asked.places),
    )


def _seen(piles: Sequence[PhotoPile], codes: SaleCodes) -> Seen:
    """Read all photographs, those of a pile once more where stubs are missing."""
    seen = _looked_at(piles, lambda grey, _file: codes_on(grey))
    short = [pile for pile in piles if _pile(pile, seen, codes).falls_short]
    return {**seen, **_looked_at(short, lambda grey, file: codes_left(grey, seen[file]))}


def _looked_at(piles: Iterable[PhotoPile], look: Callable[[Image.Image, Path], Sequence[SeenCode]]) -> Seen:
    """Look at each photograph; raises FileError with all those that cannot be read."""
    seen, troubles = {}, []
    for file in dict.fromkeys(file for pile in piles for file in pile.files):
        try:
            seen[file] = look(grey_photo(file), file)
        except FileError as trouble:
            troubles.append(str(trouble))
    if troubles:
        raise FileError("\n".join(troubles))
    return seen


def _pile(pile: PhotoPile, seen: Seen, codes: SaleCodes) -> Pile:
    photos = (SeenPhoto(name=file.name, texts=tuple(code.text for code in seen[file])) for file in pile.files)
    return Pile(name=pile.name, way=pile.way, counted=pile.counted, photos=tuple(photos), codes=codes)


def _with_lines(
    read: BookRead, reckoning: Reckoning, piles: Sequence[Pile], *, day: date
) -> tuple[Event, tuple[StubLine, ...]]:
    """Return how things stand with a line for each stub after those of the book."""
    entries = read.entries
    empty = Line(number=0, till=read.free_till, book=read.book_id)
    lines = lines_from(piles, entries.lines, day=day, empty=empty)
    more = replace(entries, lines=(*entries.lines, *(made.line for made in lines)))
    return carried_over(read, more, reckoning), lines


def _draw(piles: Iterable[PhotoPile], seen: Seen, codes: SaleCodes, target: Path) -> tuple[Path, ...]:
    """Put a picture of what was read beside the workbook for each photograph."""
    pictures: list[Path] = []
    for pile in piles:
        for file in pile.files:
            name = "-".join(filter(None, (target.stem, plain_name(pile.name), file.stem)))
            path = _free(target.with_name(f"{name}.jpg"), pictures)
            ours = {code.text for code in seen[file] if codes.is_of_the_sale(code.text)}
            write_atomically(path, outlined(grey_photo(file), seen[file], ours))
            pictures.append(path)
    return tuple(pictures)


def _free(path: Path, taken: Sequence[Path]) -> Path:
    """Return a path that no other picture of this run has; those of an earlier run are written anew."""
    names = (path.with_stem(f"{path.stem}-{number}") for number in count(2))
    return next(name for name in chain([path], names) if name not in taken)


def stubs_lines(made: StubsRead, book: Path) -> Iterator[str]:
    """Say what was read of each pile, and what was made of it."""
    for pile in made.piles:
        yield _on_pile(pile)
    yield from _on_others(made)
    if made.pictures:
        yield _("Made a picture of each photograph, with all that was read outlined:")
        yield from (f"  {picture}" for picture in made.pictures)
    lines = len(made.lines)
    if not made.is_written:
        yield _("No workbook was written; lines it would add: {lines}.").format(lines=lines)
        return
    says = ngettext(
        "Made {fresh}: {lines} line is added to all that {book} has. From now on use {fresh}.",
        "Made {fresh}: {lines} lines are added to all that {book} has. From now on use {fresh}.",
        lines,
    )
    yield says.format(fresh=made.path, lines=lines, book=book)
    yield from copy_lines(made.kept_copy)


def _on_pile(pile: Pile) -> str:
    read = len(pile.stubs)
    if pile.counted is None:
        says = ngettext(
            "{pile}: {read} stub was read; count yours.",
            "{pile}: {read} stubs were read; count yours.",
            read,
        )
    else:
        says = _("{pile}: stubs read: {read} of {counted}.")
    return says.format(pile=pile.name, read=read, counted=pile.counted)


def _on_others(made: StubsRead) -> Iterator[str]:
    for file in made.left_out:
        yield _("  left out, as it is no photograph of stubs: {file}").format(file=file)
    if of_no_stub := sum(pile.of_no_stub for pile in made.piles):
        yield _("  codes that are no stub's, left out: {count}").format(count=of_no_stub)


def how_to_read_more() -> str:
    """Say what helps where stubs were not read."""
    return _(
        "What has no outline on the pictures was not read; its number is printed on the stub. Take it again "
        "closer, flatter, in better light, up to 60 stubs a photograph, 40 where it is dim, and send the "
        "original, not a messenger's copy. Or type it on Takings."
    )
