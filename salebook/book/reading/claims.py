"""The people on Hand over."""

from typing import Any, Final

from salebook.base.words import _
from salebook.book.declared import declared
from salebook.book.reading.asked import Asked
from salebook.book.reading.tables import Tables
from salebook.book.reading.typed import is_yes, tidy
from salebook.event.entries import Claim

HOW_WORDS: Final = {
    "": ("",),
    "collecting": (
        *("collecting", "collect", "collects", "collected"),
        *("fetched", "fetch", "fetches", "fetching", "pick up", "picked up"),
    ),
    "posting": (
        *("posting", "post", "posted", "by post", "mail", "mailed"),
        *("sent on", "send on", "send", "sent", "sending"),
    ),
}
"""What people write for each way to hand over; Hand over and the prints know the first. Books of before had
"fetched" and "sent on"."""


def read_claims(tables: Tables, asked: Asked) -> tuple[Claim, ...]:
    """Read every claim in which something stands, in the sheet's order."""
    found = []
    table, parts = declared()["claims"], tables.parts.get("claims", ())
    rows = [row for part in parts for row in (*part.rows, *part.unmarked) if row.has(table.keys_typed)]
    for row in rows:
        done, certain = is_yes(row.get("done"))
        if not certain:
            asked.ask(row, _("is it handed over, yes or no? It is taken as yes"))
        texts = {key: asked.text(row, key) for key in table.keys_typed if key != "done"}
        how = how_of(row.get("how"))
        if how is None:
            asked.ask(
                row,
                _(
                    "is it for collecting or for posting? Until one of the two stands here, it waits to be "
                    "collected"
                ),
            )
        else:
            texts["how"] = how
        if not texts["claim"]:
            asked.ask(row, _("this row has no claim number"))
        found.append(Claim(**texts, done=done))
    return tuple(found)


def how_of(value: Any) -> str | None:
    """Return how something is handed over, as Hand over says it; None for words that are not known."""
    said = tidy(value).lower().rstrip(".")
    return next((how for how, words in HOW_WORDS.items() if said in words), None)
