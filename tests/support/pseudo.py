"""A language that nobody speaks, for tests: every text longer by two fifths, with an accent on every letter.

What stands in {braces}, tags and entities of HTML, and lines of a text stay as they are.
"""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from gettext import NullTranslations

from salebook.base.words import use_catalogue

KEPT = re.compile(r"({[^{}]*}|<[^<>]+>|&#?\w+;)")
ACCENTS = str.maketrans(
    "aceidlnorstuwyzACEILNORSTUWYZ",
    "äçéïđłñöřšťüŵýžÄÇÉÏŁÑÖŘŠŤÜŴÝŽ",
)


class Pseudo(NullTranslations):
    """The catalogue of that language."""

    def gettext(self, message: str) -> str:
        """Return a text as that language has it."""
        return pseudo(message)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        """Return one of two forms, as English has them."""
        return pseudo(msgid1 if n == 1 else msgid2)

    def pgettext(self, context: str, message: str) -> str:  # noqa: ARG002  as gettext calls it
        """Return a text as that language has it, whatever its context."""
        return pseudo(message)


def pseudo(text: str) -> str:
    """Return a text in that language: two letters of five stand twice."""
    return "".join(part if KEPT.fullmatch(part) else _accented(part) for part in KEPT.split(text))


def _accented(part: str) -> str:
    letters = 0
    said = ""
    for sign in part:
        letters += sign.isalpha()
        twice = sign.isalpha() and letters % 5 in {2, 4}
        said += sign + sign.lower() if twice else sign
    return said.translate(ACCENTS)


@contextmanager
def in_pseudo() -> Iterator[None]:
    """Say everything in that language for a while, then in English again."""
    use_catalogue(Pseudo())
    try:
        yield
    finally:
        use_catalogue(NullTranslations())
