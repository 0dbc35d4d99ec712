"""A sheet's XML cut between its rows, so that the sheet of a large sale never stands in memory as a whole."""

from collections.abc import Iterator
from typing import IO, Final

CHUNK: Final = 1 << 20
"""Bytes that are read at a time."""


def xml_row_chunks(source: IO[bytes]) -> Iterator[bytes]:
    """Cut a sheet's XML into large pieces that end with a row, where it has rows."""
    rest = b""
    while chunk := source.read(CHUNK):
        rest += chunk
        cut = rest.rfind(b"<row")
        if cut > 0:
            yield rest[:cut]
            rest = rest[cut:]
    yield rest
