"""What share of a ware sells at a price: straight lines between the demand points, a part of Price."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import zip_longest

from salebook.base.words import N_, _
from salebook.book.page import Page
from salebook.book.table import Table
from salebook.plan.model import DemandPoint, Ware


@dataclass(frozen=True, kw_only=True)
class DemandLine:
    """The line from a demand point to the next one, if there is one; wares and points count from 1."""

    ware: Ware
    ware_number: int
    point_number: int
    point: DemandPoint
    following: DemandPoint | None

    @property
    def width(self) -> float:
        """How much dearer the next point is."""
        return float(self.following.price - self.point.price) if self.following else 0.0

    @property
    def slope(self) -> float:
        """How much the share changes with each 1 of the price."""
        return float(self.following.share - self.point.share) / self.width if self.following else 0.0


def share_formula(price: str, n: int) -> str:
    """Return the formula of the share of the n-th ware that sells at a price, without "="."""
    beyond = f"({price}-demand_from_{n})"
    reach = (
        f"(({beyond}>0)*({beyond}<demand_width_{n})*{beyond}+({beyond}>=demand_width_{n})*demand_width_{n})"
    )
    return f"[demand_share_{n}@1]+SUMPRODUCT(demand_slope_{n}*{reach})"


def over_all_days(share: str) -> str:
    """Return the formula of what a share that sells comes to over all kinds of day, never above all."""
    of_day = f"{share}*outlook_factors"
    return f"SUMPRODUCT(outlook_weights,({of_day}<1)*{of_day}+({of_day}>=1))/SUM(outlook_weights)"


def demand_lines_table() -> Table[DemandLine]:
    """Declare the table: each ware's demand points in the order of their prices, and the lines between."""
    table: Table[DemandLine] = Table("demand_lines", N_("Price"), part=lambda line: str(line.ware_number))
    for section in ("wares", "demand"):
        table.join(section, lambda line: line.ware.code)

    def to_next(formula: str) -> Callable[[DemandLine], str]:
        return lambda line: formula if line.following else "0"

    share = "SUMIF([demand.price:],[from],[demand.share:])/COUNTIF([demand.price:],[from])"
    slope = "IF([width]>0,([share>]-[share])/[width],0)"
    table.live("code", _("Code"), "text", "[wares.code]", lambda line: line.ware.code)
    table.live(
        *("from", _("From price"), "money", lambda line: f"SMALL([demand.price:],{line.point_number})"),
        lambda line: line.point.price,
        name="demand_from_{part}",
    )
    table.live(
        *("share", _("Share"), "percent", share, lambda line: line.point.share), name="demand_share_{part}"
    )
    table.live(
        "width", _("up to so much more"), "money", to_next("[from>]-[from]"), name="demand_width_{part}"
    )
    table.live("slope", _("Share for each 1"), "thousandths", to_next(slope), name="demand_slope_{part}")
    return table


def put_demand_lines(page: Page, wares: Sequence[Ware]) -> None:
    """Write the lines of all wares that have demand points; nothing where none has."""
    lines = [line for n, ware in enumerate(wares, start=1) for line in _lines(ware, n)]
    if lines:
        page.band(_("How many would sell at each price: the lines between your points"))
        demand_lines_table().write(page, lines)
        page.row += 1


def _lines(ware: Ware, ware_number: int) -> Iterator[DemandLine]:
    points = sorted(ware.demand, key=lambda point: point.price)
    for n, (point, following) in enumerate(zip_longest(points, points[1:]), start=1):
        yield DemandLine(ware=ware, ware_number=ware_number, point_number=n, point=point, following=following)
