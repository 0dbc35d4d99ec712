import pytest

from salebook.plan.model import Plan
from salebook.plan.opening import opening_hours
from salebook.prints.before.pack import agreement_html
from salebook.prints.before.poster import poster_html
from salebook.prints.before.price_list import price_list_html
from salebook.prints.render import printer_for
from salebook.prints.studio.making_list import making_html
from salebook.reckoning import reckon
from tests.support.print_sales import sale


def prints_of(plan: Plan) -> dict[str, str]:
    reckoning, printer = reckon(plan), printer_for(plan)
    group = plan.beneficiaries[0]
    return {
        "poster": poster_html(printer, reckoning),
        "price list": price_list_html(printer, reckoning),
        "making": making_html(printer, reckoning),
        "agreement": agreement_html(printer, reckoning, group),
    }


@pytest.mark.parametrize("hours", ["10:00 to 17:00", None])
def test_the_hours_stand_where_the_days_of_the_sale_do(hours: str | None) -> None:
    plan = sale().plan
    opening = None if hours is None else opening_hours(hours)
    changed = plan.model_copy(update={"sale": plan.sale.model_copy(update={"open": opening})})
    shown = {name: "Open from 10:00 to 17:00" in text for name, text in prints_of(changed).items()}
    assert set(shown.values()) == {hours is not None}
