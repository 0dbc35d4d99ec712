"""The people on Hand over."""

from typing import Final

from salebook.book.reading.asked import Asked
from salebook.book.reading.tables import Tables
from salebook.book.reading.typed import is_yes, tidy
from salebook.event.entries import Claim
from salebook.words import _

KEYS: Final = ("claim", "name", "contact", "what", "how", "done")
HOWS: Final = ("fetched", "sent on")


def read_claims(tables: Tables, asked: Asked) -> tuple[Claim, ...]:
    """Read every claim in which something stands, in the sheet's order."""
    found = []
    parts = tables.parts.get("claims", ())
    rows = [row for part in parts for row in (*part.rows, *part.unmarked) if row.has(KEYS)]
    for row in rows:
        done, certain = is_yes(row.get("done"))
        if not certain:
            asked.ask(row, _("is it handed over, yes or no? It is taken as yes"))
        how = tidy(row.get("how")).lower()
        if how and how not in HOWS:
            asked.ask(row, _("is it fetched or sent on? It is taken as fetched"))
        texts = {key: asked.text(row, key) for key in KEYS[:-1]}
        if not texts["claim"]:
            asked.ask(row, _("this row has no claim number"))
        found.append(Claim(**texts, done=done))
    return tuple(found)
