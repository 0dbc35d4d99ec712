"""The part of the sheet Firing that prices energy by the clock: what 1 kW costs from midnight on."""

from collections.abc import Sequence

from salebook.base.words import _
from salebook.book.figure import Figure
from salebook.book.page import DAY_MINUTES, Page
from salebook.making.firing import running_price as running_price_of_1_kw
from salebook.making.firing import windows_of
from salebook.plan.model import EnergyRate


def running_price(day_fraction: str) -> str:
    """Return a formula for what 1 kW costs from the first midnight to a time in days."""
    at = f"MATCH(MOD({day_fraction},1),window_from,1)"
    within = f"INDEX(window_ran,{at})+(MOD({day_fraction},1)-INDEX(window_from,{at}))*hours_in_day"
    return f"INT({day_fraction})*window_day+{within}*INDEX(window_price,{at})"


def put_running_price(page: Page, rates: Sequence[EnergyRate]) -> None:
    """Write the day's price windows in the order of the clock, and what 1 kW has cost when each begins."""
    page.band(_("Energy by the clock: what 1 kW drawn from midnight has cost"))
    page.headings(
        ("from", "price", "ran"),
        (_("From"), _("Price of 1 kWh"), _("1 kW so far")),
        section="windows",
    )
    first, last = page.row, page.row + len(rates)
    begins = [0, *sorted(rate.from_ for rate in rates)]
    for n, minute in enumerate(begins):
        _window(page, rates, n, minute, first)
    for column, name in ((2, "window_from"), (3, "window_price"), (4, "window_ran")):
        page.name(name, first, column, last_row=last)
    row = page.put_row(
        (
            (None, ""),
            (_("A whole day"), "label"),
            (None, "label"),
            (
                Figure(
                    f"=D{last}+(1-B{last})*hours_in_day*C{last}",
                    running_price_of_1_kw(24, rates),
                ),
                "result thousandths",
            ),
        )
    )
    page.name("window_day", row, 4)
    page.row += 1


def _window(page: Page, rates: Sequence[EnergyRate], n: int, minute: int, first: int) -> None:
    row = page.row
    begins = Figure("=0" if n == 0 else f"=SMALL(rate_from,{n})", minute / DAY_MINUTES)
    ran = "=0" if row == first else f"=D{row - 1}+(B{row}-B{row - 1})*hours_in_day*C{row - 1}"
    by_day = f"(rate_from<rate_to)*(rate_from<=B{row})*(B{row}<rate_to)"
    by_night = f"(rate_from>=rate_to)*(((rate_from<=B{row})+(B{row}<rate_to))>0)"
    page.put_row(
        (
            ("windows", "key"),
            (begins, "result clock"),
            (
                Figure(f"=SUMPRODUCT(({by_day}+{by_night})*rate_price)", _price_at(minute, rates)),
                "result rate",
            ),
            (Figure(ran, running_price_of_1_kw(minute / 60, rates)), "result thousandths"),
        )
    )


def _price_at(minute: int, rates: Sequence[EnergyRate]) -> float:
    return sum(
        float(rate.price) for rate in rates for start, end in windows_of(rate) if start <= minute < end
    )
