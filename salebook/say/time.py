"""Whether there is time, said in sentences: too late first, with what would fit instead."""

from collections.abc import Iterator
from datetime import date

from babel.dates import format_skeleton
from babel.lists import format_list

from salebook.base.words import _, ngettext
from salebook.making.days import Days, Instead, Task
from salebook.plan.model import Plan


def time_sentences(plan: Plan, days: Days) -> tuple[str, ...]:
    """Say if there is time to make everything, and the last days to throw and fire; nothing without wares."""
    if days.begin_by is None:
        return ()
    return (*_verdict(plan, days, days.begin_by), *_last_days(plan, days))


def format_day(day: date, locale: str) -> str:
    """Say a day with its weekday, as a locale writes it, such as "Sat, 12 Jun 2027"."""
    return format_skeleton("yMMMEd", day, locale=locale)


def format_day_short(day: date, locale: str) -> str:
    """Say a day with its weekday and without its year, such as "Sat 12 Jun"."""
    return format_skeleton("MMMEd", day, locale=locale)


def task_label(task: Task) -> str:
    """Say a task of the dated plan, such as "biscuit: fire, kiln loads: 3"."""
    texts = {
        "throw": _("throw"),
        "dry": _("dry, bats included"),
        "glaze": _("put on glaze"),
        "fire": _("fire"),
        "finish": _("finish and wrap"),
    }
    said = f"{task.firing}: {texts[task.kind]}" if task.firing else texts[task.kind]
    if not task.lit:
        return said
    return _("{task}, kiln loads: {loads}").format(task=said, loads=len(task.lit))


def _verdict(plan: Plan, days: Days, begin_by: date) -> Iterator[str]:
    locale = plan.sale.locale
    by = format_day(begin_by, locale)
    if days.days_in_hand is None:
        yield _("Begin to throw by {by}.").format(by=by)
    elif days.instead:
        says = ngettext(
            "TOO LATE by a day if nothing is thrown yet: throwing had to begin by {by}.",
            "TOO LATE by {count} days if nothing is thrown yet: throwing had to begin by {by}.",
            -days.days_in_hand,
        )
        yield says.format(count=-days.days_in_hand, by=by)
        yield _("With all pieces the sale could be held from {day}.").format(
            day=format_day(days.instead.sale_from, locale)
        )
        yield _what_fits(plan, days.instead)
    elif days.days_in_hand == 0:
        yield _("There is just time: begin to throw today.")
    else:
        in_time = _("There is time: begin to throw by {by}; days in hand: {count}.")
        yield in_time.format(by=by, count=days.days_in_hand)


def _what_fits(plan: Plan, instead: Instead) -> str:
    if not instead.wanted:
        return _("By the day of the sale nothing that is thrown from today on would be ready.")
    fewer = [
        _("{count} {name}").format(count=instead.wanted[ware.code], name=ware.name)
        for ware in plan.wares
        if ware.code in instead.wanted
    ]
    return _("By the day of the sale there could be: {fewer}.").format(
        fewer=format_list(fewer, locale=plan.sale.locale)
    )


def _last_days(plan: Plan, days: Days) -> Iterator[str]:
    said = {
        _("Last day to throw: {day}."): days.last_day_to_throw,
        _("First firing by {day}."): days.first_firing,
        _("Last firing by {day}."): days.last_firing,
    }
    known = [text.format(day=format_day(day, plan.sale.locale)) for text, day in said.items() if day]
    yield " ".join(known)
