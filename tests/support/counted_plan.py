"""A plan whose losses were counted on earlier sales."""

from decimal import Decimal
from functools import cache
from typing import Any

from salebook.event.entries import Entries
from salebook.making.studio_tally import StudioCount
from salebook.plan.model import Plan
from tests.support.books import book_of_plan, few_free_lines
from tests.support.sound_plan import Place, plan_with

LOSSES = {
    "throwing": Decimal("0.03"),
    "drying": Decimal("0.03"),
    "biscuit": Decimal("0.02"),
    "glaze": Decimal("0.04"),
}
SEEN: dict[str, Any] = {
    "throwing": [0, 47],
    "drying": [1, 46],
    "biscuit": [1, 45],
    "glaze": [5, 44],
    "seconds": [4, 39],
}


def counted_vase(**seen: Any) -> list[tuple[Place, Any]]:
    """Return the changes that make the sound plan's vase one of which enough was counted."""
    values = {"wanted": 36, "losses": LOSSES, "seconds": Decimal("0.05"), "seen": seen or SEEN}
    return [(("wares", 0, key), value) for key, value in values.items()]


@cache
def counted_plan() -> Plan:
    """Return a plan with one ware whose table of chances is short, and one whose table would be too long."""
    return plan_with(
        *counted_vase(), (("wares", 1, "wanted"), 60), (("wares", 1, "seen"), {"glaze": [50, 60]})
    )


TALLY = {"VASE": StudioCount(thrown=40, dry=38, biscuit=30, good=12, seconds=1, broken=3)}


@cache
def counted_book() -> bytes:
    """Return its workbook, with a tally that the studio keeps."""
    with few_free_lines():
        return book_of_plan(counted_plan(), Entries(studio=TALLY))
