"""The server: on this computer only, with a key of its own, and a clean end."""

import secrets
import socket
from _thread import interrupt_main
from dataclasses import dataclass
from pathlib import Path
from signal import SIGINT, default_int_handler, signal
from threading import Timer
from typing import Final
from urllib.parse import urlencode

from waitress.server import BaseWSGIServer, MultiSocketServer, create_server

from salebook.base.errors import FileError, error_text
from salebook.base.folders import make_folder
from salebook.base.words import _
from salebook.page.app import make_app
from salebook.page.guards import LARGEST_REQUEST

HOST: Final = "127.0.0.1"
THREADS: Final = 8
"""A browser keeps connections open that it does not use: with one thread, such a one would hold up all."""

UNTIL_SAID_S: Final = 0.5
"""From the button to the end, so that the last page still arrives."""

KEY_BYTES: Final = 32


@dataclass(frozen=True, kw_only=True)
class Served:
    """A server that listens and has not begun to answer."""

    server: MultiSocketServer | BaseWSGIServer
    address: str
    folder: Path

    def run(self) -> None:
        """Answer until Ctrl-C or the button."""
        # A shell starts what it puts into the background deaf to Ctrl-C, and so to the button.
        signal(SIGINT, default_int_handler)
        self.server.run()


def open_server(folder: Path, *, port: int = 0) -> Served:
    """Listen on a port of this computer; 0 takes a free one. The folder is made where it is missing.

    Raises FileError where the folder cannot be made, or the port is taken.
    """
    make_folder(folder)
    folder = folder.resolve()
    key = secrets.token_urlsafe(KEY_BYTES)
    app = make_app(folder, key=key, end=_end_soon)
    listening = _listening(port)
    server = create_server(
        app, sockets=[listening], threads=THREADS, max_request_body_size=LARGEST_REQUEST, ident=""
    )
    address = f"http://{HOST}:{listening.getsockname()[1]}/?{urlencode({'key': key})}"
    return Served(server=server, address=address, folder=folder)


def _listening(port: int) -> socket.socket:
    try:
        return socket.create_server((HOST, port))
    except OSError as trouble:
        says = _("{host}:{port}: cannot be used ({why}); leave out --port, and a free one is taken")
        raise FileError(says.format(host=HOST, port=port, why=error_text(trouble))) from trouble


def _end_soon() -> None:
    timer = Timer(UNTIL_SAID_S, interrupt_main)
    timer.daemon = True
    timer.start()
