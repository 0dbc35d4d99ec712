"""The page asked as a browser asks it, without one."""

from collections.abc import Mapping
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any

from flask.testing import FlaskClient
from lxml import html
from werkzeug.test import TestResponse

KEY = "the-key-of-this-test"
ADDRESS = "http://127.0.0.1:8123"
OURS = {"Origin": ADDRESS, "Sec-Fetch-Site": "same-origin"}


@dataclass(frozen=True, kw_only=True)
class Page:
    """A page with the person who opened it."""

    client: FlaskClient
    folder: Path

    def enter(self) -> TestResponse:
        """Open the first address."""
        return self.client.get("/", query_string={"key": KEY}, base_url=ADDRESS)

    def get(self, path: str, **more: Any) -> TestResponse:
        """Open an address."""
        return _whole(self.client.get(path, base_url=ADDRESS, **more))

    def send(self, path: str, fields: Mapping[str, Any] | None = None) -> TestResponse:
        """Send a form, and go where that leads."""
        return _whole(
            self.client.post(
                path, base_url=ADDRESS, headers=OURS, data=dict(fields or {}), follow_redirects=True
            )
        )


def _whole(answer: TestResponse) -> TestResponse:
    """Read an answer to its end, so that no file stays open."""
    answer.get_data()
    answer.close()
    return answer


def upload(content: bytes, name: str) -> tuple[BytesIO, str]:
    """Return a file as a form sends it."""
    return BytesIO(content), name


def text_of(answer: TestResponse) -> str:
    """Return what a reader sees of a page's main part."""
    main = html.fromstring(answer.text).find(".//main")
    assert main is not None
    return " ".join("".join(map(str, main.itertext())).split())
