from datetime import date, timedelta
from decimal import Decimal
from itertools import groupby, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from salebook.making.days import Days, Task, days_for
from salebook.making.studio import plan_studio
from salebook.plan.model import Plan
from tests.support.sound_plan import Place, plan_with
from tests.support.strategies import at_most

NO_LOSS = {"throwing": Decimal(0), "drying": Decimal(0), "biscuit": Decimal(0), "glaze": Decimal(0)}
SALE_DAY = date(2027, 6, 12)


def june(day: int) -> date:
    """Return a day of June 2027; 0 is the last of May."""
    return date(2027, 5, 31) + timedelta(days=day)


def five_pieces(**making: object) -> Plan:
    """Return a plan of five pieces that nothing is lost of, in batches of two, one load for each firing."""
    kiln = {key: making.pop(key) for key in ("days_per_load",) if key in making}
    settings: dict[str, object] = {"batch": 2, "days_on_bat": 1, "drying_days": 7, **making}
    lone: list[tuple[Place, object]] = [
        (("wares", 0, "wanted"), 5),
        (("wares", 0, "losses"), NO_LOSS),
        (("wares", 0, "seconds"), 0),
        (("kiln", "days_per_load"), kiln.get("days_per_load", 2)),
        (("sale", "days"), [SALE_DAY]),
        (("making",), settings),
    ]
    plan = plan_with(*lone)
    return plan.model_copy(update={"wares": plan.wares[:1]})


def days_of(plan: Plan, today: date | None = None) -> Days:
    return days_for(plan, plan_studio(plan), today)


def spans(tasks: tuple[Task, ...]) -> list[tuple[str, date, date]]:
    return [(task.kind, task.first, task.last) for task in tasks]


def test_the_plan_runs_backwards_from_the_eve_of_the_sale() -> None:
    """Three batches; a day on the bat, seven of drying; two for a load, one to glaze, one to finish."""
    assert spans(days_of(five_pieces()).latest) == [
        ("throw", june(-5), june(-3)),
        ("dry", june(-2), june(5)),
        ("fire", june(6), june(7)),
        ("glaze", june(8), june(8)),
        ("fire", june(9), june(10)),
        ("finish", june(11), june(11)),
    ]


def test_the_plan_runs_forwards_from_today() -> None:
    begun = days_of(five_pieces(), june(-7))
    assert spans(begun.earliest) == [
        (kind, first - timedelta(days=2), last - timedelta(days=2))
        for kind, first, last in spans(begun.latest)
    ]
    assert begun.days_in_hand == 2


def test_the_last_days_are_named() -> None:
    days = days_of(five_pieces())
    assert (days.begin_by, days.last_day_to_throw, days.first_firing, days.last_firing) == (
        june(-5),
        june(-3),
        june(6),
        june(9),
    )
    assert (days.days_in_hand, days.is_too_late, days.instead) == (None, False, None)


@pytest.mark.parametrize(
    ("free", "begin_by"),
    [
        ([june(11)], june(-6)),  # nobody to finish and wrap
        ([june(0)], june(-5)),  # clay dries by itself
        ([june(-2), june(5)], june(-5)),  # from the first day to the last
        ([june(7)], june(-6)),  # nobody to unload
        ([june(-4)], june(-6)),  # nobody to throw
        ([june(-4), june(11)], june(-7)),
    ],
)
def test_nobody_works_on_a_free_day(free: list[date], begin_by: date) -> None:
    assert days_of(five_pieces(free_days=free)).begin_by == begin_by


def test_a_free_day_keeps_bats_from_being_used_again() -> None:
    """Three of one and one of another on two bats, each for two days: 4 June two, 6 June one, 8 June one.

    Nobody works on the 7th; from 5 June the last would be thrown on the 9th, when it should be drying.
    """
    settings = {"batch": 3, "bats": 2, "days_on_bat": 2, "drying_days": 0, "free_days": [june(7)]}
    plan = five_pieces(**settings).model_copy(update={"firings": ()})
    first = plan.wares[0].model_copy(update={"wanted": 3})
    second = first.model_copy(update={"code": "TWO", "wanted": 1})
    assert days_of(plan.model_copy(update={"wares": (first, second)})).begin_by == june(4)


def test_a_sale_of_several_days_is_made_ready_for_its_first() -> None:
    plan = five_pieces()
    longer = plan.sale.model_copy(update={"days": (SALE_DAY, SALE_DAY + timedelta(days=1))})
    days = days_of(plan.model_copy(update={"sale": longer}), june(-6))
    assert (days.sale_day, days.begin_by, days.latest[-1].last) == (SALE_DAY, june(-5), june(11))


