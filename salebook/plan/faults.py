"""What is wrong in a plan, in plain words: where, what was found, what was expected."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, time
from decimal import Decimal
from difflib import get_close_matches

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from salebook.base.errors import Fault
from salebook.base.words import _, chained
from salebook.plan.keys import Missing, Record, keys_of
from salebook.plan.quantities import plain
from salebook.plan.tables import homes

ARROW = " → "
LONGEST_FOUND = 60
LONGEST_GUESS = 40
"""A longer key is not a slip of the finger in a known one."""


@dataclass(frozen=True)
class Unreadable:
    """Stands where a plan's place holds nothing that can be read; `says` in words what is there."""

    says: str

    def __str__(self) -> str:
        """Say what is there."""
        return self.says


@dataclass(frozen=True, kw_only=True)
class Finding:
    """A fault before it is known in which file; `place` goes from the table to the key."""

    place: tuple[str, ...]
    found: str
    expected: str
    hint: str = ""

    def in_file(self, file: str) -> Fault:
        """Return the fault as a person reads it."""
        place = ARROW.join(shortened(part) for part in self.place) or _("the whole plan")
        return Fault(file=file, place=place, found=self.found, expected=self.expected, hint=self.hint)

    def under(self, *place: str) -> "Finding":
        """Return the finding with the places around it put first."""
        return replace(self, place=(*place, *self.place))


def described(value: object) -> str:
    """Say a value as it was found, shortened where it is long."""
    match value:
        case None | Missing():
            return _("nothing")
        case str():
            return f'"{shortened(value)}"'
        case int() | float() | Decimal():
            return _number_found(value)
        case date() | time():
            return value.isoformat()
        case list() | tuple():
            return _("a list of {count}").format(count=len(value))
        case _:
            return _of_another_kind(value)


def _of_another_kind(value: object) -> str:
    if isinstance(value, Unreadable):
        return value.says
    return _("a table") if isinstance(value, Mapping | Record) else _("something of another kind")


def _number_found(value: float | Decimal) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int) and value.bit_length() > 64:
        return _("a number of very many digits")
    is_ordinary = isinstance(value, Decimal) and value.is_finite() and abs(value.adjusted()) < LONGEST_FOUND
    return shortened(plain(Decimal(value)) if is_ordinary else str(value).lower())


def shortened(text: str) -> str:
    """Return a text with its control characters spelt out and its end left off where it is long."""
    visible = "".join(one if one.isprintable() else f"\\u{ord(one):04x}" for one in text[: LONGEST_FOUND + 1])
    return visible if len(text) <= LONGEST_FOUND else f"{visible[:LONGEST_FOUND]}…"


def ordinal(position: int) -> str:
    """Say a position as a person counts: 1st, 2nd, 3rd, 11th."""
    ending = "th" if position % 100 in {11, 12, 13} else {1: "st", 2: "nd", 3: "rd"}.get(position % 10, "th")
    return f"{position}{ending}"


def nearest(word: str, known: Iterable[str], likeness: float = 0.6) -> str | None:
    """Return the known word that a misspelt one is nearest to, if one is near."""
    if len(word) > LONGEST_GUESS:
        return None
    plainly = {one.lower(): one for one in known}
    near = get_close_matches(word.lower().replace("-", "_").replace(" ", "_"), plainly, n=1, cutoff=likeness)
    return plainly[near[0]] if near else None


def key_meant(key: str, known: Iterable[str]) -> str | None:
    """Return the known key that a misspelt one is for; a key of another table must be very near to it."""
    return nearest(key, known, 0.8 if homes(key) else 0.6)


def did_you_mean(word: object, known: Iterable[str]) -> str:
    """Return a hint with the nearest known word, or nothing."""
    near = nearest(word, known) if isinstance(word, str) else None
    return _('did you mean "{word}"?').format(word=near) if near else ""


def findings_in(record: type[Record], trouble: ValidationError) -> Iterator[Finding]:
    """Say what did not fit in a record; a required key that is only misspelt is told once, as misspelt."""
    details = trouble.errors(include_url=False)
    unknown = [one for one in details if one["type"] == "extra_forbidden"]
    misspelt = {(*one["loc"][:-1], _meant(record, one)) for one in unknown}
    for one in details:
        if not (isinstance(one["input"], Missing) and one["loc"] in misspelt):
            yield _finding(record, one)


def _meant(record: type[Record], detail: ErrorDetails) -> str | None:
    return key_meant(str(detail["loc"][-1]), _record_at(record, detail["loc"][:-1]).keys())


def _finding(record: type[Record], detail: ErrorDetails) -> Finding:
    place = tuple(ordinal(part + 1) if isinstance(part, int) else part for part in detail["loc"])
    if detail["type"] == "extra_forbidden":
        return unknown_key(place, _record_at(record, detail["loc"][:-1]).keys())
    choices = _choices(detail) if detail["type"] == "literal_error" else ()
    hint = did_you_mean(detail["input"], choices)
    return wrong(described(detail["input"]), _expected(record, detail), *place, hint=hint)


def wrong(found: str, expected: str, *place: str, hint: str = "") -> Finding:
    """Say what was found at a place, and what was expected there."""
    return Finding(place=place, found=found, expected=expected, hint=hint)


def missing(expected: str, *place: str) -> Finding:
    """Say that something is not given, and what it is to be."""
    return wrong(_("nothing"), expected, *place)


def unknown_name(name: str, known: Iterable[str], expected: str, *place: str) -> Finding:
    """Say that a name stands for nothing in the plan, with the known name that it is near to."""
    return wrong(described(name), expected, *place, hint=did_you_mean(name, known))


def unknown_key(place: tuple[str, ...], known: Iterable[str]) -> Finding:
    """Say that a place does not know its last key, and which key may be meant or where it belongs."""
    keys = tuple(known)
    meant = key_meant(place[-1], keys)
    tables = chained(_("{first} or {last}"), homes(place[-1]))
    belongs = _("it belongs in {tables}").format(tables=tables) if tables else ""
    expected = _("a known key") if meant or belongs else _("one of {keys}").format(keys=", ".join(keys))
    hint = _('did you mean "{word}"?').format(word=meant) if meant else belongs
    return wrong(_("a key that is not known here"), expected, *place, hint=hint)


def _expected(record: type[Record], detail: ErrorDetails) -> str:
    match detail["type"]:
        case "value_error":
            return str(detail["ctx"]["error"])
        case "literal_error":
            return _("one of {words}").format(words=", ".join(f'"{word}"' for word in _choices(detail)))
        case "tuple_type":
            return _("a list in brackets")
        case _:
            keys = ", ".join(_record_at(record, detail["loc"]).keys())
            return _("a table in braces with the keys {keys}").format(keys=keys)


def _choices(detail: ErrorDetails) -> tuple[str, ...]:
    """Take the words apart that pydantic writes as "'round' or 'rectangle'"."""
    return tuple(detail["ctx"]["expected"].split("'")[1::2])


def _record_at(record: type[Record], place: tuple[int | str, ...]) -> type[Record]:
    """Return the kind of record that stands at a place inside another."""
    for part in place:
        known = (key for key in keys_of(record) if part in {key.name, key.attribute})
        record = next((key.inside for key in known if key.inside), record)
    return record
