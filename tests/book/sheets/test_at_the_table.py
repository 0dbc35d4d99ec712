"""What stands on the first sheet about typing at the table."""

from typing import get_args

from salebook.event.entries import LineKind
from tests.support.books import sample_book
from tests.support.cells import values_of
from tests.support.inputs import KEPT_BESIDE_LINES, headings_of

SAYS_ITSELF = {"Line", "Day", "Time", "Note"}


def said_at_the_table() -> str:
    texts = [
        value
        for (sheet, _cell), value in values_of(sample_book("first-sale")).items()
        if sheet == "Start here"
    ]
    first = texts.index("At the table: what to type on Takings")
    return " ".join(map(str, texts[first : texts.index("Key to the colours")]))


def headings_to_type_under() -> list[str]:
    headings = headings_of(sample_book("first-sale"), "Takings", "takings")
    kept = KEPT_BESIDE_LINES
    typed = [said for key, said in headings.items() if key not in kept and not key.startswith("=")]
    return [heading.split(",")[0] for heading in typed if heading not in SAYS_ITSELF]


def test_every_column_and_kind_of_takings_is_explained() -> None:
    names, said = [*headings_to_type_under(), *get_args(LineKind)], said_at_the_table().lower()
    assert len(names) > 15
    assert [name for name in names if name.lower() not in said] == []
