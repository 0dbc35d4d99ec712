"""The look ahead on Progress beside what is reckoned from the book."""

from dataclasses import replace
from datetime import datetime, time
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.book.sheets.from_here import left_cases
from salebook.book.sheets.goods_left import ahead_of
from salebook.event.entries import Entries, FromHere, Line
from salebook.event.event import Event, reckon_event
from salebook.forecast.figures import Figures, figures_of
from salebook.forecast.from_book import standing_from_book
from salebook.forecast.live_chance import WITHIN
from salebook.forecast.selling_time import evening_of
from salebook.forecast.standing import state_at
from salebook.forecast.studio_ahead import StudioAhead
from salebook.plan.model import Plan
from salebook.pricing.ladder import prices_at
from salebook.reckoning import Reckoning, reckon
from tests.support.books import sample_tables
from tests.support.entry_strategies import entries
from tests.support.plan_strategies import plan_of, plans


@st.composite
def events(draw: st.DrawFn) -> tuple[Reckoning, Event]:
    plan: Plan = draw(plans())
    reckoning = reckon(plan)
    filled: Entries = replace(draw(entries(plan)), from_here=FromHere())
    return reckoning, reckon_event(reckoning, filled)


def reckoned(reckoning: Reckoning, event: Event, change: int | None = None) -> Figures:
    """Return what is reckoned from a book by the evening of its last line, the studio left out."""
    last = max((one.day for one in event.state.lines), default=None)
    days = reckoning.plan.sale.days
    evening = evening_of(last, reckoning.plan.sale) if last else datetime.combine(days[0], time())
    standing = standing_from_book(reckoning, event, evening, StudioAhead())
    if change is None:
        return figures_of(state_at(standing))
    return figures_of(state_at(standing, prices_at(reckoning.plan, change)))


@pytest.mark.slow
@given(events())
def test_the_kinds_of_day_are_weighed_as_they_are_reckoned(drawn: tuple[Reckoning, Event]) -> None:
    reckoning, event = drawn
    ahead, figures = ahead_of(reckoning, event), reckoned(reckoning, event)
    assert ahead.fits == figures.fits
    whole = sum(ahead.weights)
    assert [weight / whole for weight in ahead.weights] == pytest.approx(
        [float(weight) for weight in figures.outlooks], abs=1e-9
    )


@pytest.mark.slow
@pytest.mark.parametrize("change", [None, -20, 15])
@pytest.mark.parametrize("sold", [0, 10, 25, 30])
def test_the_chance_from_here_on_is_near_what_is_reckoned(sold: int, change: int | None) -> None:
    plan = plan_of(sample_tables("harbour-weekend"))
    reckoning, day = reckon(plan), plan.sale.days[0]
    lines = tuple(
        Line(number=n, day=day, kind="sale", piece=f"MUG-{n:03}", way="cash") for n in range(1, sold + 1)
    )
    other = None if change is None else Decimal(100 + change) / 100
    event = reckon_event(reckoning, Entries(lines=lines, from_here=FromHere(other=other)))
    assert sum(totals.sold for totals in event.state.piece_totals) == sold
    now, rest = left_cases(ahead_of(reckoning, event))
    assert now.reckoned.chance == pytest.approx(reckoned(reckoning, event).chance, abs=WITHIN)
    assert rest.reckoned.chance == pytest.approx(reckoned(reckoning, event, change).chance, abs=WITHIN)
