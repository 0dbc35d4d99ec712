"""The room Plan: the questions as a form, and every key of a plan."""

import os
from collections.abc import Collection
from datetime import date, datetime
from typing import Any, Final

from flask import Blueprint, render_template, request, url_for

from salebook.base.words import _
from salebook.jobs.plan_form import (
    SURE,
    Form,
    LocaleDefaults,
    keep_answers,
    kept_form,
    locale_defaults_of,
    understood,
    write_form,
)
from salebook.jobs.plan_keys import PlanKeys, changed_keys, plan_keys
from salebook.jobs.start_from import write_as_proposed
from salebook.page.done import show_done
from salebook.page.fields import is_ticked, new_file_in, text_in
from salebook.page.folder import the_folder

PLANS: Final = ".toml"
USUAL: Final = "plan.toml"

plan = Blueprint("plan", __name__, url_prefix="/plan")


@plan.get("/")
def room() -> str:
    """Show the plans, and the way to a new one."""
    return render_template("plans.html", plans=the_folder().named(PLANS))


@plan.get("/questions")
def questions() -> str:
    """Show the questions, with the answers of the last time."""
    return _screen(kept_form(the_folder().path / USUAL, _defaults()))


@plan.post("/questions")
def answered() -> str:
    """Show what was understood; the answers are kept."""
    return _screen(_read())


@plan.get("/understood")
def said_back() -> dict[str, Any]:
    """Answer what a field asks while something is typed in it."""
    fields = understood(request.args, request.args.getlist("unknown"), _defaults()).fields
    return {
        field.key: {
            "asks": field.asks,
            "concerns": field.concerns,
            "says": field.says.strip(),
            "trouble": field.trouble.strip(),
        }
        for field in fields
    }


@plan.post("/write")
def write() -> str | tuple[str, int]:
    """Write the plan that the answers make."""
    form = _read()
    if not form.is_understood:
        return _screen(form, is_refused=True), 422
    name = _new_plan()
    file, kept = the_folder().path / name, the_folder().path / USUAL
    copy = write_form(file, form, kept=kept, force=is_ticked("force"), today=date.today())
    said = [_("Made {file}").format(file=file)]
    if copy:
        said.append(_("The plan that stood there before is now {copy}.").format(copy=copy))
    return show_done(_("The plan is written"), said, files=[file], onward=url_for("price.plan", name=name))


@plan.get("/keys/<path:name>")
def keys(name: str) -> str:
    """Show every key of a plan."""
    return _keys_screen(name, plan_keys(the_folder().file(name)))


@plan.post("/keys/<path:name>")
def keep(name: str) -> str | tuple[str, int]:
    """Keep a changed plan; where it has faults, show them at their fields and keep nothing."""
    file = the_folder().file(name)
    faulty = changed_keys(file, request.form, today=date.today())
    if faulty:
        return _keys_screen(name, faulty), 422
    says = [_("Made {file}").format(file=file)]
    return show_done(_("The plan is written"), says, files=[file], onward=url_for("price.plan", name=name))


@plan.post("/next")
def next_sale() -> str:
    """Write the plan of the next sale, as a filled-in workbook proposes it."""
    folder, name = the_folder(), _new_plan()
    said: list[str] = []
    asks = write_as_proposed(
        folder.file(text_in("book")),
        folder.path / name,
        today=None,
        clock=datetime.now(),
        say=said.append,
        names_commands=False,
    )
    onward = url_for("plan.keys", name=name)
    files = [folder.path / name]
    return show_done(_("The plan of the next sale"), said, asks=asks, files=files, onward=onward)


def _new_plan() -> str:
    return new_file_in("file", PLANS, _("{value} is no name for a plan: let it end in .toml"))


def _keys_screen(name: str, shown: PlanKeys) -> str:
    return render_template("plan-keys.html", name=name, plan=shown, ticked=request.form)


def _read() -> Form:
    pressed = text_in("press")
    typed = {**request.form.to_dict(), pressed: ""}
    return keep_answers(the_folder().path / USUAL, typed, _unknown(pressed), _defaults())


def _unknown(pressed: str) -> Collection[str]:
    return {*request.form.getlist("unknown"), pressed}


def _screen(form: Form, *, is_refused: bool = False) -> str:
    name = text_in("file") or USUAL
    return render_template("questions.html", form=form, sure=SURE, name=name, is_refused=is_refused)


def _defaults() -> LocaleDefaults:
    return locale_defaults_of(os.environ, today=date.today())