def test_what_is_fired_and_what_is_glazed_has_the_name_of_its_firing() -> None:
    days = days_of(five_pieces(), june(-6))
    for tasks in (days.latest, days.earliest):
        assert [task.firing for task in tasks] == ["", "", "biscuit", "glaze", "glaze", ""]


def test_a_kiln_cools_on_a_free_day() -> None:
    days = days_of(five_pieces(days_per_load=3))
    cooling = [task.first + timedelta(days=1) for task in days.latest if task.kind == "fire"]
    assert days_of(five_pieces(days_per_load=3, free_days=cooling)).latest == days.latest


@pytest.mark.parametrize(
    ("bats", "days_on_bat", "throwing_days"),
    [
        (None, 3, [2, 2, 1]),
        (2, 1, [2, 2, 1]),
        (1, 1, [1, 1, 1, 1, 1]),
        (1, 2, [1, 0, 1, 0, 1, 0, 1, 0, 1]),
        (3, 2, [2, 1, 1, 1]),
        (3, 3, [2, 1, 0, 1, 1]),
        (2, 0, [2, 2, 1]),
    ],
)
def test_no_more_is_thrown_than_bats_are_free(
    bats: int | None, days_on_bat: int, throwing_days: list[int]
) -> None:
    making = {} if bats is None else {"bats": bats}
    throw, *_rest = days_of(five_pieces(days_on_bat=days_on_bat, **making), june(-60)).earliest
    assert (throw.last - throw.first).days + 1 == len(throwing_days)


def test_a_batch_holds_one_ware() -> None:
    """Ten of one and ten of another in batches of twelve are two batches, not one and a rest."""
    plan = five_pieces(batch=12)
    first = plan.wares[0].model_copy(update={"wanted": 10})
    both = plan.model_copy(update={"wares": (first, first.model_copy(update={"code": "TWO"}))})
    throw, *_rest = days_of(both).latest
    assert (throw.last - throw.first).days == 1


def test_each_load_is_lit_when_the_one_before_is_unloaded() -> None:
    plan = five_pieces(days_per_load=3)
    studio = plan_studio(plan, loads={"biscuit": 2, "glaze": 1})
    lit = [task.lit for task in days_for(plan, studio).latest if task.lit]
    assert lit == [(june(1), june(4)), (june(8),)]


def test_the_first_load_of_all_and_the_last_of_all_are_named() -> None:
    """Two loads of two days for each firing, a day to glaze between them."""
    plan = five_pieces()
    days = days_for(plan, plan_studio(plan, loads={"biscuit": 2, "glaze": 2}))
    assert (days.first_firing, days.last_firing) == (june(2), june(9))


def test_too_late_says_by_how_much_and_what_would_fit() -> None:
    plan = five_pieces(batch=1)
    days = days_of(plan, june(-6))
    assert days.begin_by == june(-7)
    assert (days.days_in_hand, days.is_too_late) == (-1, True)
    assert days.instead is not None
    assert days.instead.sale_from == SALE_DAY + timedelta(days=1)
    assert days.instead.wanted == {plan.wares[0].code: 4}


@pytest.mark.parametrize("fitting", [1, 499, 700, 998])
def test_as_many_of_a_thousand_fit_as_there_are_days_to_throw_them(fitting: int) -> None:
    """One a day; a day on the bat, seven of drying and a day to finish follow the last."""
    plan = five_pieces(batch=1).model_copy(update={"firings": ()})
    thousand = plan.wares[0].model_copy(update={"wanted": 1000})
    today = SALE_DAY - timedelta(days=1 + 8 + fitting)
    days = days_of(plan.model_copy(update={"wares": (thousand,)}), today)
    assert days.instead is not None
    assert days.instead.wanted == {thousand.code: fitting}


def test_nothing_fits_on_the_day_of_the_sale() -> None:
    days = days_of(five_pieces(), SALE_DAY)
    assert days.instead is not None
    assert days.instead.wanted == {}


def test_a_plan_without_wares_has_no_days() -> None:
    plan = five_pieces()
    days = days_of(plan.model_copy(update={"wares": ()}), june(0))
    assert (days.latest, days.earliest, days.begin_by, days.is_too_late) == ((), (), None, False)


