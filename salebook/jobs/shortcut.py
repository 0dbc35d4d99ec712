"""A file on the desktop that opens the page with a double click."""

import shlex
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final

from salebook.base.errors import FileError
from salebook.base.files import write_atomically
from salebook.base.folders import make_folder
from salebook.base.words import _

NAMES: Final = {"linux": "salebook.desktop", "darwin": "salebook.command", "win32": "salebook.bat"}
"""By what Python calls the computer; any other is like Linux."""
DESKTOP_ENTRY: Final = """\
[Desktop Entry]
Type=Application
Version=1.0
Name=salebook
Comment={comment}
Exec={exec}
Path={folder}
Terminal=true
Categories=Office;
"""
SHELL: Final = """\
#!/bin/sh
exec {command}
"""
BATCH: Final = """\
@echo off\r
chcp 65001 > nul\r
{command}\r
"""
RESERVED: Final = frozenset(" \t\n\"'\\><~|&;$*?#()`")
"""Signs that an entry's command must quote (Desktop Entry Specification 1.5, "The Exec key")."""


def desktop_of(environment: Mapping[str, str], home: Path) -> Path:
    """Return the folder of the desktop: as the computer names it, else Desktop at home."""
    named = environment.get("XDG_DESKTOP_DIR", "")
    return Path(named.replace("$HOME", str(home))) if named else home / "Desktop"


def shortcut_command(folder: Path) -> list[str]:
    """Return what a shortcut runs: this Python, with the page on a folder."""
    return [sys.executable, "-m", "salebook", "page", "--folder", str(folder)]


def put_shortcut(folder: Path, desktop: Path, *, system: str = sys.platform) -> Path:
    """Put a shortcut to the page on a folder on the desktop and return its path.

    Raises FileError where it cannot be written, or a path cannot be said in such a file.
    """
    kind = system if system in NAMES else "linux"
    command = shortcut_command(folder)
    if any(set(part) & {"\n", "\r"} for part in command):
        raise FileError(
            _("{folder}: a folder with a line break in its name is too much").format(folder=folder)
        )
    make_folder(desktop)
    path = desktop / NAMES[kind]
    write_atomically(path, _text(kind, command, folder).encode())
    if kind != "win32":
        path.chmod(0o755)
    return path


def _text(kind: str, command: Sequence[str], folder: Path) -> str:
    if kind == "win32":
        return BATCH.format(command=" ".join(_for_batch(part) for part in command))
    if kind == "darwin":
        return SHELL.format(command=shlex.join(command))
    comment = _("From one plan to a charity sale of handmade pieces")
    run = " ".join(_for_entry(part) for part in command)
    return DESKTOP_ENTRY.format(comment=comment, exec=run, folder=_escaped(str(folder)))


def _for_batch(part: str) -> str:
    return f'"{part.replace("%", "%%")}"'


def _for_entry(part: str) -> str:
    """Quote a part of an entry's command, and then as any value of it."""
    quoted = part.replace("%", "%%")
    if RESERVED & set(part):
        for sign in '\\"`$':
            quoted = quoted.replace(sign, f"\\{sign}")
        quoted = f'"{quoted}"'
    return _escaped(quoted)


def _escaped(value: str) -> str:
    return value.replace("\\", "\\\\")
