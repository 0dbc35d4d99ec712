"""The studio wall: if there is time, what to weigh out, how many to make, how large, and the clay to buy."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from babel.numbers import format_decimal

from salebook.base.rounding import ceil
from salebook.base.words import _
from salebook.making.clay import ClayNeed, Sizes
from salebook.making.days import Days
from salebook.making.losses import Run
from salebook.plan.model import Sale
from salebook.plan.money import rounded
from salebook.plan.paper import usual_page
from salebook.prints.page import page_html
from salebook.prints.paper import PAPERS
from salebook.prints.studio.measuring_sticks import sticks_of
from salebook.prints.wording import fired_size, made_size
from salebook.reckoning import Reckoning
from salebook.say.cautions import DEFERS, cautions_on
from salebook.say.time import format_day, task_label, time_sentences


@dataclass(frozen=True, kw_only=True)
class MakingLine:
    """What the wall says about one ware."""

    code: str
    name: str
    clay: str
    ball: str
    ball_in_pounds: str
    to_make: str
    why: str
    batches: int
    made: str
    fired: str


@dataclass(frozen=True, kw_only=True)
class ClayLine:
    """What to buy of one clay."""

    name: str
    mass: str
    bags: str


@dataclass(frozen=True, kw_only=True)
class TaskLine:
    """One line of the dated plan."""

    what: str
    latest: str
    soonest: str
    """Empty where no day of today is known."""


def making_html(reckoning: Reckoning, *, templates: Path | None = None) -> str:
    """Return the making print: dated plan, list, a row to keep count of each ware, measuring sticks.

    Raises TemplateFaultError for a faulty template, FileError for a folder of templates that is not there.
    """
    plan, studio, sale = reckoning.plan, reckoning.studio, reckoning.plan.sale
    paper = PAPERS[usual_page(plan)]
    return page_html(
        "making.html",
        plan,
        templates=templates,
        time=time_sentences(plan, reckoning.days),
        too_late=reckoning.days.is_too_late,
        tasks=_task_lines(reckoning.days, sale),
        lines=tuple(_line(run, sizes, sale) for run, sizes in zip(studio.runs, studio.sizes, strict=True)),
        clays=tuple(_clay_line(need, sale) for need in studio.clays),
        batch=plan.making.batch,
        sticks=tuple(stick for sizes in studio.sizes for stick in sticks_of(sizes, sale, paper)),
        stages=(_("thrown"), _("dry"), _("biscuit"), _("good"), _("seconds"), _("broken")),
        cautions=cautions_on("making"),
        defers=DEFERS,
    )


def _task_lines(days: Days, sale: Sale) -> tuple[TaskLine, ...]:
    soonest = days.earliest or (None,) * len(days.latest)
    return tuple(
        TaskLine(
            what=task_label(late),
            latest=_from_to(late.first, late.last, sale),
            soonest=_from_to(soon.first, soon.last, sale) if soon else "",
        )
        for late, soon in zip(days.latest, soonest, strict=True)
    )


def _from_to(first: date, last: date, sale: Sale) -> str:
    begin, end = (format_day(day, sale.locale) for day in (first, last))
    return begin if first == last else _("{first} to {last}").format(first=begin, last=end)


def _line(run: Run, sizes: Sizes, sale: Sale) -> MakingLine:
    grams, _bracket, pounds = run.ware.ball.to_text_in_both_units().rstrip(")").partition(" (")
    return MakingLine(
        code=run.ware.code,
        name=run.ware.name,
        clay=run.ware.clay,
        ball=grams,
        ball_in_pounds=pounds,
        to_make=format_decimal(run.started, locale=sale.locale),
        why=_("{wanted} good and {more} that may not come through").format(
            wanted=run.ware.wanted, more=run.started - run.ware.wanted
        ),
        batches=run.batches,
        made=made_size(sizes, sale),
        fired=fired_size(sizes, sale),
    )


def _clay_line(need: ClayNeed, sale: Sale) -> ClayLine:
    kilograms = format_decimal(rounded(need.kg, 1), locale=sale.locale)
    pack = need.clay.pack.to_text()
    bags = ceil(need.kg / need.clay.pack.kg)
    return ClayLine(
        name=need.clay.name,
        mass=_("{kilograms} kg").format(kilograms=kilograms),
        bags=_("{bags} of {pack}").format(bags=bags, pack=pack),
    )
