from decimal import Decimal

from tests.support.small_event import FIRST, after, line


def test_every_cost_says_what_it_comes_to_and_how_that_is_known() -> None:
    event = after(line(1, piece=FIRST), actual_costs={"overhead: hall": Decimal("4.20")})
    found = {cost.line.name: (cost.amount, cost.is_actual) for cost in event.share_out.costs}
    assert {"buff": (12, False), "bags": (Decimal("0.33"), False), "hall": (Decimal("4.20"), True)} == found


def test_costs_of_the_sale_add_up_to_what_is_taken_off() -> None:
    event = after(line(1, piece=FIRST))
    off = sum(cost.amount for cost in event.share_out.costs if cost.line.met_by == "sale")
    assert event.share_out.costs_met_by_sale == off
