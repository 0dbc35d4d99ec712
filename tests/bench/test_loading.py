"""Loading the kiln: the time to pack it for many pieces over the time to build their workbook."""

import sys
from decimal import Decimal
from time import perf_counter

from salebook.book.write import book_bytes
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.making.loading import loadings_for
from salebook.making.packing.circles import circles_on_rectangle, circles_on_round
from salebook.plan.model import Plan
from salebook.plan.quantities import Length
from salebook.reckoning import reckon
from tests.support.sound_plan import plan_with

LIMIT = 0.02
WARES, WANTED = 12, 84


def many_wares() -> Plan:
    """Return a plan of a thousand pieces, each ware a little wider than the one before."""
    plan = plan_with()
    wares = tuple(
        plan.wares[0].model_copy(
            update={
                "code": f"W{number}",
                "wanted": WANTED,
                "made_diameter": Length(Decimal(60 + 8 * number), "mm"),
            }
        )
        for number in range(WARES)
    )
    return plan.model_copy(update={"wares": wares, "materials": (), "work": ()})


def test_loading_a_thousand_pieces_takes_under_two_per_cent_of_their_workbook() -> None:
    reckoning = reckon(many_wares())
    event = reckon_event(reckoning, Entries())
    circles_on_round.cache_clear()
    circles_on_rectangle.cache_clear()
    begin = perf_counter()
    loadings_for(reckoning.plan, reckoning.studio.runs)
    loaded = perf_counter()
    book_bytes(reckoning, event)
    ratio = (loaded - begin) / (perf_counter() - loaded)
    sys.stdout.write(f"\nloading / workbook: {ratio:.4f}\n")
    assert ratio < LIMIT
