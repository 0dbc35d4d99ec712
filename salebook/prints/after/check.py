"""The page that adds a list of lines up again: the one print with a script, which is its whole reckoning."""

import base64
import hashlib
from typing import Final

from markupsafe import Markup

from salebook.accounts.verification import CLOSE
from salebook.base.words import ngettext
from salebook.event.breakdown import KINDS
from salebook.prints.render import Printer, packaged_templates
from salebook.prints.wording import purpose_label

SCRIPTS: Final = ("check.js", "check-page.js")
"""The reckoning; what shows it. No template of one's own takes their place: they are no matter of looks."""


def check_html(printer: Printer) -> str:
    """Return the page: it runs its own scripts, known by their hashes, and fetches nothing."""
    scripts = [(packaged_templates() / name).read_text(encoding="utf-8") for name in SCRIPTS]
    return printer.fill(
        "check.html",
        letters_differ={count: _letters_differ(count) for count in range(1, CLOSE + 1)},
        kinds=[(kind, purpose_label(kind)) for kind in KINDS],
        # Text of ours: escaped, it would be no script any more.
        scripts=tuple(map(Markup, scripts)),
        hashes=tuple(map(source_hash, scripts)),
    )


def _letters_differ(count: int) -> str:
    return ngettext(
        "Only {count} letter differs: look at your letter again.",
        "Only {count} letters differ: look at your letter again.",
        count,
    )


def source_hash(script: str) -> str:
    """Return a script's hash as a content security policy names it (W3C, CSP Level 3, section 2.3.1)."""
    return f"sha256-{base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()}"
