"""The chance by a spreadsheet's means against the exact one."""

import os
import random
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest

from salebook.forecast.live_chance import FEW, WITHIN, DayChance, LiveChance, Pieces
from salebook.pricing.chance import TOLERANCE, Lot, chance_of_reaching

SALES, MANY_SALES, QUICK = 2_000, 20_000, 100
MOST = 150
"""Pieces of a random sale."""


def exact(sale: LiveChance) -> float:
    needed = Decimal(repr(sale.needed)) + TOLERANCE
    chances = [
        weight
        * chance_of_reaching(
            [Lot(each=Decimal(repr(p.brings)), count=p.left, share=p.sells[day]) for p in sale.pieces], needed
        )
        for day, weight in enumerate(sale.weights)
    ]
    return sum(chances) / sum(sale.weights)


Draw = Callable[[random.Random], float]


def odd(rng: random.Random) -> float:
    return rng.choice((round(rng.uniform(5, 80), 2), rng.choice((18.5, 40.25))))


def round_sum(rng: random.Random) -> float:
    return 0.5 * rng.randint(10, 120) if rng.random() < 0.5 else 5.0 * rng.randint(1, 12)


def sale_by_chance(rng: random.Random, brings: Draw, *, fewest: int) -> LiveChance:
    """Draw a sale: up to 5 kinds of piece, some of which bring the same, on up to 4 kinds of day."""
    count, days = rng.randint(fewest, MOST), rng.randint(1, 4)
    cuts = sorted(rng.randint(0, count) for _ in range(rng.randint(0, 4)))
    factors = [rng.uniform(0.5, 1.3) for _ in range(days)]
    pieces = tuple(
        Pieces(
            left=upper - lower,
            brings=brings(rng),
            sells=tuple(min(1.0, share * factor) for factor in factors),
        )
        for lower, upper in zip([0, *cuts], [*cuts, count], strict=True)
        for share in [rng.uniform(0.2, 1)]
    )
    needed = sum(one.left * one.brings for one in pieces) * rng.uniform(0.05, 0.98)
    weights = tuple(float(rng.randint(1, 4)) for _ in factors)
    return LiveChance(pieces=pieces, needed=round(needed, 1) - 1e-6, weights=weights)


def assert_near_or_said(count: int, seed: int, brings: Draw, *, fewest: int, rough: float) -> None:
    """It is as near as it says, without an exception, and says so of all but a few sales."""
    rng = random.Random(seed)  # noqa: S311  (nothing secret)
    sales = [sale_by_chance(rng, brings, fewest=fewest) for _ in range(count)]
    said = [sale for sale in sales if not sale.is_rough]
    further = [(sale.chance, sale) for sale in said if abs(sale.chance - exact(sale)) > WITHIN]
    assert (seed, further) == (seed, [])
    assert len(said) >= count * (1 - rough) - 2


KINDS = pytest.mark.parametrize("brings", [odd, round_sum])


@KINDS
@pytest.mark.parametrize("count", [QUICK, pytest.param(SALES, marks=pytest.mark.slow)])
def test_from_20_pieces_on_the_curve_is_near_the_exact_chance_or_says_that_it_is_rough(
    count: int, brings: Draw
) -> None:
    assert_near_or_said(count, 7, brings, fewest=FEW, rough=0.08)


@KINDS
@pytest.mark.parametrize("count", [QUICK, pytest.param(SALES, marks=pytest.mark.slow)])
def test_so_it_is_with_fewer_pieces(count: int, brings: Draw) -> None:
    assert_near_or_said(count, 8, brings, fewest=1, rough=0.25)


@KINDS
@pytest.mark.long
def test_so_it_is_in_many_fresh_sales(brings: Draw) -> None:
    seed = int(os.environ.get("SALEBOOK_SEED") or random.SystemRandom().randrange(10**9))
    assert_near_or_said(MANY_SALES, seed, brings, fewest=FEW, rough=0.08)


def of_mugs(count: int, needed: float, *shares: float) -> LiveChance:
    mugs = Pieces(left=count, brings=16.5, sells=shares)
    return LiveChance(pieces=(mugs,), needed=needed, weights=(1.0, 2.0, 1.0)[: len(shares)])


@pytest.mark.parametrize("count", [1, 7, 40, 500])
def test_one_kind_of_piece_has_its_exact_chance(count: int) -> None:
    for needed in range(-1, count + 2):
        sale = of_mugs(count, 16.5 * needed - 1e-6, 0.6, 0.85, 1.0)
        assert sale.chance == pytest.approx(exact(sale), abs=1e-9)
        assert not sale.is_rough


