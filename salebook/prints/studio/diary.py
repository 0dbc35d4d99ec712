"""The diary: the days of the studio and of the sale, for the calendar of a telephone."""

from collections.abc import Iterable, Iterator
from datetime import date, datetime, time, timedelta

from salebook.base.words import _, ngettext
from salebook.making.days import LATEST, Task
from salebook.making.firing import FiringNeed
from salebook.making.loading import Loading
from salebook.plan.model import Plan, Sale
from salebook.prints.studio.calendar_file import Entry, calendar_text
from salebook.prints.studio.firing_card import is_by_night, start_hour
from salebook.prints.wording import hours_said, lasting, number, whole_minutes
from salebook.reckoning import Reckoning
from salebook.say.cautions import caution_about
from salebook.say.kiln import load_sentence
from salebook.say.throwing import throw_sentences, throw_title

EVENING = time(18)
"""When an alarm rings on the eve of a firing."""

COUNTING = timedelta(minutes=30)
"""How long the cash box is counted in the evening (common practice, no source)."""


def diary_text(reckoning: Reckoning, *, sale_id: str, stamp: datetime) -> str:
    """Return the diary as a calendar file, each day the last that will do; `stamp` says when it was made."""
    entries = sorted(_entries(reckoning), key=lambda entry: entry.starts.isoformat())
    return calendar_text(entries, calendar_id=sale_id, stamp=stamp)


def _entries(reckoning: Reckoning) -> Iterator[Entry]:
    for task in reckoning.days.latest:
        if task.kind == "throw":
            yield from _throwing(task, reckoning.plan)
        elif task.kind == "fire":
            yield from _firing(task, reckoning)
        elif task.kind == "glaze":
            yield _glazing(task, reckoning)
        elif task.kind == "finish":
            yield _finishing(task)
    for index, day in enumerate(reckoning.plan.sale.days, 1):
        yield from _sale_day(index, min(day, LATEST), reckoning.plan.sale)


def _throwing(task: Task, plan: Plan) -> Iterator[Entry]:
    for index, throw in enumerate(task.throws, 1):
        title = _("Throw {pieces}").format(pieces=throw_title(throw, plan))
        text = _text(throw_sentences(throw, plan), "Clay and glaze dust")
        yield _on_days(throw.day, throw.day, key=f"throw {index}", title=title, text=text)


def _firing(task: Task, reckoning: Reckoning) -> Iterator[Entry]:
    need = next(need for need in reckoning.studio.firings if need.firing.name == task.firing)
    loading = next(each for each in reckoning.studio.loadings if each.stage == need.firing.stage)
    for index, day in enumerate(task.lit, 1):
        starts = datetime.combine(day, need.firing.start)
        says = _("Light the kiln: {firing}, load {number} of {loads}")
        yield Entry(
            key=f"fire {need.firing.name} {index}",
            title=says.format(firing=need.firing.name, number=index, loads=len(task.lit)),
            text=_text(_of_load(need, loading, index, reckoning.plan), *_firing_cautions(need)),
            starts=starts,
            ends=starts + max(timedelta(minutes=1), timedelta(minutes=whole_minutes(need.hours))),
            rings_before=starts - datetime.combine(day - timedelta(days=1), EVENING),
        )


def _of_load(need: FiringNeed, loading: Loading, index: int, plan: Plan) -> Iterator[str]:
    if index <= len(loading.loads):
        yield _("Shelves, the lowest first: {shelves}.").format(
            shelves=load_sentence(loading.loads[index - 1])
        )
    kwh = number(need.kwh, 1, locale=plan.sale.locale)
    yield _("It lasts {lasting} and takes about {kwh} kWh.").format(lasting=lasting(need.hours), kwh=kwh)


def _firing_cautions(need: FiringNeed) -> Iterator[str]:
    if is_by_night(start_hour(need), need.hours):
        yield "Firing at night"
    yield "Hot kiln, hot ware"


def _glazing(task: Task, reckoning: Reckoning) -> Entry:
    pieces = sum(run.to_glaze for run in reckoning.studio.runs)
    says = ngettext("About {count} piece to glaze.", "About {count} pieces to glaze.", pieces)
    title = _("Put on glaze: {firing}").format(firing=task.firing)
    text = _text([says.format(count=pieces)], "Glaze materials")
    return _on_days(task.first, task.last, key=f"glaze {task.firing}", title=title, text=text)


def _finishing(task: Task) -> Entry:
    says = _("Polish the feet, look each piece over, put its label on and wrap it.")
    text = _text([says], "Clay and glaze dust")
    return _on_days(task.first, task.last, key="finish", title=_("Finish and wrap"), text=text)


def _sale_day(index: int, day: date, sale: Sale) -> Iterator[Entry]:
    says = _("Count the cash box with somebody else, and write it on the sheet Cash-up.")
    text = _text(filter(None, [hours_said(sale)]), "Table and room")
    at_the_table = {"key": f"sale {index}", "title": sale.title, "text": text, "place": sale.venue}
    count = {"key": f"count {index}", "title": _("Count the cash box"), "text": _text([says], "Cash")}
    if sale.open is None:
        yield from (_on_days(day, day, **at_the_table), _on_days(day, day, **count))
        return
    opens, closes = (
        datetime.combine(day, time()) + timedelta(minutes=at) for at in (sale.open.opens, sale.open.closes)
    )
    yield Entry(starts=opens, ends=closes, rings_before=None, **at_the_table)
    yield Entry(starts=closes, ends=closes + COUNTING, rings_before=None, **count)


def _on_days(first: date, last: date, **said: str) -> Entry:
    return Entry(starts=first, ends=last + timedelta(days=1), rings_before=None, **said)


def _text(sentences: Iterable[str], *cautions: str) -> str:
    """Return what to do and the cautions that belong to it, by their English headings."""
    said = (
        _("{about}. {text}").format(about=_(caution.about), text=_(caution.text))
        for caution in map(caution_about, cautions)
    )
    return "\n".join((*sentences, *said))
