"""The room Making and selling: the pack, filled-in workbooks, several tables."""

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any, Final

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.datastructures import FileStorage
from werkzeug.wrappers import Response

from salebook.base.errors import WrongUseError
from salebook.base.files import made_file, write_atomically
from salebook.base.words import _
from salebook.jobs.check import Check, check_file, check_lines
from salebook.jobs.forecast import forecast_answer, forecast_from
from salebook.jobs.join import join_books, joined_lines
from salebook.jobs.make import (
    PackSource,
    make_pack,
    new_book_id,
    pack_lines,
    pack_remarks,
    pack_source,
    put_pack,
)
from salebook.jobs.piles import Asked, piles_of
from salebook.jobs.renew import renew as renew_book
from salebook.jobs.renew import renewed_lines
from salebook.jobs.samples import FULL, packaged_samples
from salebook.page.done import show_done
from salebook.page.fields import day_in, file_in, is_ticked, new_file_in, number_in, text_in
from salebook.page.folder import the_folder
from salebook.page.shown import BAR
from salebook.photos.endings import ENDINGS
from salebook.photos.extra import can_read_photos, how_to_install, require_photos

PLANS: Final = ".toml"
BOOKS: Final = ".xlsx"
MOST_TILLS: Final = 50
MOST_STUBS: Final = 99_999

selling = Blueprint("selling", __name__, url_prefix="/selling")


@selling.get("/")
def room() -> str:
    """Show what can be made, and what lies in the folder."""
    folder = the_folder()
    return render_template(
        "selling.html",
        plans=folder.named(PLANS),
        books=folder.named(BOOKS),
        files=list(folder.listing()),
        folder=folder.path,
    )


@selling.post("/plan")
def plan_in() -> Response:
    """Take a plan in."""
    the_folder().taken_in(file_in("file"), ending=PLANS, today=date.today())
    return redirect(url_for("selling.room"), code=303)


@selling.post("/sample")
def sample() -> Response:
    """Put the full sample's plan into the folder, unless it lies there."""
    target = the_folder().path / FULL
    if not target.exists():
        write_atomically(target, (packaged_samples() / FULL).read_bytes())
    return redirect(url_for("selling.room"), code=303)


@selling.post("/pack")
def pack() -> str:
    """Make the pack of a plan in a folder of its name."""
    tills = number_in("tills", _("Workbooks for tables"), MOST_TILLS)
    return _made(_source(), tills=tills, force=is_ticked("force"))


@selling.post("/prints")
def prints() -> str:
    """Make the prints of a workbook as it stands."""
    return _made(_source(), prints_only=True)


def _source() -> PackSource:
    return pack_source(the_folder().file(text_in("source")), today=date.today())


def _made(source: PackSource, *, tills: int = 0, prints_only: bool = False, force: bool = False) -> str:
    files = make_pack(
        source,
        prints_only=prints_only,
        tills=tills,
        book_ids=[new_book_id() for _book in range(tills + 1)],
        stamp=datetime.now(UTC),
    )
    beside = Path(text_in("source"))
    folder = the_folder().made(f"{beside.stem}-pack" if source.book is None else f"{beside.stem}-prints")
    paths = put_pack(files, folder, force=force, today=date.today(), source=source.book)
    listed = set(map(made_file, paths))  # among the files below
    said = [line for line in (*pack_lines(paths), *pack_remarks(source)) if line not in listed]
    title = _("The prints are made") if prints_only else _("The pack is made")
    return show_done(title, said, asks=source.questions, files=paths)


@selling.post("/book")
def book_in() -> Response:
    """Take a workbook in, and show it."""
    name = the_folder().taken_in(file_in("file"), ending=BOOKS, today=date.today())
    return redirect(url_for("selling.book", name=name), code=303)


@selling.get("/book/<path:name>")
def book(name: str) -> str:
    """Show what needs a look in a workbook, and how it stands."""
    folder = the_folder()
    checked = check_file(folder.file(name))
    # What is assumed is listed by itself; after many lines the verdict comes again.
    said = list(dict.fromkeys(check_lines(replace(checked, assumed=()))))
    return render_template(
        "book.html",
        name=name,
        check=said,
        assumed=checked.assumed,
        plans=folder.named(PLANS),
        **_standing(checked),
    )


def _standing(checked: Check) -> dict[str, Any]:
    """Return how a sale stands and its piles; nothing for a book that cannot be read, or one table's."""
    if checked.trouble or checked.faults or not checked.holds_plan:
        return {"stands": None, "piles": ()}
    asked = forecast_from(Path(checked.file), now=None, today=None, clock=datetime.now())
    plan = asked.forecast.plan
    return {
        # What needs a look stands above it.
        "stands": forecast_answer(replace(asked, to_look_at=0), BAR),
        "piles": piles_of(plan),
        "days": [day.isoformat() for day in plan.sale.days],
        "no_photos": "" if can_read_photos() else how_to_install(),
    }


@selling.post("/join")
def join() -> str:
    """Put the books of several tables into one."""
    folder = the_folder()
    books = [folder.file(name) for name in request.form.getlist("book")]
    if not books:
        raise WrongUseError(_("Tick the workbooks that are to be put together."))
    out = folder.path / new_file_in(
        "name", BOOKS, _("{value} is no name for a workbook: let it end in .xlsx")
    )
    made = join_books(books, out, plan=None, force=is_ticked("force"), today=date.today())
    return show_done(_("The workbooks are one"), joined_lines(made), asks=made.questions, files=[made.path])


@selling.post("/renew")
def renew() -> str:
    """Make a fresh workbook after a change of plan."""
    folder = the_folder()
    book, plan = folder.file(text_in("book")), text_in("plan")
    made = renew_book(book, plan=folder.file(plan) if plan else None, today=date.today())
    said = renewed_lines(made, book)
    return show_done(_("The workbook is made anew"), said, asks=made.questions, files=[made.path])


@selling.post("/stubs")
def stubs() -> str:
    """Make lines of photographs of stubs, pile by pile."""
    require_photos()
    # What reads photographs is an extra.
    from salebook.jobs.stubs import how_to_read_more, read_stubs, stubs_lines  # noqa: PLC0415

    book, day = the_folder().file(text_in("book")), day_in("day", _("The day"))
    counts, folders = {}, []
    for at, pile in enumerate(request.form.getlist("pile")):
        photos = [photo for photo in request.files.getlist(f"photos-{at}") if photo.filename]
        if photos:
            folders.append(_photos_in(photos, _pile_folder(book, day, pile)))
            if count := number_in(f"count-{at}", pile, MOST_STUBS):
                counts[pile] = count
    if not folders:
        raise WrongUseError(_("Choose photographs of at least one pile."))
    asked = Asked(places=tuple(folders), day=day, counts=counts)
    made = read_stubs(book, asked, today=date.today())
    said = [*stubs_lines(made, book), *([how_to_read_more()] if made.falls_short else [])]
    files = [*([made.path] if made.is_written else []), *made.pictures]
    return show_done(_("The stubs are read"), said, asks=made.questions, files=files)


def _pile_folder(book: Path, day: date | None, pile: str) -> str:
    if not pile or pile != Path(pile).name or pile.startswith("."):
        raise WrongUseError(_("{pile}: no folder can have this name").format(pile=pile))
    return f"{book.stem}-photos/{day or 'day'}/{pile}"


def _photos_in(photos: list[FileStorage], into: str) -> Path:
    folder = the_folder()
    for photo in photos:
        folder.taken_in(photo, ending=tuple(sorted(ENDINGS)), today=date.today(), into=into)
    return folder.path / into