def test_the_worked_example_comes_out() -> None:
    """40 pieces, 28 needed: worked by hand from the binomial law."""
    sale = of_mugs(40, 16.5 * 28 - 1e-6, 0.85 * 0.75, 0.85, 0.85 * 1.12)
    assert sale.chance == pytest.approx(0.812447, abs=1e-6)


@pytest.mark.parametrize("left", [(3, 2, 0), (13, 0, 6)])
def test_goods_that_bring_and_sell_alike_are_one_good(left: tuple[int, ...]) -> None:
    parts = tuple(Pieces(left=one, brings=9.99, sells=(0.7,)) for one in left)
    split = LiveChance(pieces=parts, needed=9.99 * 4, weights=(1.0,))
    whole = replace(split, pieces=(replace(parts[0], left=sum(left)),))
    assert split.chance == pytest.approx(whole.chance, abs=1e-12)


ROUGH = {
    "several kinds, few of them": ((10, 20.0, 0.5), (9, 31.0, 0.5), True),
    "several kinds, enough of them": ((60, 20.0, 0.5), (60, 31.0, 0.5), False),
    "several kinds, of which few may fail": ((60, 20.0, 0.95), (60, 31.0, 0.95), True),
    "few of one kind": ((10, 20.0, 0.5), (9, 20.0, 0.5), False),
    "few that bring the same, some of which sell better": ((10, 20.0, 0.5), (9, 20.0, 0.9), True),
    "few, as all others surely sell": ((30, 20.0, 1.0), (9, 20.0, 0.5), False),
    "nothing left to sell": ((0, 20.0, 0.5), (0, 31.0, 0.5), False),
}


@pytest.mark.parametrize("case", ROUGH)
def test_it_is_rough_where_few_pieces_decide(case: str) -> None:
    *lots, is_rough = ROUGH[case]
    pieces = tuple(Pieces(left=left, brings=brings, sells=(sells,)) for left, brings, sells in lots)
    aim = sum(one.left * one.brings * one.sells[0] for one in pieces)
    assert LiveChance(pieces=pieces, needed=aim, weights=(1.0,)).is_rough is is_rough


BOUNDS = {
    "what all together do not bring": (200.01, 0.0),
    "nothing": (0.0, 1.0),
    "less than nothing": (-5.0, 1.0),
}


@pytest.mark.parametrize("case", BOUNDS)
def test_what_is_certain_has_a_chance_of_0_or_1(case: str) -> None:
    needed, chance = BOUNDS[case]
    pieces = tuple(Pieces(left=5, brings=brings, sells=(0.5, 0.9)) for brings in (10.0, 30.0))
    assert LiveChance(pieces=pieces, needed=needed, weights=(1.0, 1.0)).chance == chance


def test_pieces_that_cost_more_than_they_fetch_can_undo_the_target() -> None:
    pieces = (Pieces(left=30, brings=10, sells=(0.8,)), Pieces(left=20, brings=-4, sells=(0.5,)))
    sale = LiveChance(pieces=pieces, needed=190, weights=(1.0,))
    assert sale.chance == pytest.approx(exact(sale), abs=WITHIN)


def three_kinds() -> LiveChance:
    return LiveChance(
        pieces=(
            Pieces(left=2, brings=10, sells=(0.5, 1.0)),
            Pieces(left=3, brings=20, sells=(0.2, 0.4)),
            Pieces(left=4, brings=-1, sells=(0.0, 0.5)),
        ),
        needed=30,
        weights=(1, 3),
    )


WORKED: tuple[dict[str, float], ...] = (
    # Nobody buys the third kind; 2 x 0.25 x 100 + 3 x 0.16 x 400 = 242, 3 x 0.096 x 8000 = 2304.
    {
        **{"open": 5, "to_go": 30, "sells": 0.32, "mixed": 0.0216, "mean": 16, "uneven": 24},
        **{"count_needed": 0, "aim": 30, "expected": 22, "lowest": 0, "highest": 80},
        **{"spread": 242**0.5, "skewness": 2304 / 242**1.5, "lump": 4340 / 242**1.5, "away": 8 / 242**0.5},
    },
    # The first two surely sell for 20; 3 x 0.24 x 400 + 4 x 0.25 = 289, 3 x 0.048 x 8000 = 1152.
    {
        **{"open": 7, "to_go": 10, "sells": 3.2 / 7, "mean": 8, "uneven": 108},
        **{"count_needed": 0, "aim": 10, "expected": 22, "lowest": -4, "highest": 60},
        **{"spread": 17, "skewness": 1152 / 17**3, "lump": 5761 / 17**3, "away": -12 / 17},
    },
)


