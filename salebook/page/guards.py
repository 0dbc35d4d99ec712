"""What keeps everybody else out: other computers, other users, and pages of other places in the browser."""

import secrets
from collections.abc import Iterable
from threading import Lock
from typing import TYPE_CHECKING, Final

from flask import Flask, Response, abort, redirect, request
from werkzeug.wrappers import Response as AnyResponse

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment

LARGEST_REQUEST: Final = 200_000_000
"""Bytes: photographs of a day's stubs."""
LARGEST_FIELDS: Final = 2_000_000
"""Bytes of all that is typed in one form."""
MOST_PARTS: Final = 3_000
SAFE: Final = frozenset({"GET", "HEAD"})

ONLY_OURS: Final = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
FOR_PRINTS: Final = (
    "sandbox; default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; "
    "form-action 'none'; frame-ancestors 'none'"
)
"""A print is fetched nothing and runs nothing; it is no part of the page, whatever its template says."""
FOR_THE_CHECK: Final = FOR_PRINTS.replace("sandbox;", "sandbox allow-scripts; script-src 'unsafe-inline';")
"""The page that adds a list up reckons by itself, away from all that the page may do."""

POLICY: Final = "Content-Security-Policy"
HEADERS: Final = {
    POLICY: ONLY_OURS,
    "Cache-Control": "no-store",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    # With no-referrer a browser says of its own form that it comes from nowhere ("Origin: null").
    "Referrer-Policy": "same-origin",
}


def guard(app: Flask, key: str) -> None:
    """Let an app answer only who has the key, and change something only for its own pages."""
    app.config |= {
        "TRUSTED_HOSTS": ["127.0.0.1"],
        "MAX_CONTENT_LENGTH": LARGEST_REQUEST,
        "MAX_FORM_MEMORY_SIZE": LARGEST_FIELDS,
        "MAX_FORM_PARTS": MOST_PARTS,
    }
    app.before_request(lambda: _refuse_strangers(key))
    app.after_request(_with_headers)
    setattr(app, "wsgi_app", one_change_at_a_time(app.wsgi_app))  # noqa: B010  a method, to mypy


def one_change_at_a_time(app: "WSGIApplication") -> "WSGIApplication":
    """Return an app that does what may write something one after the other."""
    lock = Lock()

    def in_turn(environ: "WSGIEnvironment", start: "StartResponse") -> Iterable[bytes]:
        if environ["REQUEST_METHOD"] in SAFE:
            return app(environ, start)
        with lock:
            return app(environ, start)

    return in_turn


def _refuse_strangers(key: str) -> AnyResponse | None:
    # A browser sends the cookies of 127.0.0.1 to every port of it; so each port has a name of its own.
    # To ask for the host refuses a foreign one.
    cookie = f"salebook-{request.host.rpartition(':')[2]}"
    if _is_same(request.args.get("key", ""), key) and request.method == "GET":
        entry = redirect(request.path, code=303)
        entry.set_cookie(cookie, key, httponly=True, samesite="Strict")
        return entry
    if not _is_same(request.cookies.get(cookie, ""), key):
        abort(403)
    if request.method not in SAFE and not _is_from_here():
        abort(403)
    return None


def _is_same(given: str, key: str) -> bool:
    return secrets.compare_digest(given.encode(), key.encode())


def _is_from_here() -> bool:
    """Whether a change was asked for by a page of this server, as the browser says."""
    origin, site = request.headers.get("Origin"), request.headers.get("Sec-Fetch-Site")
    if origin is None and site is None:
        return False
    return origin in {None, request.host_url.rstrip("/")} and site in {None, "same-origin"}


def _with_headers(response: Response) -> Response:
    policy = response.headers.get(POLICY, HEADERS[POLICY])
    response.headers.update(HEADERS | {POLICY: policy})
    return response
