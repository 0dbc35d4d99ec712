"""The poster before the sale: what, when, where, for whom, and how much they hope to raise."""

from functools import partial

from salebook.base.words import _
from salebook.prints.fitting import fitted
from salebook.prints.render import Printer
from salebook.prints.wording import hours_said
from salebook.reckoning import Reckoning
from salebook.say.price import about

MARGIN_MM = 20.0
FIXED_MM = 110.0
"""Of the height, for what is alike on each poster: days, band, target and the white between."""

HOURS_MM = 9.0
"""Of the height, for the opening hours where the plan gives them."""

TITLE_POINTS = 64.0
TITLE_SHARE = 0.56
"""Of the height that is left for title and groups."""

LEAST_TITLE_MM = 30.0
TITLE_LINES = 4
VENUE_POINTS = 20.0
MAKER_POINTS = 16.0
LINE_HEIGHT_MM = 16.0
GROUP_POINTS = 26.0
LEAST_GROUP_MM = 6.5
"""Of the height, for a group in letters that are read from a few steps away."""

GROUP_GAP_SHARE = 0.2
MOST_GROUP_GAP_MM = 3.0

in_large_letters = partial(fitted, smallest=10.0)
"""Return a text of a poster fitted into a box, never under 10 points."""


def poster_html(printer: Printer, reckoning: Reckoning) -> str:
    """Return the poster on the plan's paper, the title as large as there is room for."""
    plan, paper = reckoning.plan, printer.paper
    width = paper.width_mm - 2 * MARGIN_MM
    made_by = _("Handmade pieces by {maker}").format(maker=plan.sale.maker)
    venue = in_large_letters(plan.sale.venue, width, LINE_HEIGHT_MM, VENUE_POINTS, most_lines=2)
    maker = in_large_letters(made_by, width, LINE_HEIGHT_MM, MAKER_POINTS, most_lines=2)
    hours, target = hours_said(plan.sale), plan.sale.target
    is_whole = target == target.to_integral_value()
    fixed = FIXED_MM + (HOURS_MM if hours else 0)
    room = paper.height_mm - 2 * MARGIN_MM - fixed - venue.height_mm - maker.height_mm
    spare = max(LEAST_TITLE_MM, room - LEAST_GROUP_MM * len(plan.beneficiaries))
    title_mm = min(TITLE_SHARE * room, spare)
    heading = in_large_letters(plan.sale.title, width, title_mm, TITLE_POINTS, most_lines=TITLE_LINES)
    row = (room - heading.height_mm) / len(plan.beneficiaries)
    gap = min(MOST_GROUP_GAP_MM, GROUP_GAP_SHARE * row)
    return printer.fill(
        "poster.html",
        heading=heading,
        venue=venue,
        maker=maker,
        groups=[
            in_large_letters(group.name, width, row - gap, GROUP_POINTS, most_lines=2)
            for group in plan.beneficiaries
        ],
        group_gap_mm=gap,
        target=about(target, plan.sale) if is_whole else plan.sale.format_money(target),
    )
