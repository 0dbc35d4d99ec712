"""Lines of a plan file: keys with their values, and comments for a person."""

import json
import textwrap
from collections.abc import Iterator
from typing import Final

WIDTH: Final = 100
DELETE: Final = "\x7f"


def quoted(text: str) -> str:
    """Write a text as TOML does, whatever letters it holds."""
    return json.dumps(text, ensure_ascii=False).replace(DELETE, "\\u007f")


def line(key: str, value: str, comment: str = "") -> str:
    """Write a key with its value, which is TOML already, and a comment behind it."""
    return f"{key} = {value}" + (f"  # {comment}" if comment else "")


def comments(text: str) -> Iterator[str]:
    """Write a text as comment lines."""
    yield from (f"# {each}" for each in textwrap.wrap(text, WIDTH))
