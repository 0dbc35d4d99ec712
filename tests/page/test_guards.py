"""Nobody but the person who opened the page gets an answer, and no other place can change anything."""

import threading
from collections.abc import Mapping

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from salebook.page import guards
from salebook.page.guards import HEADERS, one_change_at_a_time
from tests.support.paged import ADDRESS, KEY, OURS, Page, text_of

COOKIE = "salebook-8123"
EVERY_ADDRESS = ("/", "/selling/", "/looks/page.css", "/file/plan.toml", "/nothing", "/selling/book/x.xlsx")
EVERY_CHANGE = ("/end", "/selling/pack", "/selling/sample", "/selling/plan", "/selling/book")


def test_the_first_address_becomes_a_cookie_and_leaves_the_address(stranger: FlaskClient) -> None:
    entry = stranger.get("/", query_string={"key": KEY}, base_url=ADDRESS)
    assert (entry.status_code, entry.headers["Location"]) == (303, "/")
    assert entry.headers["Set-Cookie"] == f"{COOKIE}={KEY}; HttpOnly; Path=/; SameSite=Strict"


@pytest.mark.parametrize("address", EVERY_ADDRESS)
def test_without_the_key_nothing_is_answered(stranger: FlaskClient, address: str) -> None:
    refused = stranger.get(address, base_url=ADDRESS)
    assert refused.status_code == 403
    assert "<nav" not in refused.text
    assert "its whole address" in text_of(refused)


@pytest.mark.parametrize("key", ["", "x", KEY[:-1], KEY + "x", KEY.upper(), "\u00e9", "'; --"])
def test_a_guessed_key_opens_nothing(stranger: FlaskClient, key: str) -> None:
    asked = stranger.get("/", query_string={"key": key}, base_url=ADDRESS)
    stranger.set_cookie(COOKIE, "guessed", domain="127.0.0.1")
    assert (asked.status_code, stranger.get("/selling/", base_url=ADDRESS).status_code) == (403, 403)
    assert "Set-Cookie" not in asked.headers


def test_the_cookie_of_another_port_opens_nothing(page: Page) -> None:
    other = page.client.get("/selling/", base_url="http://127.0.0.1:8124")
    assert other.status_code == 403


@pytest.mark.parametrize(
    "host",
    ["localhost:8123", "evil.example", "127.0.0.1.evil.example:8123", "192.168.0.7:8123", "[::1]:8123"],
)
def test_a_foreign_host_is_refused_even_with_the_key(page: Page, host: str) -> None:
    answers = [
        page.get("/selling/", headers={"Host": host, "Cookie": f"{COOKIE}={KEY}"}),
        page.get(f"/?key={KEY}", headers={"Host": host}),
    ]
    assert [answer.status_code for answer in answers] == [400, 400]
    assert ["Set-Cookie" in answer.headers for answer in answers] == [False, False]


@pytest.mark.parametrize("change", EVERY_CHANGE)
@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"Origin": "null"},
        {"Origin": "http://evil.example"},
        {"Origin": "http://127.0.0.1:9999"},
        {"Origin": "https://127.0.0.1:8123"},
        {"Origin": ADDRESS, "Sec-Fetch-Site": "same-site"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "none"},
        {"Origin": "http://evil.example", "Sec-Fetch-Site": "same-origin"},
        {"Referer": ADDRESS},
    ],
    ids=str,
)
def test_no_other_place_can_change_anything(
    page: Page, ended: list[bool], change: str, headers: Mapping[str, str]
) -> None:
    refused = page.client.post(change, base_url=ADDRESS, headers=headers)
    assert (refused.status_code, ended, list(page.folder.iterdir())) == (403, [], [])


@pytest.mark.parametrize("headers", [{"Origin": ADDRESS}, {"Sec-Fetch-Site": "same-origin"}, OURS], ids=str)
def test_a_form_of_its_own_changes_what_it_says(
    page: Page, ended: list[bool], headers: Mapping[str, str]
) -> None:
    assert page.client.post("/end", base_url=ADDRESS, headers=headers).status_code == 200
    assert ended == [True]


