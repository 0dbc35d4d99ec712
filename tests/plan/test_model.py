"""A plan and what follows from it."""

from tests.support.books import sample_tables
from tests.support.plan_strategies import plan_of


def test_what_follows_from_other_values_follows_in_a_copy_too() -> None:
    plan = plan_of(sample_tables("harbour-weekend"))
    assert len(plan.outlooks) == 3
    assert [one.name for one in plan.model_copy(update={"outlooks_given": ()}).outlooks] == ["as expected"]
