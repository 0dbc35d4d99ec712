"""Whatever was planned and filled in, the next plan is sound and keeps what was planned."""

from datetime import date, datetime, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.forecast.forecast import forecast_of
from salebook.forecast.learned.lessons import Lessons
from salebook.plan.load import read_plan
from salebook.plan.model import Plan
from salebook.reckoning import reckon
from salebook.start.dialogue import faults_in
from salebook.start.locale_defaults import LocaleDefaults
from salebook.start.next_dialogue import NextSale, plan_as_proposed
from tests.support.entry_strategies import entries
from tests.support.plan_strategies import plans


@st.composite
def sales(draw: st.DrawFn) -> tuple[Plan, Entries]:
    plan = draw(plans())
    return plan, draw(entries(plan))


@pytest.mark.slow
@given(sales())
def test_any_book_makes_a_sound_plan(sale: tuple[Plan, Entries]) -> None:
    plan, filled_in = sale
    reckoning = reckon(plan)
    evening = datetime.combine(plan.sale.days[-1], time(23, 59))
    forecast = forecast_of(reckoning, reckon_event(reckoning, filled_in), evening)
    text = plan_as_proposed(
        NextSale(lessons=Lessons(forecast=forecast), defaults=LocaleDefaults(today=date(2027, 1, 1)))
    )
    assert faults_in(text) == ()
    after = read_plan(text, file="next.toml")
    assert (after.labels, after.hours, after.energy) == (plan.labels, plan.hours, plan.energy)
    assert [ware.code for ware in after.wares] == [ware.code for ware in plan.wares]
