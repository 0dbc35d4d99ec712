"""The page as an app: its rooms, its words, and how trouble is told on it."""

import os
import traceback
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Final

from flask import Flask, redirect, render_template, send_file, url_for
from jinja2 import StrictUndefined
from werkzeug.exceptions import BadRequest, Forbidden, HTTPException
from werkzeug.routing import RequestRedirect
from werkzeug.wrappers import Response

from salebook.base.errors import SalebookError
from salebook.base.package_data import package_data
from salebook.base.trouble import TRACE, trouble_text
from salebook.base.words import N_, _, ngettext
from salebook.page.accounts import accounts
from salebook.page.folder import Folder, the_folder
from salebook.page.guards import FOR_PRINTS, FOR_THE_CHECK, POLICY, guard
from salebook.page.plan import plan
from salebook.page.price import price
from salebook.page.selling import selling
from salebook.page.shown import cells_of, is_bar
from salebook.prints.after.pack import CHECK

ROOMS: Final = {
    plan: N_("Plan"),
    price: N_("Price"),
    selling: N_("Making and selling"),
    accounts: N_("Accounts"),
}
"""Each room with its name, in the order in which they are shown."""

SHOWN: Final = {".html": "text/html", ".jpg": "image/jpeg", ".toml": "text/plain"}
"""What a browser shows by itself; all else is downloaded."""

REFUSED: Final = {
    400: N_("This was not understood. Go back, and try again."),
    403: N_(
        "This page answers only who opened it with its whole address. Open the address that salebook printed."
    ),
    404: N_("Nothing of that name lies in the folder of this page."),
    405: N_("This was not understood. Go back, and try again."),
    413: N_("This is more than the page takes in at once."),
}


def make_app(folder: Path, *, key: str, end: Callable[[], None]) -> Flask:
    """Return the page of a folder; `end` is called by its button."""
    templates = package_data("salebook_templates", "templates") / "page"
    app = Flask(__name__, template_folder=str(templates), static_folder=str(templates / "looks"))
    app.config["FOLDER"] = Folder(folder)
    guard(app, key)
    app.jinja_env.globals |= {
        "_": _,
        "ngettext": ngettext,
        "cells_of": cells_of,
        "is_bar": is_bar,
        "rooms": lambda: [(room.name, _(name)) for room, name in ROOMS.items()],
    }
    app.jinja_env.filters["within"] = lambda text: the_folder().within(str(text))
    app.jinja_env.undefined = StrictUndefined
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    for room in ROOMS:
        app.register_blueprint(room)
    app.add_url_rule("/", view_func=enter)
    app.add_url_rule("/file/<path:name>", view_func=file)
    app.add_url_rule("/end", view_func=lambda: _ended(end), endpoint="end", methods=["POST"])
    app.register_error_handler(Exception, _told)
    return app


def enter() -> Response:
    """Show the first room."""
    return redirect(url_for("plan.room"))


def file(name: str) -> Response:
    """Show a file of the folder away from the page, or hand it over as a download."""
    path = the_folder().file(name)
    kind = SHOWN.get(path.suffix.lower())
    sent = send_file(
        BytesIO(path.read_bytes()), mimetype=kind, as_attachment=kind is None, download_name=path.name
    )
    sent.headers[POLICY] = FOR_THE_CHECK if path.name == CHECK else FOR_PRINTS
    return sent


def _ended(end: Callable[[], None]) -> str:
    end()
    return render_template("ended.html")


def _told(trouble: Exception) -> Response | tuple[str, int]:
    """Say what went wrong in words."""
    match trouble:
        case RequestRedirect():
            return trouble.get_response()
        case BadRequest() | Forbidden():
            # To a stranger nothing of the page is shown, and no address in it could be made.
            says = REFUSED[trouble.code]
            return render_template("refused.html", says=_(says)), trouble.code
        case HTTPException():
            code = trouble.code or 500
            says = REFUSED.get(code, REFUSED[400])
            says = _(says)
        case SalebookError():
            code, says = 422, str(trouble)
        case _:
            code, says = 500, trouble_text(trouble)
            if os.environ.get(TRACE):
                traceback.print_exception(trouble)
    return render_template("trouble.html", says=says.splitlines()), code
