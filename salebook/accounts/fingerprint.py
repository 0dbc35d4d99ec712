"""The fingerprint of a list: twenty letters that change with any value in it, whatever the order of its rows.

100 bits guard against a list changed afterwards and against two lists made with one fingerprint; for
truncation see NIST SP 800-107 revision 1, section 5.1.
"""

import hashlib
import json
from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from salebook.accounts.row import HEADING, Row
from salebook.base.errors import UnfitError
from salebook.base.words import _

ALPHABET: Final = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Base 32 after Douglas Crockford: no I, L, O or U."""
ALSO: Final = str.maketrans("ILO", "110", " -")
"""What is read for a letter that is taken for another; what may stand between."""

LETTERS: Final = 20
BITS_EACH: Final = 5
GROUP: Final = 4


def canonical(rows: Iterable[Row]) -> str:
    """Return the one text of a list: compact JSON as in RFC 8785, rows sorted by their UTF-16 units."""
    texts = (_json(row.texts) for row in rows)
    return f"[{','.join((_json(HEADING), *sorted(texts, key=_utf_16)))}]"


def _json(texts: tuple[str, ...]) -> str:
    return json.dumps(texts, ensure_ascii=False, separators=(",", ":"))


def _utf_16(text: str) -> bytes:
    return text.encode("utf-16-be")


def fingerprint(rows: Iterable[Row]) -> str:
    """Return the fingerprint: the first 100 bits of the canonical text's SHA-256 in five groups of four."""
    bits = int.from_bytes(hashlib.sha256(canonical(rows).encode()).digest()) >> (256 - LETTERS * BITS_EACH)
    places = range((LETTERS - 1) * BITS_EACH, -1, -BITS_EACH)
    return in_groups("".join(ALPHABET[bits >> place & 31] for place in places))


def evening_fingerprint(lines: Iterable[Row]) -> str:
    """Return the fingerprint of lines as they were signed in the evening.

    What may become otherwise although a line stays is left out: the ware's name, its list price, and whether
    promised money has come.
    """
    return fingerprint(
        replace(line, what="", list_price="", arrived="yes" if line.arrived == "no" else line.arrived)
        for line in lines
    )


def in_groups(letters: str) -> str:
    """Return twenty letters in five groups."""
    return "-".join(letters[start : start + GROUP] for start in range(0, LETTERS, GROUP))


def typed_fingerprint(text: str) -> str:
    """Return a fingerprint as it is printed from what somebody typed.

    Raises UnfitError where letters are missing, too many, or none of the alphabet.
    """
    letters = text.upper().translate(ALSO)
    foreign = [letter for letter in letters if letter not in ALPHABET]
    if foreign or len(letters) != LETTERS:
        says = _("a fingerprint of 20 letters and digits, such as SE72-JVZG-9XJA-EDCF-7TSZ")
        raise UnfitError(says)
    return in_groups(letters)


def letters_that_differ(one: str, other: str) -> int:
    """Return in how many letters two fingerprints differ."""
    return sum(a != b for a, b in zip(one, other, strict=True))