def test_a_plan_without_firings_is_thrown_dried_and_finished() -> None:
    plan = five_pieces().model_copy(update={"firings": ()})
    assert [task.kind for task in days_of(plan).latest] == ["throw", "dry", "finish"]


def test_a_plan_of_centuries_keeps_to_dates_that_there_are() -> None:
    plan = five_pieces(batch=1, bats=1, days_on_bat=365)
    many = plan.wares[0].model_copy(update={"wanted": 10_000})
    days = days_of(plan.model_copy(update={"wares": (many,)}), june(0))
    assert days.begin_by == date(1901, 1, 1)
    assert days.earliest[-1].last == date(9990, 1, 1)


NEAR = st.integers(-70, 11).map(june)
"""Days from spring to the eve of the sale."""

SETTINGS = st.fixed_dictionaries(
    {
        "batch": st.integers(1, 6),
        "days_on_bat": st.integers(0, 3),
        "drying_days": st.integers(0, 12),
        "days_per_load": st.integers(1, 4),
        "free_days": st.lists(NEAR, max_size=12, unique=True).map(sorted),
    },
    optional={"bats": st.integers(1, 6)},
)


@st.composite
def working_plans(draw: st.DrawFn) -> Plan:
    """Draw ways of working for one or two wares, and none or two firings."""
    plan = five_pieces(**draw(SETTINGS))
    first = plan.wares[0].model_copy(update={"wanted": draw(st.integers(1, 30))})
    second = first.model_copy(update={"code": "TWO", "wanted": draw(st.integers(1, 9))})
    wares = (first, second) if draw(st.booleans()) else (first,)
    return plan.model_copy(update={"wares": wares, "firings": plan.firings if draw(st.booleans()) else ()})


@settings(deadline=None)
@given(working_plans(), NEAR)
def test_what_is_ready_in_time_was_begun_in_time(plan: Plan, today: date) -> None:
    """Forwards and backwards are one law: done before the sale just where begun by the last day to begin."""
    days = days_of(plan, today)
    if days.begin_by is not None:
        assert (days.earliest[-1].last < days.sale_day) == (today <= days.begin_by)
        assert days.is_too_late == (days.instead is not None)


@settings(deadline=None)
@given(working_plans(), NEAR)
def test_tasks_follow_each_other_and_no_work_falls_on_a_free_day(plan: Plan, today: date) -> None:
    days = days_of(plan, today)
    for tasks in (days.latest, days.earliest):
        assert [task for task in tasks if task.first > task.last] == []
        assert [two for one, two in pairwise(tasks) if one.last >= two.first] == []
        worked = [day for task in tasks if task.kind != "dry" for day in (task.first, task.last, *task.lit)]
        assert set(worked) & set(plan.making.free_days) == set()
    if days.latest:
        assert days.latest[-1].last < days.sale_day
        assert days.earliest[0].first >= today


@at_most(25)
@given(working_plans(), NEAR)
def test_what_would_fit_does_fit(plan: Plan, today: date) -> None:
    days = days_of(plan, today)
    if days.instead and days.instead.wanted:
        fewer = tuple(
            ware.model_copy(update={"wanted": days.instead.wanted[ware.code]})
            for ware in plan.wares
            if ware.code in days.instead.wanted
        )
        assert not days_of(plan.model_copy(update={"wares": fewer}), today).is_too_late


@settings(deadline=None)
@given(working_plans(), NEAR)
def test_each_piece_is_thrown_once_in_the_order_of_the_wares(plan: Plan, today: date) -> None:
    days, studio = days_of(plan, today), plan_studio(plan)
    for tasks in (days.latest, days.earliest):
        throws = tasks[0].throws if tasks else ()
        thrown = {
            code: sum(each.pieces for each in group)
            for code, group in groupby(throws, lambda each: each.code)
        }
        assert thrown == {run.ware.code: run.started for run in studio.runs if run.started}
        assert [(throws[0].day, throws[-1].day)] == [(tasks[0].first, tasks[0].last)] if throws else not tasks
        assert all(one.day < other.day for one, other in pairwise(throws))
        assert all(each.pieces <= plan.making.batch for each in throws)


def test_bats_split_a_batch_over_days() -> None:
    """Five pieces in batches of three, on two bats that are free again on the day after."""
    plan = five_pieces(batch=3, bats=2)
    assert [(each.day, each.pieces) for each in days_of(plan, june(-20)).earliest[0].throws] == [
        (june(-20), 2),
        (june(-19), 1),
        (june(-18), 2),
    ]
