"""The part of the sheet Making that says if there is time, and the dated plan."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from salebook.base.words import N_, _
from salebook.book.figure import Figure, serial
from salebook.book.formulas import quoted
from salebook.book.page import Page
from salebook.book.sheets.staleness_check import Input, put_staleness_check
from salebook.book.sheets.sums_in_words import Part, live_sentence, put_parts
from salebook.book.table import FIRST_COLUMN, Table, put_line
from salebook.event.entries import Entries
from salebook.making.days import Days, Task
from salebook.making.studio_tally import StudioState
from salebook.reckoning import Reckoning
from salebook.say.time import task_label, time_sentences


def put_days(page: Page, reckoning: Reckoning, entries: Entries, stand: Sequence[StudioState]) -> None:
    """Write whether there is time, first, then the dated plan and the day from which to reckon."""
    days = reckoning.days
    if days.begin_by is None:
        return
    page.band(_("Is there time?"))
    now = replace(days, today=entries.studio_day or days.today)
    row = page.paragraph(_state(page, now, stand), "bigger")
    page.sheet.row_dimensions[row].height = 24
    said = page.address(row, FIRST_COLUMN).rpartition("!")[2]
    page.highlight(said, f"ISNUMBER(FIND({quoted(_too_late())},{said}))", fill=None)
    if days.instead is not None:
        for sentence in time_sentences(reckoning.plan, days)[1:3]:
            page.paragraph(sentence, "warn")
    _tasks(page, days)
    _today(page, days, now, entries)


def _too_late() -> str:
    return _("TOO LATE")


def _state(page: Page, days: Days, stand: Sequence[StudioState]) -> Figure:
    """Say in one line, live, how things stand: too late, what is left to throw and how many days for it."""
    more, hand, left = sum(outcome.to_throw for outcome in stand), days.days_in_hand, _days_left(days)
    begun = any(outcome.count.thrown_so_far for outcome in stand)
    enough, unknown = _("Enough is thrown."), _("Type today's date below.")
    today = _("There is just time: begin to throw today.")
    too_late = quoted(_too_late()), _too_late()
    to_throw = "SUM(studio_to_throw)"
    wanting = (to_throw, str(more))
    late_for_more = live_sentence(
        _("{too_late} to throw more; still wanting: {count}"), too_late=too_late, count=wanting
    )
    over = live_sentence(
        _("To throw: {count}; days left for it: {days}"),
        count=wanting,
        days=("(days_left+1)", str((left or 0) + 1)),
    )
    late = live_sentence(
        _("{too_late}: days over the last day to begin: {days}"),
        too_late=too_late,
        days=("(-days_in_hand)", str(-(hand or 0))),
    )
    in_time = live_sentence(_("There is time. Days in hand: {days}"), days=("days_in_hand", str(hand)))
    when_begun = f"IF(days_left<0,{late_for_more[0]},{over[0]})"
    before = f"IF(days_in_hand<0,{late[0]},IF(days_in_hand=0,{quoted(today)},{in_time[0]}))"
    parts = put_parts(
        page,
        when_begun=_if_known(when_begun, left, late_for_more[1] if (left or 0) < 0 else over[1]),
        before=_if_known(before, hand, (late, (today, today), in_time)[1 + _sign(hand or 0)][1]),
    )
    then = "when_begun" if begun else "before"
    said = parts[then][1] or unknown if more else enough
    is_begun = f"IF(SUM(studio_thrown)>0,{parts['when_begun'][0]},{parts['before'][0]})"
    is_known = f'IF(reckoned_from="",{quoted(unknown)},{is_begun})'
    return Figure(f"=IF({to_throw}=0,{quoted(enough)},{is_known})", said)


def _if_known(formula: str, days: int | None, said: str) -> Part:
    """Return what is said where the day is known from which to reckon."""
    return f'IF(reckoned_from="","",{formula})', "" if days is None else said


def _sign(number: int) -> int:
    return (number > 0) - (number < 0)


def _days_left(days: Days) -> int | None:
    if days.last_day_to_throw is None or days.today is None:
        return None
    return (days.last_day_to_throw - days.today).days


def days_table(*, is_begun_at_once: bool = False) -> Table[tuple[Task, Task | None]]:
    """Declare the dated plan: each task as late as it may be and, begun today, as soon as it can be.

    Today's date is typed below it.
    """
    table: Table[tuple[Task, Task | None]] = Table("days", N_("Making"), fitted=True)

    def day(key: str, heading: str, value: Callable[[tuple[Task, Any]], date]) -> None:
        table.fixed(key, heading, "worked date", value)

    table.fixed("what", _("What"), "label wrapped", lambda row: task_label(row[0]))
    day("latest_from", _("At the latest from"), lambda row: row[0].first)
    day("latest_until", _("At the latest until"), lambda row: row[0].last)
    if is_begun_at_once:
        day("soonest_from", _("If begun at once from"), lambda row: row[1].first)
        day("soonest_until", _("If begun at once until"), lambda row: row[1].last)
    return table


def _tasks(page: Page, days: Days) -> None:
    table = days_table(is_begun_at_once=bool(days.earliest))
    soonest = days.earliest or (None,) * len(days.latest)
    placed = table.write(page, list(zip(days.latest, soonest, strict=True)))
    page.name("days_begin_by", placed.first, placed.column("latest_from"))
    page.name("last_day_to_throw", placed.first, placed.column("latest_until"))
    page.paragraph(
        _(
            "One batch of one ware is thrown on a working day, as far as bats are free; each task waits "
            "until the one before is done for all; a day for glazing, a day to finish and wrap. "
            "Fire sooner what is dry sooner."
        ),
        "note",
    )
    page.row += 1


def _today(page: Page, days: Days, now: Days, entries: Entries) -> None:
    page.put(page.row, 1, "days.today", "key")
    typed = put_line(page, _("Today (type the date)"), entries.studio_day, "input date")
    worked = put_line(page, _("Worked out on"), days.today or "", "worked date")
    from_ = f'=IF(ISNUMBER({typed}),{typed},IF(ISNUMBER({worked}),{worked},""))'
    begin, last = _days_to("days_begin_by", now.days_in_hand), _days_to("last_day_to_throw", _days_left(now))
    for name, label, figure, style in (
        ("reckoned_from", _("Reckoned from"), Figure(from_, serial(now.today)), "result date"),
        ("days_in_hand", _("Days in hand"), begin, "strong whole"),
        ("days_left", _("Days left to throw"), last, "result whole"),
    ):
        put_line(page, label, figure, style, name=name)
    page.row += 1


def _days_to(name: str, value: int | None) -> Figure:
    return Figure(f'=IF(reckoned_from="","",{name}-reckoned_from)', "" if value is None else value)


def put_staleness_check_of_days(page: Page, reckoning: Reckoning) -> None:
    """Write the stamp of the dated plan."""
    put_staleness_check(page, "stale_days", _("What the days were worked out from"), _inputs(reckoning))


def _inputs(reckoning: Reckoning) -> list[Input]:
    plan = reckoning.plan
    if reckoning.days.begin_by is None:
        return []
    making = plan.making
    found: list[Input] = [
        (_("First day of the sale"), "first_day", reckoning.days.sale_day or ""),
        (_("Thrown in one go"), "batch_size", making.batch),
        (_("Bats"), "SUM([making.bats])", making.bats or 0),
        (_("On the bat"), "SUM([making.days_on_bat])", making.days_on_bat),
        (_("Leather hard to bone dry"), "SUM([making.drying_days])", making.drying_days),
    ]
    found += [(_("Day off"), f"[days_off@{n}]", day) for n, day in enumerate(making.free_days, start=1)]
    found += [
        (_("{code} to start").format(code=run.ware.code), f"[starts.started@{run.ware.code}]", run.started)
        for run in reckoning.studio.runs
    ]
    if plan.kiln is not None and plan.firings:
        found.append((_("Days for a load"), "SUM([kiln.days_per_load])", plan.kiln.days_per_load))
        words = {"biscuit": _("Kiln loads, biscuit"), "glaze": _("Kiln loads, glaze")}
        found += [
            (words[loading.stage], f"loads_{loading.stage}", loading.to_fire)
            for loading in reckoning.studio.loadings
        ]
    return found
