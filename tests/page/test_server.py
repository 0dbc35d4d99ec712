"""The server listens on this computer alone, tells its address, and ends cleanly."""

import http.client
import signal
import socket
from contextlib import closing
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from salebook.base.errors import FileError
from salebook.cli import main
from salebook.page.server import listen
from tests.support.served import running

LONGEST_SECONDS = 30
UNFINISHED = b"POST /selling/book HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 1000\r\n\r\nslowly"


def asked(address: str, method: str = "GET", path: str = "", **headers: str) -> tuple[int, str, str]:
    """Return the number, the cookie and the text of an answer."""
    parts = urlsplit(address)
    with closing(http.client.HTTPConnection(parts.netloc, timeout=LONGEST_SECONDS)) as connection:
        connection.request(method, path or f"{parts.path}?{parts.query}", headers=headers)
        with closing(connection.getresponse()) as answer:
            cookie = answer.headers.get("Set-Cookie", "").partition(";")[0]
            return answer.status, cookie, answer.read().decode()


@pytest.mark.slow
def test_ctrl_c_ends_it_and_says_so(tmp_path: Path) -> None:
    with running(tmp_path / "new") as (page, address):
        _status, cookie, _text = asked(address)
        assert asked(address, path="/selling/", Cookie=cookie)[0] == 200
        page.send_signal(signal.SIGINT)
        said, trouble = page.communicate(timeout=LONGEST_SECONDS)
    assert (page.returncode, trouble) == (0, "")
    assert said.endswith(f"salebook has ended; what was made lies in {tmp_path / 'new'}.\n")


@pytest.mark.slow
def test_the_button_ends_it_while_connections_say_nothing_or_send_slowly(tmp_path: Path) -> None:
    with running(tmp_path) as (page, address):
        parts = urlsplit(address)
        origin = f"http://{parts.netloc}"
        spare = [socket.create_connection((parts.hostname or "", parts.port or 0)) for _ in range(24)]
        for connection in spare[::2]:
            connection.sendall(UNFINISHED)
        _status, cookie, _text = asked(address)
        assert "You can close this page" in asked(address, "POST", "/end", Cookie=cookie, Origin=origin)[2]
        said, _trouble = page.communicate(timeout=LONGEST_SECONDS)
        for connection in spare:
            connection.close()
    assert page.returncode == 0
    assert "salebook has ended" in said


def test_it_listens_on_this_computer_alone(tmp_path: Path) -> None:
    with listen(tmp_path).listening as listening:
        host, port = listening.getsockname()
        assert host == "127.0.0.1"
        socket.create_connection(("127.0.0.1", port)).close()
        with pytest.raises(ConnectionRefusedError):
            socket.create_connection(("127.0.0.2", port))


def test_each_start_has_a_key_of_its_own(tmp_path: Path) -> None:
    servers = [listen(tmp_path) for _ in range(2)]
    for each in servers:
        each.listening.close()
    assert servers[0].key != servers[1].key
    assert all(len(each.key) > 40 for each in servers)


def test_a_port_that_is_taken_is_said(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken, pytest.raises(FileError, match="--port"):
        listen(tmp_path, port=taken.getsockname()[1])


def test_a_folder_that_cannot_be_made_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").touch()
    assert main(["page", "--no-browser", "--folder", str(tmp_path / "file")]) == 1
    assert "this is a file, not a folder" in capsys.readouterr().err


@pytest.mark.parametrize("port", ["-1", "70000", "x"])
def test_a_port_that_is_none_is_wrong_use(port: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["page", "--no-browser", "--port", port]) == 2
    assert "--port" in capsys.readouterr().err
