"""The studio wall: if there is time, what to weigh out and make on each day, and how large."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from salebook.base.words import _
from salebook.prints.render import Printer
from salebook.prints.studio.measuring_sticks import sticks_of
from salebook.prints.studio.steps import steps_of
from salebook.reckoning import Reckoning
from salebook.say.cautions import DEFERS, cautions_on
from salebook.say.starting import starting_sentences
from salebook.say.throwing import throw_sentences, throw_title, ware_of
from salebook.say.time import time_sentences

MOST_STICKS_BESIDE = 2
"""So many sticks leave room for the cautions beside them."""


@dataclass(frozen=True, kw_only=True)
class StudioDay:
    """A day of throwing: what is thrown, what to get ready for it, the steps to tick off."""

    day: date
    title: str
    sentences: tuple[str, ...]
    steps: tuple[str, ...]


def making_html(printer: Printer, reckoning: Reckoning) -> str:
    """Return the making print: the list, each day with its steps, a row to keep count, measuring sticks."""
    plan, studio, days = reckoning.plan, reckoning.studio, reckoning.days
    locale = plan.sale.locale
    sticks = [stick for sizes in studio.sizes for stick in sticks_of(sizes, locale, printer.paper)]
    return printer.fill(
        "making.html",
        time=time_sentences(plan, days),
        too_late=days.is_too_late,
        studio_days=tuple(_studio_days(reckoning)),
        tasks=tuple(zip(days.latest, days.earliest or days.latest, strict=True)),
        has_soonest=bool(days.earliest),
        wares=tuple(zip(studio.runs, studio.sizes, strict=True)),
        counted=tuple(starting_sentences(studio.runs)),
        batch=plan.making.batch,
        sticks=sticks,
        care_beside=0 < len(sticks) <= MOST_STICKS_BESIDE,
        stages=(_("thrown"), _("dry"), _("biscuit"), _("good"), _("seconds"), _("broken")),
        cautions=cautions_on("making"),
        defers=DEFERS,
    )


def _studio_days(reckoning: Reckoning) -> Iterator[StudioDay]:
    plan = reckoning.plan
    for throw in (each for task in reckoning.days.latest for each in task.throws):
        yield StudioDay(
            day=throw.day,
            title=throw_title(throw, plan),
            sentences=tuple(throw_sentences(throw, plan)),
            steps=steps_of(ware_of(throw, plan), plan),
        )
