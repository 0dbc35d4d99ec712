"""The part of the sheet Making that says if there is time, and the dated plan."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from salebook.base.words import _
from salebook.book.figure import Figure, Value, serial
from salebook.book.formulas import quoted
from salebook.book.page import Content, Page
from salebook.book.sheets.row_height import fitted_row
from salebook.book.sheets.staleness_check import put_staleness_check
from salebook.event.entries import Entries
from salebook.making.days import Days
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
    row = page.paragraph(_state(now, stand), "bigger")
    page.sheet.row_dimensions[row].height = 24
    page.highlight(f"B{row}", f"LEFT(B{row},{len(_too_late())})={quoted(_too_late())}", fill=None)
    if days.instead is not None:
        for sentence in time_sentences(reckoning.plan, days)[1:3]:
            page.paragraph(sentence, "warn")
    _tasks(page, days)
    _today(page, days, now, entries)


def _too_late() -> str:
    return _("TOO LATE")


def _state(days: Days, stand: Sequence[StudioState]) -> Figure:
    """Say in one line, live, how things stand: too late, what is left to throw and how many days for it."""
    more, hand, left = sum(outcome.to_throw for outcome in stand), days.days_in_hand, _days_left(days)
    begun = any(outcome.count.thrown_so_far for outcome in stand)
    enough, unknown = _("Enough is thrown."), _("Type today's date below.")
    late, by = _too_late(), _(": days over the last day to begin: ")
    late_for_more, over = _(" to throw more; still wanting: "), _("To throw: ")
    today, in_time = _("There is just time: begin to throw today."), _("There is time. Days in hand: ")
    days_left = _("; days left for it: ")
    if not more:
        said = enough
    elif hand is None or left is None:
        said = unknown
    elif begun:
        said = f"{late}{late_for_more}{more}" if left < 0 else f"{over}{more}{days_left}{left + 1}"
    elif hand < 0:
        said = f"{late}{by}{-hand}"
    else:
        said = today if hand == 0 else f"{in_time}{hand}"
    to_throw = "SUM(studio_to_throw)"
    when_begun = (
        f"IF(days_left<0,{quoted(late + late_for_more)}&{to_throw},"
        f"{quoted(over)}&{to_throw}&{quoted(days_left)}&(days_left+1))"
    )
    before = (
        f"IF(days_in_hand<0,{quoted(late + by)}&(-days_in_hand),"
        f"IF(days_in_hand=0,{quoted(today)},{quoted(in_time)}&days_in_hand))"
    )
    formula = (
        f'=IF({to_throw}=0,{quoted(enough)},IF(reckoned_from="",{quoted(unknown)},'
        f"IF(SUM(studio_thrown)>0,{when_begun},{before})))"
    )
    return Figure(formula, said)


def _days_left(days: Days) -> int | None:
    if days.last_day_to_throw is None or days.today is None:
        return None
    return (days.last_day_to_throw - days.today).days


def _tasks(page: Page, days: Days) -> None:
    keys = ["what", "latest_from", "latest_until"]
    texts = [_("What"), _("At the latest from"), _("At the latest until")]
    if days.earliest:
        keys += ["soonest_from", "soonest_until"]
        texts += [_("If begun at once from"), _("If begun at once until")]
    page.headings(keys, texts, section="days")
    soonest = days.earliest or (None,) * len(days.latest)
    for number, (latest, earliest) in enumerate(zip(days.latest, soonest, strict=True)):
        both = (latest, earliest) if earliest else (latest,)
        cells: list[tuple[Content, str]] = [(task_label(latest), "label wrapped")]
        cells += [(day, "worked date") for task in both for day in (task.first, task.last)]
        row = fitted_row(page, cells)
        if number == 0:
            page.name("days_begin_by", row, 3)
            page.name("last_day_to_throw", row, 4)
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
    typed = page.put_row(
        (
            ("days.today", "key"),
            (_("Today (type the date)"), "label"),
            (entries.studio_day, "input date"),
        )
    )
    worked = page.put_row(
        ((None, ""), (_("Worked out on"), "label"), (days.today or "", "worked date")),
    )
    begin, last = "days_begin_by", "last_day_to_throw"
    from_ = f'=IF(ISNUMBER(C{typed}),C{typed},IF(ISNUMBER(C{worked}),C{worked},""))'
    hand, left = now.days_in_hand, _days_left(now)
    results: tuple[tuple[str, str, Figure, str], ...] = (
        ("reckoned_from", _("Reckoned from"), Figure(from_, serial(now.today)), "result date"),
        ("days_in_hand", _("Days in hand"), _days_to(begin, hand), "strong whole"),
        ("days_left", _("Days left to throw"), _days_to(last, left), "result whole"),
    )
    for name, label, figure, style in results:
        row = page.put_row(((None, ""), (label, "label"), (figure, style)))
        page.name(name, row, 3)
    page.row += 1


def _days_to(name: str, value: int | None) -> Figure:
    return Figure(f'=IF(reckoned_from="","",{name}-reckoned_from)', "" if value is None else value)


def put_staleness_check_of_days(page: Page, reckoning: Reckoning) -> None:
    """Write the stamp of the dated plan."""
    put_staleness_check(page, "stale_days", _("What the days were worked out from"), _inputs(page, reckoning))


def _inputs(page: Page, reckoning: Reckoning) -> list[tuple[str, str, Value | date]]:
    plan, places = reckoning.plan, page.book.addresses
    if reckoning.days.begin_by is None:
        return []
    making = plan.making
    found: list[tuple[str, str, Value | date]] = [
        (_("First day of the sale"), "first_day", reckoning.days.sale_day or ""),
        (_("Thrown in one go"), "batch_size", making.batch),
        (_("Bats"), f"N({places['making', '', 'bats']})", making.bats or 0),
        (_("On the bat"), f"N({places['making', '', 'days_on_bat']})", making.days_on_bat),
        (_("Leather hard to bone dry"), f"N({places['making', '', 'drying_days']})", making.drying_days),
    ]
    found += [(_("Day off"), f"INDEX(days_off,{n})", day) for n, day in enumerate(making.free_days, start=1)]
    found += [
        (_("{code} to start").format(code=run.ware.code), f"INDEX(ware_started,{n})", run.started)
        for n, run in enumerate(reckoning.studio.runs, start=1)
    ]
    if plan.kiln is not None and plan.firings:
        place = places["kiln", "", "days_per_load"]
        found.append((_("Days for a load"), f"N({place})", plan.kiln.days_per_load))
        words = {"biscuit": _("Kiln loads, biscuit"), "glaze": _("Kiln loads, glaze")}
        found += [
            (words[loading.stage], f"loads_{loading.stage}", loading.to_fire)
            for loading in reckoning.studio.loadings
        ]
    return found
