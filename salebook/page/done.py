"""What is said once something was done."""

from collections.abc import Iterable
from pathlib import Path

from flask import render_template

from salebook.event.question import Question, question_line
from salebook.page.folder import the_folder


def show_done(
    title: str,
    says: Iterable[str],
    *,
    asks: Iterable[Question] = (),
    files: Iterable[Path] = (),
    onward: str = "",
) -> str:
    """Show what was done in a command's sentences, what needs a person, and the files that were made.

    `onward` is the address of what a person does next.
    """
    folder = the_folder()
    return render_template(
        "done.html",
        title=title,
        says=list(says),
        asks=[question_line(question) for question in asks],
        onward=onward,
        files=[folder.name_of(file) for file in files],
    )
