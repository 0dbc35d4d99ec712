"""From a template and its values to a print: Jinja2, with a person's own templates first."""

import traceback
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from babel.numbers import get_currency_symbol
from jinja2 import (
    ChoiceLoader,
    Environment,
    FileSystemLoader,
    StrictUndefined,
    TemplateError,
    TemplateSyntaxError,
)
from jinja2.sandbox import SandboxedEnvironment

from salebook.base.errors import FileError, SalebookError
from salebook.base.package_data import package_data
from salebook.base.words import _, ngettext
from salebook.plan.model import Plan, Sale
from salebook.plan.paper import usual_page
from salebook.prints.paper import PAPERS, Paper
from salebook.prints.wording import filters_of, format_days, hours_said

TEMPLATE_SUFFIXES = (".html", ".css")

_TEMPLATE_TROUBLES = (
    TemplateError,
    ArithmeticError,
    AttributeError,
    LookupError,
    RecursionError,
    TypeError,
    ValueError,
)
"""What a fault in a template may raise while it is filled in."""


class TemplateFaultError(SalebookError):
    """A template cannot be filled in; says in which file and on which line."""

    exit_code = 2


class _Folder(FileSystemLoader):
    """A folder of templates, which says of a file that is no text which one it is, and on what line."""

    def get_source(self, environment: Environment, template: str) -> tuple[str, str, Callable[[], bool]]:
        """Return a template's text; raises TemplateSyntaxError too where it is no UTF-8."""
        try:
            return super().get_source(environment, template)
        except UnicodeDecodeError as fault:
            line = fault.object.count(b"\n", 0, fault.start) + 1
            file = str(Path(self.searchpath[0]) / template)
            raise TemplateSyntaxError(_("this is no UTF-8 text"), line, template, file) from fault


@dataclass(frozen=True, kw_only=True)
class Printer:
    """Fills in templates for one sale: with its head, on its paper, in its currency and locale."""

    sale: Sale
    paper: Paper
    templates: Environment

    def fill(self, template: str, **values: object) -> str:
        """Return the print that a template makes of the sale's head and further values.

        Raises TemplateFaultError where one is faulty.
        """
        try:
            return self.templates.get_template(template).render(self._head() | values)
        except TemplateSyntaxError as fault:
            place = f"{fault.filename or fault.name or template}:{fault.lineno}"
            raise TemplateFaultError(_fault_text(place, fault.message or "")) from fault
        except _TEMPLATE_TROUBLES as fault:
            raise TemplateFaultError(_fault_text(_place(fault, template), str(fault))) from fault

    def _head(self) -> dict[str, object]:
        return {
            "sale": self.sale,
            "days": format_days(self.sale),
            "hours": hours_said(self.sale),
            "paper": self.paper,
            "unit": get_currency_symbol(self.sale.currency, locale=self.sale.locale),
            "words_lang": _("en"),  # a translation says its own
            "plan_lang": self.sale.locale.replace("_", "-"),
        }


def printer_for(plan: Plan, templates: Path | None = None) -> Printer:
    """Return the printer for a plan; `templates` is a person's own folder of them, which comes first.

    Raises FileError where that folder is not there or holds no template.
    """
    sale = plan.sale
    return Printer(
        sale=sale,
        paper=PAPERS[usual_page(plan)],
        templates=_environment(templates, sale.currency, sale.locale),
    )


@lru_cache(maxsize=8)
def _environment(templates: Path | None, currency: str, locale: str) -> Environment:
    """Return the surroundings of the prints: everything escaped, every missing value an error."""
    folders = [packaged_templates()]
    if templates is not None:
        folders.insert(0, _checked(templates))
    made = SandboxedEnvironment(
        loader=ChoiceLoader([_Folder(folder) for folder in folders]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals |= {"_": _, "ngettext": ngettext}
    made.filters |= filters_of(currency, locale)
    return made


def packaged_templates() -> Path:
    """Return the folder of the templates that come with salebook, installed or in a checkout."""
    return package_data("salebook_templates", "templates")


def _checked(folder: Path) -> Path:
    """Refuse a folder that would change nothing, as a slip in its name would."""
    if not folder.is_dir():
        raise FileError(_("{folder}: there is no such folder of templates").format(folder=folder))
    names = {path.name for path in packaged_templates().iterdir() if path.suffix in TEMPLATE_SUFFIXES}
    if not any((folder / name).is_file() for name in names):
        says = _("{folder}: none of the templates is here: expected some of {names}")
        raise FileError(says.format(folder=folder, names=", ".join(sorted(names))))
    return folder


def _place(fault: BaseException, template: str) -> str:
    frames = [
        frame
        for frame in traceback.extract_tb(fault.__traceback__)
        if frame.filename.endswith(TEMPLATE_SUFFIXES)
    ]
    return f"{frames[-1].filename}:{frames[-1].lineno}" if frames else template


def _fault_text(place: str, what: str) -> str:
    return _("{place}: fault in the template: {what}").format(place=place, what=what)
