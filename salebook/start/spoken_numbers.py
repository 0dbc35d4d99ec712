"""Numbers as people say them: "four thousand", "about 28p", "100ish"."""

import re
from typing import Final

from salebook.plan.fields import Number

UNITS: Final = (
    *("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"),
    *("thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"),
)
TENS: Final = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
SMALL: Final = {word: number for number, word in enumerate(UNITS, start=1)} | {
    word: 10 * tens for tens, word in enumerate(TENS, start=2)
}
LARGE: Final = {"dozen": 12, "hundred": 100, "thousand": 1_000, "million": 1_000_000}
CLOSING: Final = ("thousand", "million")

_BELOW: Final = rf"(?:(?:{'|'.join(TENS)})(?:[ -](?:{'|'.join(UNITS[:9])})\b)?|(?:{'|'.join(UNITS)}))\b"
_TIMES: Final = rf"(?: (?:{'|'.join(LARGE)})\b)+"
_NUMBER: Final = re.compile(
    rf"(?:(?<![\d.,])(?P<digits>\d+)|\ban?|\b{_BELOW}){_TIMES}"
    rf"(?:(?: and)? {_BELOW}{_TIMES})*(?:(?: and)? {_BELOW})?|\b{_BELOW}",
    re.IGNORECASE,
)
_BEFORE: Final = re.compile(
    r"^(?:about|around|roughly|approximately|approx\.?|circa|ca\.?(?![a-z$])|~|≈)\s*",
    re.IGNORECASE,
)
_BEHIND: Final = re.compile(r"(?:\s+or so|(?<=\d)\s?-?ish)$", re.IGNORECASE)


def in_digits(text: str) -> str:
    """Put numbers that were said in words into digits, and leave out that they are only about so much."""
    return _BEHIND.sub("", _NUMBER.sub(_digits, _BEFORE.sub("", " ".join(text.split()))))


def number_in(text: str, least: int, most: int) -> int:
    """Read a whole number within a range; raises UnfitError."""
    return int(Number(least, most, whole=True)(in_digits(text)))


def _digits(found: re.Match[str]) -> str:
    """Add up "two thousand four hundred and fifty": larger words close what stands before them."""
    total, part = 0, int(found["digits"] or 0)
    for word in re.split(r"[ -]", found[0].lower()):
        part = part + SMALL.get(word, 0)
        if word in LARGE:
            part = max(part, 1) * LARGE[word]
        if word in CLOSING:
            total, part = total + part, 0
    return str(total + part)