@pytest.mark.parametrize("day", [0, 1])
def test_each_step_of_the_curve_comes_out_as_by_hand(day: int) -> None:
    found = three_kinds().days[day]
    assert {key: getattr(found, key) for key in WORKED[day]} == pytest.approx(WORKED[day])


def test_the_curve_is_the_normal_one_with_its_skewness_and_half_a_piece_off() -> None:
    """Phi(-0.51426) = 0.30354, phi = 0.34953; the skewness takes 0.612011 x 0.735537 x phi / 6 off."""
    sale = three_kinds()
    day = sale.days[0]
    assert day.height == pytest.approx(0.349529, abs=1e-6)
    assert day.off == pytest.approx(0.349529 * 1.152834 / 2, abs=1e-6)
    assert day.chance == pytest.approx(0.303536 - 0.612011 * 0.735537 * 0.349529 / 6, abs=1e-5)
    assert sale.chance == pytest.approx((day.chance + 3 * sale.days[1].chance) / 4)


@pytest.mark.parametrize(
    ("needed", "count", "aim"), [(35, 4, 35), (30, 3, 25), (30 + 1e-9, 3, 25), (-5, 0, -5), (1, 1, 5)]
)
def test_of_pieces_that_bring_the_same_whole_ones_count(needed: float, count: int, aim: float) -> None:
    pieces = tuple(Pieces(left=left, brings=10, sells=(0.5,)) for left in (2, 3))
    (day,) = LiveChance(pieces=pieces, needed=needed, weights=(1,)).days
    assert day.count_needed == count
    assert day.aim == pytest.approx(aim)


@pytest.mark.parametrize(("many", "is_few"), [(9, True), (10, False)])
def test_from_twenty_pieces_on_they_are_not_few(many: int, is_few: bool) -> None:
    pieces = (Pieces(left=10, brings=20, sells=(0.5,)), Pieces(left=many, brings=31, sells=(0.5,)))
    (day,) = LiveChance(pieces=pieces, needed=250, weights=(1,)).days
    assert day.is_few is is_few


@pytest.mark.parametrize(
    ("needed", "is_few", "is_open"),
    [(0, False, False), (0.01, True, True), (40, True, True), (40.01, False, False)],
)
def test_pieces_decide_from_the_least_to_the_most_that_they_can_bring(
    needed: float, is_few: bool, is_open: bool
) -> None:
    pieces = (Pieces(left=1, brings=10, sells=(0.5,)), Pieces(left=1, brings=30, sells=(0.6,)))
    (day,) = LiveChance(pieces=pieces, needed=needed, weights=(1,)).days
    assert (day.is_few, 0 < day.off, 0 < day.chance < 1) == (is_few, is_open, is_open)


def one_day(*pieces: Pieces, needed: float) -> DayChance:
    (day,) = LiveChance(pieces=pieces, needed=needed, weights=(1,)).days
    return day


def test_where_nothing_is_left_everything_is_nothing() -> None:
    day = one_day(Pieces(left=0, brings=10, sells=(0.5,)), needed=5)
    nothing = (day.sells, day.mixed, day.mean, day.uneven, day.expected, day.spread, day.skewness)
    assert [*nothing, day.lump, day.away, day.off, day.lowest, day.highest, day.chance] == [0] * 13


def test_the_least_and_the_most_count_what_costs_and_what_brings_however_little() -> None:
    brings = (-3, -0.5, 0.5, 4)
    day = one_day(*(Pieces(left=2, brings=one, sells=(0.5,)) for one in brings), needed=1)
    assert (day.lowest, day.highest) == (-7, 9)


@pytest.mark.parametrize(("brings", "needed", "count"), [(0.5, 1, 2), (-0.5, -1, 0)])
def test_pieces_count_where_each_brings_something_however_little(
    brings: float, needed: float, count: int
) -> None:
    assert one_day(Pieces(left=4, brings=brings, sells=(0.5,)), needed=needed).count_needed == count


def test_one_kind_of_day_with_few_pieces_makes_it_rough() -> None:
    pieces = tuple(Pieces(left=4, brings=brings, sells=(1.0, 0.5)) for brings in (20, 31))
    sale = LiveChance(pieces=pieces, needed=100, weights=(1, 1))
    assert ([day.is_few for day in sale.days], sale.is_rough) == ([False, True], True)


@pytest.mark.parametrize(("share", "needed", "chance"), [(0.95, 2, 1.0), (0.05, 190, 0.0)])
def test_a_lopsided_curve_stays_between_0_and_1(share: float, needed: float, chance: float) -> None:
    day = one_day(*(Pieces(left=5, brings=brings, sells=(share,)) for brings in (10, 29)), needed=needed)
    assert day.chance == pytest.approx(chance, abs=1e-4)
    assert 0 <= day.chance <= 1
