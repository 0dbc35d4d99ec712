"""What a command says at length: sentences, then tables, then lists; on a terminal or on a page."""

import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from rich.console import Console
from rich.table import Table
from rich.text import Text

from salebook.jobs.columns import show_tables


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What is said under a title; a list without lines is not shown."""

    title: str
    urgent: Sequence[str] = ()
    """What comes first, since it cannot wait."""
    sentences: Sequence[str] = ()
    tables: Sequence[Table] = ()
    lists: Mapping[str, Sequence[str]] = field(default_factory=dict)


def open_console() -> Console:
    """Return a console on standard output that takes every text as it stands."""
    # rich reads square brackets as markup unless told not to: a group may be called "[green]".
    return Console(file=sys.stdout, markup=False, emoji=False, highlight=False)


def show_answer(answer: Answer, console: Console) -> None:
    """Show an answer on a terminal."""
    console.print(Text(answer.title, style="bold"))
    console.print()
    for sentence in answer.urgent:
        console.print(Text(sentence, style="bold red"))
    for sentence in answer.sentences:
        console.print(sentence)
    show_tables(answer.tables, console)
    for heading, lines in answer.lists.items():
        _show_list(heading, lines, console)


def _show_list(heading: str, lines: Sequence[str], console: Console) -> None:
    if not lines:
        return
    console.print()
    console.print(Text(heading, style="bold"))
    for line in lines:
        row = Table.grid(padding=(0, 1))
        row.add_row("-", line)
        console.print(row)
