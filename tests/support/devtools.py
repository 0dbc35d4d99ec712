"""One browser for all the tests of a run: Chromium without a window, told what to do through a pipe.

The commands are those of the Chrome DevTools Protocol, each a line of JSON that ends in a zero byte.
"""

import atexit
import base64
import fcntl
import json
import os
import select
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any

from tests.support.programs import chromium_command

LONGEST_SECONDS = 120
PX_PER_MM = 96 / 25.4


@cache
def browser() -> "Browser":
    """Return the browser, started when it is first asked for and closed when the tests end."""
    # A start takes two seconds, a print a fifth of one.
    started = Browser()
    atexit.register(started.close)
    return started


class Browser:
    """A running Chromium with one page open."""

    def __init__(self) -> None:
        self._profile = tempfile.TemporaryDirectory(prefix="browser-", ignore_cleanup_errors=True)
        self._pid, self._commands, self._answers = _started(Path(self._profile.name))
        self._unread = b""
        self._asked = 0
        self._happened: list[object] = []
        self._session: dict[str, str] = {}
        page = self._call("Target.createTarget", url="about:blank")["targetId"]
        attached = self._call("Target.attachToTarget", targetId=page, flatten=True)
        self._session = {"sessionId": attached["sessionId"]}
        self._call("Page.enable")

    def pdf(self, page: Path) -> bytes:
        """Print a page at 100 % on the paper that it asks for."""
        self._open(page)
        return self.printed()

    def answer(self, page: Path, question: str, *, width_mm: float) -> object:
        """Return what a JavaScript expression finds in a page, laid out for print at a width."""
        # In print, a browser shrinks a page that is too wide instead of cutting it; so it is laid out and
        # measured.
        width = round(width_mm * PX_PER_MM)
        screen = {"width": width, "height": 800, "deviceScaleFactor": 1, "mobile": False}
        self._call("Emulation.setDeviceMetricsOverride", **screen)
        self._open(page)
        return self.found(question)

    def show(self, page: Path, *, width_px: int = 1366, runs_scripts: bool = True) -> None:
        """Open a page as on a screen of a width."""
        screen = {"width": width_px, "height": 768, "deviceScaleFactor": 1, "mobile": False}
        self._call("Emulation.setDeviceMetricsOverride", **screen)
        self._call("Emulation.setScriptExecutionDisabled", value=not runs_scripts)
        try:
            self._open(page, media="screen")
        finally:
            self._call("Emulation.setScriptExecutionDisabled", value=False)

    def visit(self, address: str, *, width_px: int = 1366, runs_scripts: bool = True) -> None:
        """Go to an address as on a screen of a width, whose scroll bars take no room."""
        self._call("Emulation.setScrollbarsHidden", hidden=True)
        screen = {"width": width_px, "height": 768, "deviceScaleFactor": 1, "mobile": False}
        self._call("Emulation.setDeviceMetricsOverride", **screen)
        self._call("Emulation.setEmulatedMedia", media="screen")
        with self._until_loaded(runs_scripts=runs_scripts):
            self._call("Page.navigate", url=address)

    def click(self, place: str, *, runs_scripts: bool = True) -> None:
        """Click on a place, named as in a style sheet, and wait for the page that it opens."""
        part = f"document.querySelector({json.dumps(place)})"
        self.found(f"{part}.scrollIntoView({{block: 'center'}})")
        middle = f"(box => [box.x + box.width / 2, box.y + box.height / 2])({part}.getBoundingClientRect())"
        x, y = self.found(middle)
        with self._until_loaded(runs_scripts=runs_scripts):
            for kind in ("mousePressed", "mouseReleased"):
                self._call("Input.dispatchMouseEvent", type=kind, x=x, y=y, button="left", clickCount=1)

    @contextmanager
    def _until_loaded(self, *, runs_scripts: bool) -> Iterator[None]:
        """Do something that opens a page, and wait until it is there."""
        self._happened.clear()
        self._call("Emulation.setScriptExecutionDisabled", value=not runs_scripts)
        try:
            yield
            while "Page.loadEventFired" not in self._happened:
                self._happened.append(self._message().get("method"))
        finally:
            self._call("Emulation.setScriptExecutionDisabled", value=False)

    def found(self, question: str) -> Any:
        """Return what a JavaScript expression finds in the page that is open; a promise is waited for."""
        found = self._call("Runtime.evaluate", expression=question, returnByValue=True, awaitPromise=True)
        assert "exceptionDetails" not in found, found
        return found["result"].get("value")

    def choose(self, file: Path, field: str) -> None:
        """Choose a file in a field of the open page, which is named as in a style sheet."""
        root = self._call("DOM.getDocument")["root"]["nodeId"]
        node = self._call("DOM.querySelector", nodeId=root, selector=field)["nodeId"]
        self._call("DOM.setFileInputFiles", files=[str(file.resolve())], nodeId=node)

    def drop(self, *files: Path, at: tuple[float, float]) -> None:
        """Drop files on a place of the open page, as a mouse does."""
        paths = [str(file.resolve()) for file in files]
        data = {"items": [], "files": paths, "dragOperationsMask": 1}
        for kind in ("dragEnter", "dragOver", "drop"):
            self._call("Input.dispatchDragEvent", type=kind, x=at[0], y=at[1], data=data)

    def type(self, text: str) -> None:
        """Type a text where the open page expects it."""
        self._call("Input.insertText", text=text)

    def press(self, key: str) -> None:
        """Press a key such as Tab or Enter."""
        code = {"Tab": 9, "Enter": 13}[key]
        text = {"text": "\r"} if key == "Enter" else {}
        for kind in ("keyDown", "keyUp"):
            also = text if kind == "keyDown" else {}
            self._call("Input.dispatchKeyEvent", type=kind, key=key, windowsVirtualKeyCode=code, **also)

    def enter(self) -> None:
        """Press Enter on what has the focus, and wait for where that leads."""
        with self._until_loaded(runs_scripts=True):
            self.press("Enter")

    def picture(self) -> bytes:
        """Return a picture of the whole open page, as PNG."""
        made = self._call("Page.captureScreenshot", captureBeyondViewport=True)
        return base64.b64decode(made["data"])

    def printed(self) -> bytes:
        """Print the open page as it stands, at 100 % on the paper that it asks for, as PDF."""
        self._call("Emulation.setEmulatedMedia", media="print")
        made = self._call("Page.printToPDF", preferCSSPageSize=True, printBackground=True)
        return base64.b64decode(made["data"])

    def close(self) -> None:
        """Let the browser end, and wait until it has."""
        self._session = {}
        self._call("Browser.close")
        os.close(self._commands)
        os.waitpid(self._pid, 0)
        os.close(self._answers)
        self._profile.cleanup()

    def _open(self, page: Path, *, media: str = "print") -> None:
        self._call("Emulation.setEmulatedMedia", media=media)
        self._happened.clear()
        self._call("Page.navigate", url=page.resolve().as_uri())
        while "Page.loadEventFired" not in self._happened:
            self._happened.append(self._message().get("method"))

    def _call(self, method: str, **parameters: object) -> dict[str, Any]:
        self._asked += 1
        command = {"id": self._asked, "method": method, "params": parameters, **self._session}
        unsent = json.dumps(command).encode() + b"\0"
        while unsent:
            unsent = unsent[os.write(self._commands, unsent) :]
        while (message := self._message()).get("id") != self._asked:
            self._happened.append(message.get("method"))
        assert "error" not in message, message
        result: dict[str, Any] = message["result"]
        return result

    def _message(self) -> dict[str, Any]:
        while b"\0" not in self._unread:
            readable, _writable, _odd = select.select([self._answers], [], [], LONGEST_SECONDS)
            more = os.read(self._answers, 1 << 16) if readable else b""
            assert more, "the browser says nothing any more"
            self._unread += more
        first, _end, self._unread = self._unread.partition(b"\0")
        message: dict[str, Any] = json.loads(first)
        return message


def _started(profile: Path) -> tuple[int, int, int]:
    """Start Chromium; return its process, the pipe for commands and that for answers."""
    theirs_in, commands = os.pipe()
    answers, theirs_out = os.pipe()
    ends = [fcntl.fcntl(end, fcntl.F_DUPFD_CLOEXEC, 10) for end in (theirs_in, theirs_out)]
    command = chromium_command(profile, "--remote-debugging-pipe", "about:blank")
    pid = os.posix_spawn(
        command[0],
        command,
        os.environ,
        file_actions=[
            *((os.POSIX_SPAWN_OPEN, stream, os.devnull, os.O_WRONLY, 0) for stream in (1, 2)),
            # The browser takes its commands from file 3 and answers on file 4.
            *((os.POSIX_SPAWN_DUP2, end, number) for end, number in zip(ends, (3, 4), strict=True)),
        ],
    )
    for end in (theirs_in, theirs_out, *ends):
        os.close(end)
    return pid, commands, answers
