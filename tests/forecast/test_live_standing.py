"""Where a sale stands as its workbook works it out, beside what is reckoned from the book."""

from dataclasses import replace
from datetime import datetime, time
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.event.entries import Entries, FromHere
from salebook.event.event import Event, reckon_event
from salebook.forecast.from_book import standing_from_book
from salebook.forecast.live_standing import live_standing, over_by_lines, prices_of_rest
from salebook.forecast.selling_time import evening_of
from salebook.forecast.standing import Standing, state_at
from salebook.forecast.state import SaleState
from salebook.forecast.studio_ahead import StudioAhead
from salebook.plan.model import Plan
from salebook.reckoning import Reckoning, reckon
from tests.support.entry_strategies import entries
from tests.support.plan_strategies import plans
from tests.support.small_event import DONATED, FIRST, after, line, sale


def reckoned(reckoning: Reckoning, event: Event) -> Standing:
    """Return what is reckoned from a book, by the evening of the last line, the studio left out."""
    last = max((one.day for one in event.state.lines), default=None)
    days = reckoning.plan.sale.days
    evening = evening_of(last, reckoning.plan.sale) if last else datetime.combine(days[0], time())
    return standing_from_book(reckoning, event, evening, StudioAhead())


def goods(state: SaleState) -> list[object]:
    return [good for good in state.goods if good.offered or good.grade != "second"]


@st.composite
def events(draw: st.DrawFn) -> tuple[Reckoning, Event]:
    plan: Plan = draw(plans())
    reckoning = reckon(plan)
    filled: Entries = replace(draw(entries(plan)), from_here=FromHere())
    return reckoning, reckon_event(reckoning, filled)


@pytest.mark.slow
@given(events())
def test_goods_and_time_are_those_that_are_reckoned(drawn: tuple[Reckoning, Event]) -> None:
    reckoning, event = drawn
    exact, live = state_at(reckoned(reckoning, event)), state_at(live_standing(reckoning, event))
    assert goods(live) == goods(exact)
    assert live.reached == exact.reached
    assert float(over_by_lines(reckoning.plan, event)) == pytest.approx(float(exact.over))


DUE = {
    "nothing": (),
    "a deposit on a piece": (line(1, "deposit", FIRST, "5", claim="C1"),),
    "an order paid in part": (line(1, "order", "MAY", "10", count=1, claim="C2"),),
    "an order, and a piece that another keeps": (
        line(1, "deposit", FIRST, "5", claim="C1"),
        line(2, "order", "MAY", "10", count=2, claim="C2"),
    ),
    "a neighbour's spoon": (line(1, "deposit", DONATED, "4"),),
    "money on its way": (line(1, "sale", FIRST, way="card", waiting=True),),
}


@pytest.mark.parametrize("case", DUE)
def test_what_is_still_due_brings_what_is_reckoned(case: str) -> None:
    """Fees for each payment apart: of an order of several pieces one is counted for each."""
    reckoning, event = sale(), after(*DUE[case])
    exact, live = reckoned(reckoning, event), live_standing(reckoning, event)
    assert float(live.held_brings) == pytest.approx(float(exact.held_brings), abs=0.05)


def test_a_share_typed_in_per_cent_is_a_share() -> None:
    typed = Entries(from_here=FromHere(over=Decimal(50), other=Decimal(80)))
    as_share = Entries(from_here=FromHere(over=Decimal("0.5"), other=Decimal("0.8")))
    reckoning = sale()
    found = [reckon_event(reckoning, each) for each in (typed, as_share)]
    assert len({live_standing(reckoning, event).over for event in found}) == 1
    assert prices_of_rest(reckoning.plan, found[0]) == prices_of_rest(reckoning.plan, found[1])


def test_the_time_that_is_typed_stands_before_that_of_the_lines() -> None:
    reckoning, lines = sale(), after(line(1, "sale", FIRST)).entries.lines
    event = reckon_event(reckoning, Entries(lines=lines, from_here=FromHere(over=Decimal("0.25"))))
    assert live_standing(reckoning, event).over == Decimal("0.25")
