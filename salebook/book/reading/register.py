"""What was filled in about pieces: the sheets Pieces and Making."""

from collections.abc import Callable
from typing import Any, Literal, TypeVar

from salebook.base.words import _
from salebook.book.declared import declared
from salebook.book.reading.asked import Asked
from salebook.book.reading.fields import Fields
from salebook.book.reading.tables import Row, Tables
from salebook.book.reading.typed import CellParser, count_of, tidy
from salebook.event.entries import PieceEntry
from salebook.making.studio_tally import StudioCount


def read_pieces(tables: Tables, parser: CellParser, asked: Asked) -> dict[str, PieceEntry]:
    """Read what was filled in about single pieces, by number; grades as planned are among it."""
    fields = Fields("pieces", tables, parser, asked)
    found: dict[str, PieceEntry] = {}
    for row in fields.all():
        number = tidy(row.get("number")).upper()
        entry = PieceEntry(
            grade=fields.read(row, "grade", _("the grade is neither first nor second")),
            mishap=fields.read(row, "mishap", _("what became of the piece is not one of the list")),
            reserved_for=asked.text(row, "reserved_for"),
            marked_on=_marked_on(row, fields),
            agreed_price=fields.read(row, "agreed_price", _("the price agreed is not a number")),
        )
        if entry == PieceEntry():
            continue
        if not number:
            asked.ask(row, _("something is filled in here, but the piece has no number"))
        elif found.setdefault(number, entry) != entry:
            asked.ask(row, _("the piece {number} stands twice: the first row counts").format(number=number))
    return found


def _marked_on(row: Row, fields: Fields) -> Any:
    day = fields.read(row, "marked_on", _("the day of the mark is not a date"))
    if day and isinstance(row.get("marked_on"), str):
        fields.asked.note(row, _("the day is text, and read as a date"))
    return day


def read_made(tables: Tables, parser: CellParser, asked: Asked) -> dict[str, int]:
    """Read how many came out of the kiln, by code."""
    says = _("how many came out of the kiln is not a whole number")
    fields = Fields("tally", tables, parser, asked)
    return _by_code(tables, asked, "tally", lambda row: fields.read(row, "out_of_the_kiln", says))


def read_studio(tables: Tables, asked: Asked) -> dict[str, StudioCount]:
    """Read what was counted in the studio, by code."""
    keys = declared()["studio"].keys_typed

    def count(row: Row) -> StudioCount | None:
        says = _("a count of the studio is not a whole number")
        counts = {key: asked.read(row, key, count_of, says) for key in keys}
        return StudioCount(**counts) if any(value is not None for value in counts.values()) else None

    return _by_code(tables, asked, "studio", count)


def read_studio_day(tables: Tables, parser: CellParser, asked: Asked) -> Any:
    """Read the day from which the studio reckons; None where none is typed."""
    for row in tables.rows("days"):
        if row.mark == "days.today":
            return asked.read(row, "latest_from", parser.day, _("today's date is not a date"))
    return None


Kept = TypeVar("Kept", int, StudioCount)


def _by_code(
    tables: Tables, asked: Asked, section: Literal["tally", "studio"], read: Callable[[Row], Kept | None]
) -> dict[str, Kept]:
    found: dict[str, Kept] = {}
    for row in tables.rows(section):
        value, code = read(row), tidy(row.get("code")).upper()
        if value is None:
            continue
        if not code:
            asked.ask(row, _("something is filled in here, but the row has no code"))
        elif found.setdefault(code, value) != value:
            asked.ask(row, _("{code} stands twice: the first row counts").format(code=code))
    return found
