"""Text that is safe on a terminal."""

import unicodedata


def printable(text: str) -> str:
    """Return a text in which no letter can steer a terminal, whatever file or name it was found in."""
    return "".join(
        letter if letter == "\n" or letter.isprintable() else _in_its_place(letter) for letter in text
    )


def _in_its_place(letter: str) -> str:
    """Return a plain space for the narrow and unbroken ones that stand in amounts, else a mark."""
    return " " if unicodedata.category(letter) == "Zs" else "\N{REPLACEMENT CHARACTER}"
