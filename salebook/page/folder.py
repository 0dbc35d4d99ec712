"""The folder of the page: what lies in it, and what is put there; nothing else on the disk is touched."""

import os
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Final

from flask import abort, current_app
from werkzeug.datastructures import FileStorage
from werkzeug.utils import secure_filename

from salebook.base.errors import FileError
from salebook.base.files import refuse_while_open
from salebook.base.folders import make_folder
from salebook.base.words import _
from salebook.jobs.renew import put_book

DEEPEST: Final = 3
"""How many folders down files are listed."""
LONGEST_NAME: Final = 100


@dataclass(frozen=True)
class Folder:
    """The folder that the page works in."""

    path: Path

    def listing(self) -> Mapping[str, Path]:
        """Return the ordinary files by their names from the folder on, "pack/sale.xlsx"; no links.

        Raises FileError where the folder is gone.
        """
        if not self.path.is_dir():
            raise FileError(_("{file}: there is no such folder").format(file=self.path))
        found: dict[str, Path] = {}
        for place, folders, names in os.walk(self.path):
            here = Path(place)
            is_deep = len(here.relative_to(self.path).parts) >= DEEPEST
            folders[:] = [] if is_deep else sorted(name for name in folders if not name.startswith("."))
            for file in (here / name for name in sorted(names) if not name.startswith((".", "~$"))):
                if file.is_file() and not file.is_symlink():
                    found[file.relative_to(self.path).as_posix()] = file
        return found

    def named(self, ending: str) -> tuple[str, ...]:
        """Return the names of the files with an ending such as ".toml"."""
        return tuple(name for name in self.listing() if name.lower().endswith(ending))

    def file(self, name: str) -> Path:
        """Return a file of the listing; whatever else is asked for is not there (404)."""
        return self.listing().get(name) or abort(404)

    def name_of(self, file: Path) -> str:
        """Return what a file is called in the listing."""
        return file.resolve().relative_to(self.path).as_posix()

    def taken_in(
        self, upload: FileStorage, *, ending: str | tuple[str, ...], today: date, into: str = ""
    ) -> str:
        """Put a copy of an upload into the folder, or into one inside, and return its name.

        What stands there under that name is kept as a dated copy, where it is something else. Raises
        FileError where nothing or another kind of file was sent, or the file there is open in a program.
        """
        sent = (upload.filename or "").replace("\\", "/").rpartition("/")[2]
        name = secure_filename(sent)[-LONGEST_NAME:].lstrip("._")
        if not name.lower().endswith(ending):
            says = _("{file}: a file whose name ends in {ending} is needed here")
            endings = ending if isinstance(ending, str) else ", ".join(ending)
            raise FileError(says.format(file=sent or _("nothing"), ending=endings))
        target, content = (self.made(into) if into else self.path) / name, upload.read()
        if target.is_symlink():
            raise FileError(_("{file}: is a link to another place, and stays as it is").format(file=target))
        refuse_while_open(target)
        if not (target.is_file() and target.read_bytes() == content):
            put_book(target, content, today=today)
        return self.name_of(target)

    def made(self, name: str) -> Path:
        """Return a folder inside, which is made where it is missing; raises FileError where it is a link."""
        folder = self.path / name
        if folder.resolve() != folder:
            raise FileError(_("{file}: is a link to another place, and stays as it is").format(file=folder))
        make_folder(folder)
        return folder

    def within(self, text: str) -> str:
        """Return a text with the files of this folder called as they are listed."""
        return text.replace(f"{self.path}{os.sep}", "")


def the_folder() -> Folder:
    """Return the folder of the page that is asked."""
    folder: Folder = current_app.config["FOLDER"]
    return folder
