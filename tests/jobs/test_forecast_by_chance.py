"""Whatever is filled in, at whatever moment: an answer in words and in JSON, and no figure that is none."""

import json
from datetime import date, datetime, time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from salebook.event.event import reckon_event
from salebook.forecast.forecast import forecast_of
from salebook.jobs.forecast_json import forecast_json
from salebook.reckoning import reckon
from salebook.say.from_here_on import forecast_sentences
from tests.support.entry_strategies import entries
from tests.support.plan_strategies import plans


@pytest.mark.slow
@given(st.data())
@settings(max_examples=40)
def test_every_book_has_its_answer(data: st.DataObject) -> None:
    plan = data.draw(plans())
    first, last = plan.sale.days[0], plan.sale.days[-1]
    day = data.draw(st.sampled_from([*plan.sale.days, date(first.year - 1, 3, 1), date(last.year + 1, 3, 1)]))
    now = datetime.combine(day, data.draw(st.sampled_from([time(8), time(12, 30), time(22)])))
    reckoning = reckon(plan, today=day)
    event = reckon_event(reckoning, data.draw(entries(plan, unread=True)))
    forecast = forecast_of(reckoning, event, now)
    answer = json.dumps(forecast_json(forecast), allow_nan=False)
    told = " ".join([*forecast_sentences(forecast), *json.loads(answer)["now"]["leans_on"]])
    assert "nan" not in told.lower().split()
