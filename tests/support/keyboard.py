"""A workbook open in LibreOffice on a screen that nobody sees, and keys pressed there as a person does."""

import os
import signal
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from zipfile import is_zipfile

from tests.support.programs import path_of

SCREEN = "1366x768x24"
LONGEST_S, SETTLED_S = 90.0, 3.0
"""Until the workbook is open or saved at most; until a window that is there takes keys."""

SETTINGS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Common/Save/Document">
<prop oor:name="WarnAlienFormat" oor:op="fuse"><value>false</value></prop></item>
<item oor:path="/org.openoffice.Office.Common/Misc">
<prop oor:name="ShowTipOfTheDay" oor:op="fuse"><value>false</value></prop></item>
</oor:items>
"""
"""No tip of the day and no question of the file's format: both wait for a click."""


@dataclass(frozen=True, kw_only=True)
class Keyboard:
    """The keyboard before a workbook."""

    screen: str
    book: Path

    def type(self, text: str, *, key_ms: int = 30) -> None:
        """Type a text, so many milliseconds a key: a scanner is much quicker than a person."""
        self._do("type", "--delay", str(key_ms), text)

    def press(self, *keys: str) -> None:
        """Press keys by their X11 names one after the other, such as Return or alt+Down."""
        for key in keys:
            self._do("key", "--clearmodifiers", key)

    def save(self) -> bytes:
        """Save the workbook and return its file."""
        before = self.book.stat().st_mtime_ns
        self.press("ctrl+s")
        _wait(lambda: self.book.stat().st_mtime_ns > before and is_zipfile(self.book), "it is saved")
        return self.book.read_bytes()

    def _do(self, *arguments: str) -> str:
        return _on_screen(self.screen, *arguments)


def _on_screen(screen: str, *arguments: str) -> str:
    environment = os.environ | {"DISPLAY": screen}
    command = [path_of("xdotool"), *arguments]
    run = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)
    return run.stdout


@contextmanager
def typing_into(book: bytes, folder: Path) -> Iterator[Keyboard]:
    """Open a workbook and hand over the keyboard; both programs end afterwards."""
    path = folder / "till.xlsx"
    path.write_bytes(book)
    profile = folder / "profile"
    (profile / "user").mkdir(parents=True)
    (profile / "user" / "registrymodifications.xcu").write_text(SETTINGS, encoding="utf-8")
    with _screen() as screen, _office(screen, profile, path):
        _wait(lambda: _on_screen(screen, "search", "--name", path.name) != "", "the workbook is open")
        window = _on_screen(screen, "search", "--name", path.name).split()[-1]
        time.sleep(SETTLED_S)
        _on_screen(screen, "windowfocus", "--sync", window)
        yield Keyboard(screen=screen, book=path)


@contextmanager
def _screen() -> Iterator[str]:
    reading, writing = os.pipe()
    # Without -noreset the screen begins anew, and turns others away, each time that a program has left it.
    command = [path_of("Xvfb"), "-displayfd", str(writing), "-screen", "0", SCREEN, "-noreset"]
    with subprocess.Popen(command, pass_fds=(writing,), stderr=subprocess.DEVNULL) as run:
        os.close(writing)
        try:
            with os.fdopen(reading) as number:
                yield f":{number.readline().strip()}"
        finally:
            run.terminate()


@contextmanager
def _office(screen: str, profile: Path, book: Path) -> Iterator[None]:
    command = [
        path_of("LibreOffice"),
        f"-env:UserInstallation={profile.resolve().as_uri()}",
        *("--norestore", "--nologo", "--nofirststartwizard", "--calc", str(book)),
    ]
    environment = os.environ | {"DISPLAY": screen}
    # LibreOffice starts children of its own, which only go when their whole session is ended.
    with subprocess.Popen(
        command,
        env=environment,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    ) as run:
        try:
            yield
        finally:
            with suppress(ProcessLookupError):
                os.killpg(run.pid, signal.SIGTERM)


def _wait(is_done: Callable[[], bool], until: str) -> None:
    end = time.monotonic() + LONGEST_S
    while not is_done():
        assert time.monotonic() < end, f"not within {LONGEST_S} s: {until}"
        time.sleep(0.2)
