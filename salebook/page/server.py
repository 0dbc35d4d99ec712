"""The server: on this computer only, with a key of its own, and a clean end."""

import logging
import secrets
import socket
from _thread import interrupt_main
from dataclasses import dataclass
from pathlib import Path
from signal import SIGINT, default_int_handler, signal
from threading import Timer
from typing import Final
from urllib.parse import urlencode

from salebook.base.errors import FileError, error_text
from salebook.base.folders import make_folder
from salebook.base.words import _

HOST: Final = "127.0.0.1"
THREADS: Final = 8
"""A browser keeps connections open that it does not use: with one thread, such a one would hold up all."""

UNTIL_SAID_S: Final = 0.5
"""From the button to the end, so that the last page still arrives."""

KEY_BYTES: Final = 32


@dataclass(frozen=True, kw_only=True)
class Server:
    """A port of this computer that is listened to; who asks there waits until `run` answers."""

    listening: socket.socket
    folder: Path
    key: str

    @property
    def address(self) -> str:
        """The address to open, with its key."""
        return f"http://{HOST}:{self.listening.getsockname()[1]}/?{urlencode({'key': self.key})}"

    def run(self) -> None:
        """Answer until Ctrl-C or the button."""
        # All that the rooms need takes a second to load: meanwhile the browser opens.
        from waitress.server import create_server  # noqa: PLC0415

        from salebook.page.app import make_app  # noqa: PLC0415
        from salebook.page.guards import LARGEST_REQUEST  # noqa: PLC0415

        # A shell starts what it puts into the background deaf to Ctrl-C, and so to the button.
        signal(SIGINT, default_int_handler)
        # It would say on the terminal that somebody had to wait a moment.
        logging.getLogger("waitress").setLevel(logging.ERROR)
        app = make_app(self.folder, key=self.key, end=_end_soon)
        sockets, most = [self.listening], LARGEST_REQUEST
        create_server(app, sockets=sockets, threads=THREADS, max_request_body_size=most, ident="").run()


def listen(folder: Path, *, port: int = 0) -> Server:
    """Listen on a port of this computer; 0 takes a free one. The folder is made where it is missing.

    Raises FileError where the folder cannot be made, or the port is taken.
    """
    make_folder(folder)
    try:
        listening = socket.create_server((HOST, port))
    except OSError as trouble:
        says = _("{host}:{port}: cannot be used ({why}); leave out --port, and a free one is taken")
        raise FileError(says.format(host=HOST, port=port, why=error_text(trouble))) from trouble
    return Server(listening=listening, folder=folder.resolve(), key=secrets.token_urlsafe(KEY_BYTES))


def _end_soon() -> None:
    timer = Timer(UNTIL_SAID_S, interrupt_main)
    timer.daemon = True
    timer.start()
