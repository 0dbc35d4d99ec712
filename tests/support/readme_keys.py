"""Writes the README's table of keys anew from the plan's records: `python -m tests.support.readme_keys`."""

from collections.abc import Iterator
from datetime import time
from decimal import Decimal
from pathlib import Path

from salebook.plan.keys import Key, keys_of
from salebook.plan.model import Plan, Record
from salebook.plan.quantities import Length
from salebook.plan.tables import TABLES, bracketed

README = Path(__file__).parent.parent.parent / "README.md"
HEADINGS = ("| block | key | is | default |", "|---|---|---|---|")


def table_of_keys() -> str:
    """Return the table as the README holds it: every key, by block, in the order of the records."""
    return "\n".join((*HEADINGS, *_rows("", Plan, only="format"), *_rows_of_tables())) + "\n"


def _rows_of_tables() -> Iterator[str]:
    for table in (key.name for key in keys_of(Plan) if key.name in TABLES):
        yield from _rows(f"`{bracketed(table)}`", TABLES[table])


def _rows(block: str, kind: type[Record], *, only: str = "") -> Iterator[str]:
    for key in keys_of(kind):
        if only in {"", key.name}:
            cells = (block, f"`{key.name}`", _meaning(key), _default(key))
            yield "|" + "|".join(f" {cell} " if cell else " " for cell in cells) + "|"
            block = ""


def _meaning(key: Key) -> str:
    label = key.words.label
    return key.words.says or label[0].lower() + label[1:]


def _default(key: Key) -> str:
    if key.words.usual or key.required:
        return key.words.usual
    match key.default:
        case bool() | int() | Decimal():
            return str(key.default).lower()
        case str():
            return key.default and f'"{key.default}"'
        case Length() | time():
            return f'"{key.default:%H:%M}"' if isinstance(key.default, time) else f'"{key.default.to_text()}"'
        case _:
            return ""


def written_table(text: str) -> str:
    """Return the table of keys that a README holds."""
    start = text.index(HEADINGS[0])
    lines = text[start:].splitlines(keepends=True)
    return "".join(line for line in lines if line.startswith("|"))


if __name__ == "__main__":
    readme = README.read_text(encoding="utf-8")
    README.write_text(readme.replace(written_table(readme), table_of_keys()), encoding="utf-8")
