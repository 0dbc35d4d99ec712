"""The part of the sheet Firing that prices energy by the clock: what 1 kW costs from midnight on."""

from collections.abc import Sequence
from dataclasses import dataclass

from salebook.base.words import N_, _
from salebook.book.figure import Figure
from salebook.book.page import DAY_MINUTES, Page
from salebook.book.table import Table, put_line
from salebook.making.firing import running_price as running_price_of_1_kw
from salebook.making.firing import windows_of
from salebook.plan.model import EnergyRate


def running_price(day_fraction: str) -> str:
    """Return a formula for what 1 kW costs from the first midnight to a time in days."""
    at = f"MATCH(MOD({day_fraction},1),window_from,1)"
    within = f"INDEX(window_ran,{at})+(MOD({day_fraction},1)-INDEX(window_from,{at}))*hours_in_day"
    return f"INT({day_fraction})*window_day+{within}*INDEX(window_price,{at})"


@dataclass(frozen=True, kw_only=True)
class Window:
    """A stretch of the day at one price: the n-th that begins after midnight, 0 for what begins the day."""

    n: int
    minute: int
    price: float
    ran: float

    @property
    def begins(self) -> float:
        """When it begins, in days."""
        return self.minute / DAY_MINUTES


def windows_table() -> Table[Window]:
    """Declare the day's price windows in the order of the clock, and what 1 kW has cost when each begins."""
    table: Table[Window] = Table("windows", N_("Firing"), record=lambda window: str(window.n))
    by_day = "(rate_from<rate_to)*(rate_from<=[from])*([from]<rate_to)"
    by_night = "(rate_from>=rate_to)*(((rate_from<=[from])+([from]<rate_to))>0)"
    price = f"SUMPRODUCT(({by_day}+{by_night})*rate_price)"
    ran = "[ran-]+([from]-[from-])*hours_in_day*[price-]"
    table.live(
        *("from", _("From"), "clock", lambda row: f"SMALL(rate_from,{row.n})" if row.n else "0", "begins"),
        name="window_from",
    )
    table.live("price", _("Price of 1 kWh"), "rate", price, name="window_price")
    table.live(
        *("ran", _("1 kW so far"), "thousandths", lambda row: ran if row.n else "0"), name="window_ran"
    )
    return table


def put_running_price(page: Page, rates: Sequence[EnergyRate]) -> None:
    """Write the price windows, and what 1 kW costs in a whole day."""
    page.band(_("Energy by the clock: what 1 kW drawn from midnight has cost"))
    windows = [
        Window(
            n=n, minute=minute, price=_price_at(minute, rates), ran=running_price_of_1_kw(minute / 60, rates)
        )
        for n, minute in enumerate([0, *sorted(rate.from_ for rate in rates)])
    ]
    placed = windows_table().write(page, windows)
    ran, begins, price = (f"[windows.{key}@{len(rates)}]" for key in ("ran", "from", "price"))
    day = Figure(f"={ran}+(1-{begins})*hours_in_day*{price}", running_price_of_1_kw(24, rates))
    put_line(
        page, _("A whole day"), day, "result thousandths", name="window_day", column=placed.column("ran")
    )
    page.row += 1


def _price_at(minute: int, rates: Sequence[EnergyRate]) -> float:
    return sum(
        float(rate.price) for rate in rates for start, end in windows_of(rate) if start <= minute < end
    )
