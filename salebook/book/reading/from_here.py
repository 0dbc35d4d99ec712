"""What was typed on Progress to look ahead."""

from salebook.base.words import _
from salebook.book.reading.asked import Asked
from salebook.book.reading.fields import Fields
from salebook.book.reading.tables import Tables
from salebook.book.reading.typed import CellParser
from salebook.event.entries import FromHere


def read_from_here(tables: Tables, parser: CellParser, asked: Asked) -> FromHere:
    """Read how much of the selling time is over, and other prices for the rest."""
    fields = Fields("from_here", tables, parser, asked)
    for row in fields.filled():
        over = fields.read(row, "over", _("how much of the selling time is over is no share: left out"))
        other = fields.read(row, "other", _("the price for the rest is not a number: left out"))
        return FromHere(over=over, other=other)
    return FromHere()
