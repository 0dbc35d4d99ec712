"""The chance by a spreadsheet's means against the exact one."""

import os
import random
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

import pytest

from salebook.forecast.live_chance import FEW, WITHIN, LiveChance, Pieces
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


def sale_by_chance(rng: random.Random, *, fewest: int = FEW) -> LiveChance:
    """Draw a sale: up to 5 kinds of piece, some at round prices, on up to 4 kinds of day."""
    count, days = rng.randint(fewest, MOST), rng.randint(1, 4)
    cuts = sorted(rng.randint(0, count) for _ in range(rng.randint(0, 4)))
    factors = [rng.uniform(0.5, 1.3) for _ in range(days)]
    pieces = tuple(
        Pieces(
            left=upper - lower,
            brings=rng.choice((round(rng.uniform(5, 80), 2), rng.choice((18.5, 40.25)))),
            sells=tuple(min(1.0, share * factor) for factor in factors),
        )
        for lower, upper in zip([0, *cuts], [*cuts, count], strict=True)
        for share in [rng.uniform(0.2, 1)]
    )
    needed = sum(one.left * one.brings for one in pieces) * rng.uniform(0.05, 0.98)
    weights = tuple(float(rng.randint(1, 4)) for _ in factors)
    return LiveChance(pieces=pieces, needed=needed, weights=weights)


def distances(count: int, seed: int) -> Iterator[tuple[float, LiveChance]]:
    rng = random.Random(seed)  # noqa: S311  (nothing secret)
    for sale in (sale_by_chance(rng) for _ in range(count)):
        yield abs(sale.chance - exact(sale)), sale


def assert_near(count: int, seed: int) -> None:
    """Where nearly all pieces bring the same, and a few another sum, it is now and then further off."""
    off = [distance for distance, _sale in distances(count, seed)]
    further = sum(one > WITHIN for one in off)
    assert (seed, further <= 2 + count / 1_000, max(off) < 0.12) == (seed, True, True)


@pytest.mark.parametrize("count", [QUICK, pytest.param(SALES, marks=pytest.mark.slow)])
def test_the_curve_is_near_the_exact_chance_from_20_pieces_on(count: int) -> None:
    assert_near(count, seed=7)


@pytest.mark.long
def test_the_curve_is_near_the_exact_chance_of_many_fresh_sales() -> None:
    assert_near(
        MANY_SALES, seed=int(os.environ.get("SALEBOOK_SEED") or random.SystemRandom().randrange(10**9))
    )


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
    "several kinds, enough of them": ((10, 20.0, 0.5), (10, 31.0, 0.5), False),
    "few of one kind": ((10, 20.0, 0.5), (9, 20.0, 0.5), False),
    "few, as all others surely sell": ((30, 20.0, 1.0), (9, 20.0, 0.5), False),
    "nothing left to sell": ((0, 20.0, 0.5), (0, 31.0, 0.5), False),
}


@pytest.mark.parametrize("case", ROUGH)
def test_it_is_rough_for_few_pieces_of_several_kinds(case: str) -> None:
    *lots, is_rough = ROUGH[case]
    pieces = tuple(Pieces(left=left, brings=brings, sells=(sells,)) for left, brings, sells in lots)
    needed = 0.6 * sum(one.left * one.brings for one in pieces)
    assert LiveChance(pieces=pieces, needed=needed, weights=(1.0,)).is_rough is is_rough


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
