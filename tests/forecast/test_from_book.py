"""Where a sale stands by its workbook."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.event.entries import Entries, Line, PieceEntry
from salebook.event.event import Event, reckon_event
from salebook.event.offers import offers_of
from salebook.forecast.figures import figures_of
from salebook.forecast.from_book import standing_from_book
from salebook.forecast.standing import GoodCount, Standing, planned_standing, state_at
from salebook.forecast.studio_ahead import studio_ahead
from salebook.making.studio_tally import StudioCount
from salebook.plan.model import OtherIncome, Plan
from salebook.pricing.fees import expected_fee
from salebook.pricing.ladder import CHANGES, prices_at
from salebook.reckoning import Reckoning, reckon
from tests.support.entry_strategies import entries
from tests.support.plan_strategies import plans
from tests.support.small_event import FIRST, FIRST_DAY, SECOND, after, line, messy_lines, sale

WEEKS_BEFORE = datetime(2027, 3, 1, 12)
SATURDAY_EVENING = datetime(2027, 6, 19, 22)
BAG = Decimal(1) / 3
"""What each piece sold costs: a bag."""


def stands(event: Event, now: datetime = SATURDAY_EVENING, of: Reckoning | None = None) -> Standing:
    reckoning = of or sale()
    return standing_from_book(reckoning, event, now, studio_ahead(reckoning, event.entries, now.date()))


def counted(event: Event, code: str = "MAY", now: datetime = SATURDAY_EVENING) -> Sequence[GoodCount]:
    return [count for (of, _grade), count in stands(event, now).counts.items() if of == code]


@given(plans())
def test_an_empty_book_says_what_the_plan_says(plan: Plan) -> None:
    reckoning = reckon(plan)
    now = datetime.combine(plan.sale.days[0], datetime.min.time())
    empty = stands(reckon_event(reckoning, Entries()), now, of=reckoning)
    assert state_at(planned_standing(reckoning)) == state_at(empty)
    figures, target = figures_of(state_at(empty)), reckoning.advice.target
    assert float(figures.expected_more_sold) == pytest.approx(float(target.expected_sold), abs=1e-9)
    assert float(figures.expected_net) == pytest.approx(float(target.expected_net), abs=1e-9)
    assert figures.chance == pytest.approx(target.chance, abs=1e-9)


@given(plans(), st.sampled_from(CHANGES))
def test_an_empty_book_says_of_other_prices_what_the_plans_ladder_says(plan: Plan, change: int) -> None:
    reckoning = reckon(plan)
    rung = reckoning.advice.ladder[CHANGES.index(change)]
    figures = figures_of(state_at(planned_standing(reckoning), prices_at(plan, change)))
    assert float(figures.expected_net) == pytest.approx(float(rung.expected_net), abs=1e-9)
    assert figures.chance == pytest.approx(rung.chance, abs=1e-9)


@given(messy_lines(), st.randoms(use_true_random=False))
def test_the_order_in_which_lines_stand_changes_nothing(lines: tuple[Line, ...], random: Random) -> None:
    shuffled = list(lines)
    random.shuffle(shuffled)
    one, other = (
        state_at(stands(reckon_event(sale(), Entries(lines=tuple(of))))) for of in (lines, shuffled)
    )
    assert one == other


@given(st.data())
def test_whatever_is_filled_in_gives_figures(data: st.DataObject) -> None:
    plan = data.draw(plans())
    reckoning = reckon(plan)
    filled = data.draw(entries(plan, unread=True))
    day = data.draw(st.sampled_from([*plan.sale.days, date(2020, 1, 1), date(2090, 1, 1)]))
    now = datetime.combine(day, datetime.min.time()).replace(hour=data.draw(st.integers(0, 23)))
    standing = stands(reckon_event(reckoning, filled), now, of=reckoning)
    for count in standing.counts.values():
        assert count.offered >= count.gone + count.sold + count.held
    figures = figures_of(state_at(standing))
    assert figures.expected_net.is_finite()
    assert figures.expected_more_sold >= 0
    assert 0 <= figures.chance <= 1


def test_what_is_sold_held_and_gone_is_counted_by_grade() -> None:
    event = after(
        line(1, piece=FIRST),
        line(2, "deposit", piece="MAY-002", amount="5"),
        line(3, piece=SECOND),
        pieces={"MAY-003": PieceEntry(mishap="broken"), "MAY-004": PieceEntry(grade="second")},
    )
    firsts, seconds = counted(event)
    assert firsts == GoodCount(offered=3, sold=1, held=1, gone=1)
    assert seconds == GoodCount(offered=2, sold=1)


def test_pieces_counted_out_of_the_kiln_are_those_offered() -> None:
    firsts, *seconds = counted(after(made={"MAY": 3}))
    assert (firsts, seconds) == (GoodCount(offered=3), [])


def test_a_piece_sold_that_never_came_out_of_the_kiln_was_there_all_the_same() -> None:
    firsts, *_seconds = counted(after(line(1, piece="MAY-004"), made={"MAY": 2}))
    assert firsts == GoodCount(offered=3, sold=1)


def test_of_a_ware_without_numbers_as_many_are_sold_as_were_typed() -> None:
    (dots,) = counted(after(line(1, piece="DOT", count=4, amount="6")), "DOT")
    assert dots == GoodCount(offered=30, sold=4)


def test_before_the_sale_what_is_in_the_studio_comes_with_its_chance() -> None:
    tally = StudioCount(thrown=5, biscuit=3, good=1, seconds=1)
    event = after(studio={"MAY": tally})
    firsts, seconds = counted(event, now=WEEKS_BEFORE)
    wet, biscuit, *still_to_throw = firsts.on_the_way
    assert (firsts.offered, seconds.offered) == (1, 1)
    assert (wet, biscuit) == ((2, Decimal("0.8")), (1, Decimal("0.8")))
    assert still_to_throw == [(2, Decimal("0.8"))]


def test_what_is_still_to_throw_comes_as_the_losses_seen_so_far_say() -> None:
    tally = StudioCount(thrown=20, biscuit=20, good=1, seconds=2, broken=17)
    firsts, _seconds = counted(after(studio={"MAY": tally}), now=WEEKS_BEFORE)
    ((_more, share),) = firsts.on_the_way
    assert share == Decimal("0.05")  # 1 of 20: the plan loses none in throwing


def test_of_counted_wares_there_is_what_the_price_advice_goes_by() -> None:
    event = after(
        studio={"MAY": StudioCount(thrown=5, good=3, seconds=1), "DOT": StudioCount(good=25)},
        pieces={FIRST: PieceEntry(grade="second"), SECOND: PieceEntry(mishap="broken")},
    )
    for code, offer in offers_of(sale(), event).items():
        firsts, *seconds = counted(event, code)
        there = firsts.offered - firsts.gone, sum(count.offered - count.gone for count in seconds)
        assert there == (offer.firsts, offer.seconds), code


def test_in_the_sale_nothing_comes_from_the_studio_any_more() -> None:
    tally = StudioCount(thrown=5, biscuit=3, good=1, seconds=1)
    firsts, _seconds = counted(after(studio={"MAY": tally}))
    assert (firsts.offered, firsts.on_the_way) == (1, ())


def test_a_count_out_of_the_kiln_overrules_the_tally() -> None:
    firsts, *_seconds = counted(
        after(studio={"MAY": StudioCount(thrown=5)}, made={"MAY": 4}), now=WEEKS_BEFORE
    )
    assert firsts == GoodCount(offered=4)


def test_nothing_in_the_book_leaves_the_costs_to_earn_back() -> None:
    assert stands(after()).reached == Decimal("-3.50")


def fee_on(amount: str) -> Decimal:
    return expected_fee(Decimal(amount), sale().plan)


@pytest.mark.parametrize(
    ("event", "brings"),
    [
        pytest.param(
            after(pieces={FIRST: PieceEntry(reserved_for="3")}), 28 - fee_on("28") - BAG, id="reserved"
        ),
        pytest.param(
            after(line(1, "deposit", piece=FIRST, amount="8")), 20 - fee_on("20") - BAG, id="deposit"
        ),
        pytest.param(after(line(1, "deposit", piece=FIRST, amount="28")), -BAG, id="paid in full ahead"),
        pytest.param(
            after(pieces={"D1-001": PieceEntry(reserved_for="3")}),
            Decimal("14.50") * Decimal("0.75") - fee_on("14.50") - BAG,
            id="of which a part goes back to the giver",
        ),
        pytest.param(
            after(line(1, "order", piece="MAY", count=2, amount="10", claim="7")),
            46 - fee_on("46") - 2 * BAG,
            id="two ordered, ten paid",
        ),
        pytest.param(
            after(
                line(1, "order", piece="MAY", count=2, amount="10", claim="7"),
                pieces={FIRST: PieceEntry(reserved_for="7")},
            ),
            46 - fee_on("46") - 2 * BAG,
            id="two ordered, ten paid, one put aside",
        ),
        pytest.param(after(line(1, piece=FIRST, waiting=True)), Decimal(28), id="sold, money not there yet"),
        pytest.param(after(line(1, piece=FIRST)), Decimal(0), id="sold and paid"),
    ],
)
def test_what_is_promised_brings_what_is_left_to_pay(event: Event, brings: Decimal) -> None:
    assert float(stands(event).held_brings) == pytest.approx(float(brings))


def test_a_cost_for_each_sold_that_was_filled_in_is_not_met_again() -> None:
    costs = {"material: bags": Decimal(12)}
    (planned, *_others), (met, *_rest) = (
        state_at(stands(event)).goods for event in (after(), after(actual_costs=costs))
    )
    assert float(met.brings_then - planned.brings_then) == pytest.approx(float(BAG))


def test_half_of_the_other_income_is_still_to_come_by_half_time() -> None:
    raffle = OtherIncome(name="raffle", expected=Decimal(60))
    reckoning = reckon(sale().plan.model_copy(update={"other_income": (raffle,)}))
    event = reckon_event(reckoning, Entries())
    assert state_at(stands(event, of=reckoning)).other_left == 30


def test_a_second_without_a_price_of_its_own_costs_as_much_as_a_first() -> None:
    plan = sale().plan
    wares = tuple(ware.model_copy(update={"seconds_price": None}) for ware in plan.wares)
    reckoning = reckon(plan.model_copy(update={"wares": wares}))
    event = reckon_event(reckoning, Entries(pieces={FIRST: PieceEntry(grade="second")}))
    state = state_at(stands(event, of=reckoning), prices_at(reckoning.plan, 50))
    first, second, *_others = state.goods
    assert [first.grade, first.offered, second.grade, second.offered] == ["first", 3, "second", 1]
    assert first.price_then == second.price_then == 42


def test_lines_of_the_first_day_count_from_its_evening_on() -> None:
    event = after(replace(line(1, piece=FIRST), day=FIRST_DAY))
    assert stands(event).over == Decimal("0.5")
