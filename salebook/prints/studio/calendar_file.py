"""A calendar as a file that telephones and computers read (RFC 5545); times are those of no time zone."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from unicodedata import category
from uuid import NAMESPACE_URL, uuid5

MOST_OCTETS = 75
"""Of a line, its end left out."""

ESCAPES = str.maketrans({"\\": r"\\", ";": r"\;", ",": r"\,", "\n": r"\n"})


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One entry, on whole days, of which `ends` is the day after the last, or from one time to another."""

    key: str
    """What tells it from all others of its calendar, also when its day is another."""
    title: str
    text: str
    starts: date
    ends: date
    place: str = ""
    rings_before: timedelta | None = None
    """How long before the start an alarm rings."""


def calendar_text(entries: Iterable[Entry], *, calendar_id: str, stamp: datetime) -> str:
    """Return the file's text; `stamp`, with its time zone, says when it was made.

    An entry of the same id and key takes the place of the one that was read before.
    """
    head = ("BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//salebook//diary//EN")
    lines = (line for entry in entries for line in _entry_lines(entry, calendar_id, stamp))
    return "".join(f"{_folded(line)}\r\n" for line in (*head, *lines, "END:VCALENDAR"))


def _entry_lines(entry: Entry, calendar_id: str, stamp: datetime) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{uuid5(NAMESPACE_URL, f'salebook:{calendar_id}:{entry.key}')}"
    yield f"DTSTAMP:{_basic(stamp.astimezone(UTC))}Z"
    yield _when("DTSTART", entry.starts)
    yield _when("DTEND", entry.ends)
    yield f"SUMMARY:{_escaped(entry.title)}"
    yield f"DESCRIPTION:{_escaped(entry.text)}"
    if entry.place:
        yield f"LOCATION:{_escaped(entry.place)}"
    if entry.rings_before is not None:
        yield from ("BEGIN:VALARM", "ACTION:DISPLAY", f"DESCRIPTION:{_escaped(entry.title)}")
        yield f"TRIGGER:-{_duration(entry.rings_before)}"
        yield "END:VALARM"
    yield "END:VEVENT"


def _when(name: str, moment: date) -> str:
    if isinstance(moment, datetime):
        return f"{name}:{_basic(moment)}"
    return f"{name};VALUE=DATE:{moment.isoformat().replace('-', '')}"


def _basic(moment: datetime) -> str:
    return moment.replace(tzinfo=None).isoformat(timespec="seconds").replace("-", "").replace(":", "")


def _duration(length: timedelta) -> str:
    hours, minutes = divmod(length.seconds // 60, 60)
    return f"P{length.days}DT{hours}H{minutes}M"


def _escaped(text: str) -> str:
    # Readers take more signs for the end of a line than the rule does: all of them are said as one.
    lines = "\n".join(text.splitlines())
    return "".join(sign for sign in lines if sign in "\n\t" or category(sign) != "Cc").translate(ESCAPES)


def _folded(line: str) -> str:
    """Break a line where it grows too long, never inside a character; the space of the next one counts."""
    folded, octets = "", 0
    for sign in line:
        octets += len(sign.encode())
        if octets > MOST_OCTETS:
            folded, octets = f"{folded}\r\n ", 1 + len(sign.encode())
        folded += sign
    return folded
