"""The studio wall: if there is time, what to weigh out, how many to make, how large, and the clay to buy."""

from salebook.base.words import _
from salebook.prints.render import Printer
from salebook.prints.studio.measuring_sticks import sticks_of
from salebook.reckoning import Reckoning
from salebook.say.cautions import DEFERS, cautions_on
from salebook.say.time import time_sentences


def making_html(printer: Printer, reckoning: Reckoning) -> str:
    """Return the making print: dated plan, list, a row to keep count of each ware, measuring sticks."""
    plan, studio, days = reckoning.plan, reckoning.studio, reckoning.days
    locale = plan.sale.locale
    return printer.fill(
        "making.html",
        time=time_sentences(plan, days),
        too_late=days.is_too_late,
        tasks=tuple(zip(days.latest, days.earliest or days.latest, strict=True)),
        has_soonest=bool(days.earliest),
        wares=tuple(zip(studio.runs, studio.sizes, strict=True)),
        clays=studio.clays,
        batch=plan.making.batch,
        sticks=[stick for sizes in studio.sizes for stick in sticks_of(sizes, locale, printer.paper)],
        stages=(_("thrown"), _("dry"), _("biscuit"), _("good"), _("seconds"), _("broken")),
        cautions=cautions_on("making"),
        defers=DEFERS,
    )
