"""The room Price: the advice in sentences, and what other prices and numbers would bring."""

from collections.abc import Mapping
from dataclasses import asdict
from datetime import date
from itertools import groupby
from typing import Any, Final

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from salebook.base.errors import SalebookError
from salebook.jobs.other_prices import brings, knobs_of, plan_tried, take_prices
from salebook.jobs.plan_keys import state_of
from salebook.jobs.price import price_answer
from salebook.jobs.source import plan_from, reckoning_of
from salebook.page.folder import the_folder
from salebook.page.shown import BAR
from salebook.plan.load import text_of

PLANS: Final = ".toml"

price = Blueprint("price", __name__, url_prefix="/price")


@price.get("/")
def room() -> str | Response:
    """Show the plans; where there is one only, its prices."""
    plans = the_folder().named(PLANS)
    if len(plans) == 1:
        return redirect(url_for("price.plan", name=plans[0]))
    return render_template("price.html", plans=plans)


@price.get("/plan/<path:name>")
def plan(name: str) -> str | tuple[str, int]:
    """Show what a plan's prices bring, or those that are tried out."""
    file, typed = the_folder().file(name), request.args
    knobs = knobs_of(plan_from(file))
    screen: dict[str, Any] = {
        "name": name,
        "pieces": [list(piece) for _at, piece in groupby(knobs, key=lambda knob: knob.piece)],
        "shown": {knob.field: typed.get(knob.field, f"{knob.value:f}") for knob in knobs},
        "taken": typed.get("taken"),
        "state": typed.get("state") or state_of(text_of(file)),
    }
    try:
        reckoning = reckoning_of(plan_tried(file, typed), file=file, today=date.today())
    except SalebookError as trouble:
        return _screen(screen, faults=str(trouble).splitlines()), 422
    return _screen(screen, answer=price_answer(reckoning, BAR), now=brings(reckoning.plan))


def _screen(screen: Mapping[str, Any], **more: Any) -> str:
    return render_template("prices.html", **{"faults": (), "answer": None, "now": None} | dict(screen) | more)


@price.get("/now/<path:name>")
def now(name: str) -> dict[str, Any] | tuple[dict[str, Any], int]:
    """Answer what a slider asks while it moves."""
    folder = the_folder()
    try:
        return asdict(brings(plan_tried(folder.file(name), request.args)))
    except SalebookError as trouble:
        return {"faults": [folder.within(line) for line in str(trouble).splitlines()]}, 422


@price.post("/take/<path:name>")
def take(name: str) -> Response:
    """Put the prices and numbers that were tried out into the plan."""
    count = take_prices(the_folder().file(name), request.form)
    return redirect(url_for("price.plan", name=name, taken=count), code=303)
