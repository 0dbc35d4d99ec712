"""What share of a ware sells at a price: straight lines between the demand points, a part of Price."""

from collections.abc import Sequence

from salebook.base.words import _
from salebook.book.figure import Figure
from salebook.book.page import Page
from salebook.plan.model import DemandPoint, Ware


def share_formula(price: str, n: int) -> str:
    """Return the formula of the share of the n-th ware that sells at a price, without "="."""
    beyond = f"({price}-demand_from_{n})"
    reach = (
        f"(({beyond}>0)*({beyond}<demand_width_{n})*{beyond}+({beyond}>=demand_width_{n})*demand_width_{n})"
    )
    return f"INDEX(demand_share_{n},1)+SUMPRODUCT(demand_slope_{n}*{reach})"


def over_all_days(share: str) -> str:
    """Return the formula of what a share that sells comes to over all kinds of day, never above all."""
    of_day = f"{share}*outlook_factors"
    return f"SUMPRODUCT(outlook_weights,({of_day}<1)*{of_day}+({of_day}>=1))/SUM(outlook_weights)"


def put_demand_lines(page: Page, wares: Sequence[Ware]) -> None:
    """Write each ware's demand points in the order of their prices, with the width and slope of each line."""
    if not any(ware.demand for ware in wares):
        return
    page.band(_("How many would sell at each price: the lines between your points"))
    page.headings(
        ("code", "from", "share", "width", "slope"),
        (_("Code"), _("From price"), _("Share"), _("up to so much more"), _("Share for each 1")),
        section="demand_lines",
    )
    for n, ware in enumerate(wares, start=1):
        if ware.demand:
            _lines(page, ware, n)
    page.row += 1


def _lines(page: Page, ware: Ware, n: int) -> None:
    places = page.book.addresses
    points = sorted(ware.demand, key=lambda point: point.price)
    first, last = page.row, page.row + len(points) - 1
    ends = [places["demand", f"{ware.code}/{index}", "price"] for index in (0, len(points) - 1)]
    prices = f"{ends[0]}:{ends[1].split('!')[1]}"
    ends = [places["demand", f"{ware.code}/{index}", "share"] for index in (0, len(points) - 1)]
    shares = f"{ends[0]}:{ends[1].split('!')[1]}"
    for index, point in enumerate(points, start=1):
        row = page.row
        following = points[index] if index < len(points) else None
        width, slope = _line(point, following)
        page.put_row(
            (
                ("demand_lines", "key"),
                (Figure(f"={places['wares', ware.code, 'code']}", ware.code), "result text"),
                (Figure(f"=SMALL({prices},{index})", point.price), "result money"),
                (Figure(f"=INDEX({shares},MATCH(C{row},{prices},0))", point.share), "result percent"),
                (Figure(f"=C{row + 1}-C{row}" if following else "=0", width), "result money"),
                (
                    Figure(f"=IF(E{row}>0,(D{row + 1}-D{row})/E{row},0)" if following else "=0", slope),
                    "result thousandths",
                ),
            )
        )
    for column, name in ((3, "from"), (4, "share"), (5, "width"), (6, "slope")):
        page.name(f"demand_{name}_{n}", first, column, last_row=last)


def _line(point: DemandPoint, following: DemandPoint | None) -> tuple[float, float]:
    if following is None:
        return 0.0, 0.0
    width = float(following.price - point.price)
    return width, float(following.share - point.share) / width