@pytest.mark.parametrize("change", EVERY_CHANGE)
def test_an_address_alone_changes_nothing(page: Page, change: str) -> None:
    answer = page.get(change)
    assert (answer.status_code, list(page.folder.iterdir())) == (405, [])


def test_the_key_in_a_form_is_no_way_in(stranger: FlaskClient, ended: list[bool]) -> None:
    refused = stranger.post(f"/end?key={KEY}", base_url=ADDRESS, headers=OURS)
    assert (refused.status_code, ended) == (403, [])


def test_too_large_a_request_is_refused_in_words(page: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(page.client.application.config, "MAX_CONTENT_LENGTH", 1000)
    refused = page.send("/selling/pack", {"source": "x" * 2000})
    assert refused.status_code == 413
    assert "more than the page takes in" in text_of(refused)


@pytest.mark.parametrize(
    ("fields", "limit"),
    [({"source": "x" * 2000}, "MAX_FORM_MEMORY_SIZE"), ({f"f{n}": "x" for n in range(20)}, "MAX_FORM_PARTS")],
    ids=["fields", "parts"],
)
def test_too_much_in_one_form_is_refused(
    page: Page, monkeypatch: pytest.MonkeyPatch, fields: Mapping[str, str], limit: str
) -> None:
    monkeypatch.setitem(page.client.application.config, limit, 10)
    refused = page.client.post(
        "/selling/join", base_url=ADDRESS, headers=OURS, data=fields, content_type="multipart/form-data"
    )
    assert refused.status_code == 413


def test_the_limits_are_set(page: Page) -> None:
    config = page.client.application.config
    limits = (guards.LARGEST_REQUEST, guards.LARGEST_FIELDS, guards.MOST_PARTS)
    assert (config["MAX_CONTENT_LENGTH"], config["MAX_FORM_MEMORY_SIZE"], config["MAX_FORM_PARTS"]) == limits


def answers_of_each_kind(page: Page) -> list[TestResponse]:
    (page.folder / "note.html").write_text("<p>print</p>", encoding="utf-8")
    addresses = ("/", "/selling/", "/looks/page.css", "/file/note.html", "/file/none", "/selling")
    return [page.get(address) for address in addresses]


def test_every_answer_has_the_headers_that_keep_others_out(page: Page) -> None:
    for answer in answers_of_each_kind(page):
        missing = {name for name in HEADERS if name not in answer.headers}
        assert (missing, answer.headers["Cache-Control"]) == (set(), "no-store"), answer.request.path


def test_a_page_runs_nothing_but_its_own_script_and_no_page_shows_it_in_a_frame(page: Page) -> None:
    policy = page.get("/selling/").headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "script-src 'self'" in policy
    assert "frame-ancestors 'none'" in policy
    assert "unsafe" not in policy


@pytest.mark.parametrize(("name", "runs"), [("note.html", False), ("check.html", True)])
def test_prints_are_shown_away_from_the_page(page: Page, name: str, runs: bool) -> None:
    (page.folder / name).write_text("<p>print</p>", encoding="utf-8")
    policy = page.get(f"/file/{name}").headers["Content-Security-Policy"]
    assert policy.startswith("sandbox")
    assert "allow-same-origin" not in policy
    assert ("allow-scripts" in policy) is runs
    assert "connect-src" not in policy
    assert "default-src 'none'" in policy


def test_two_changes_at_once_are_done_one_after_the_other() -> None:
    inside, most, gate = [0], [0], threading.Barrier(3)

    def slow(_environ: object, _start: object) -> list[bytes]:
        inside[0] += 1
        most[0] = max(most[0], inside[0])
        threading.Event().wait(0.02)
        inside[0] -= 1
        return []

    app = one_change_at_a_time(slow)

    def change() -> None:
        gate.wait()
        app({"REQUEST_METHOD": "POST"}, lambda *_args: lambda _bytes: None)

    changes = [threading.Thread(target=change) for _ in range(3)]
    for thread in changes:
        thread.start()
    for thread in changes:
        thread.join()
    assert most == [1]
