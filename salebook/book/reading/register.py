"""What was filled in about pieces: the sheets Pieces and Making."""

from collections.abc import Callable
from datetime import date

from salebook.base.words import _
from salebook.book.reading.asked import Asked, Read
from salebook.book.reading.fields import Fields
from salebook.book.reading.tables import Row, Tables
from salebook.book.reading.typed import CellParser
from salebook.event.entries import PieceEntry
from salebook.making.studio_tally import StudioCount


def read_pieces(tables: Tables, parser: CellParser, asked: Asked) -> dict[str, PieceEntry]:
    """Read what was filled in about single pieces, by number; grades as planned are among it."""
    fields = Fields("pieces", tables, parser, asked)

    def entry(row: Row) -> PieceEntry | None:
        found = PieceEntry(
            grade=fields.read(row, "grade", _("the grade is neither first nor second")),
            mishap=fields.read(row, "mishap", _("what became of the piece is not one of the list")),
            reserved_for=asked.text(row, "reserved_for"),
            marked_on=fields.read(row, "marked_on", _("the day of the mark is not a date")),
            agreed_price=fields.read(row, "agreed_price", _("the price agreed is not a number")),
        )
        if found.marked_on and isinstance(row.get("marked_on"), str):
            asked.note(row, _("the day is text, and read as a date"))
        return None if found == PieceEntry() else found

    return fields.by(
        *("number", entry),
        unnamed=_("something is filled in here, but the piece has no number"),
        twice=_("the piece {name} stands twice: the first row counts"),
    )


def read_made(tables: Tables, parser: CellParser, asked: Asked) -> dict[str, int]:
    """Read how many came out of the kiln, by code."""
    fields, says = (
        Fields("tally", tables, parser, asked),
        _("how many came out of the kiln is not a whole number"),
    )
    return _by_code(fields, lambda row: fields.read(row, "out_of_the_kiln", says))


def read_studio(tables: Tables, parser: CellParser, asked: Asked) -> dict[str, StudioCount]:
    """Read what was counted in the studio, by code."""
    fields, says = Fields("studio", tables, parser, asked), _("a count of the studio is not a whole number")

    def count(row: Row) -> StudioCount | None:
        found = StudioCount(**{key: fields.read(row, key, says) for key in fields.table.keys_typed})
        return None if found == StudioCount() else found

    return _by_code(fields, count)


def _by_code(fields: Fields, read: Callable[[Row], Read | None]) -> dict[str, Read]:
    return fields.by(
        *("code", read),
        unnamed=_("something is filled in here, but the row has no code"),
        twice=_("{name} stands twice: the first row counts"),
    )


def read_studio_day(tables: Tables, parser: CellParser, asked: Asked) -> date | None:
    """Read the day from which the studio reckons; None where none is typed."""
    rows = (row for row in tables.rows("days") if row.mark == "days.today")
    read = (asked.read(row, "latest_from", parser.day, _("today's date is not a date")) for row in rows)
    return next(read, None)
