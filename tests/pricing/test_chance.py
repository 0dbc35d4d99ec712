from collections.abc import Sequence
from decimal import Decimal
from functools import cache
from itertools import product
from time import process_time

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.signal import fftconvolve
from scipy.stats import binom

from salebook.pricing.chance import Lot, binomial, chance_of_reaching

RIGHT = 0.002

ONE_WARE = [Lot(each=Decimal("27.35"), count=40, share=0.85)]
SEVERAL_WARES = [
    Lot(each=Decimal("17.42"), count=24, share=0.85),
    Lot(each=Decimal("25.23"), count=20, share=0.8),
    Lot(each=Decimal("14.46"), count=2, share=0.8),
    Lot(each=Decimal("10.02"), count=5, share=0.9),
]
ONE_THAT_COSTS = [
    Lot(each=Decimal("12.5"), count=60, share=0.4),
    Lot(each=Decimal("-3.25"), count=30, share=0.7),
]
A_THOUSAND = [Lot(each=Decimal("11.05"), count=1000, share=0.62)]
TWELVE_WARES = [Lot(each=Decimal(2100 + 137 * n) / 100, count=100, share=0.5 + 0.04 * n) for n in range(12)]
MANY_KINDS = [Lot(each=Decimal(1000 + 71 * n) / 100, count=9, share=0.95 - 0.04 * n) for n in range(16)]
AT_A_LOSS_TOO = [
    *TWELVE_WARES[:6],
    *(Lot(each=Decimal(-107 - n) / 100, count=90, share=0.5) for n in range(4)),
]
A_DEAR_ONE = [
    *(Lot(each=Decimal(937 + 41 * n) / 100, count=20, share=0.5) for n in range(6)),
    Lot(each=Decimal("2000.37"), count=1, share=0.95),
]
DEAR = [Lot(each=lot.each * 211, count=lot.count, share=lot.share) for lot in TWELVE_WARES]

CASES = {
    "one ware": ONE_WARE,
    "several wares": SEVERAL_WARES,
    "a piece that costs more than it brings": ONE_THAT_COSTS,
    "a thousand pieces": A_THOUSAND,
    "twelve wares of a hundred": TWELVE_WARES,
    "sixteen small kinds": MANY_KINDS,
    "ten kinds, four of them at a loss": AT_A_LOSS_TOO,
    "one dear piece that all but surely sells": A_DEAR_ONE,
}


@cache
def pennies_of(name: str) -> tuple[int, NDArray[np.float64]]:
    """Add the lots up penny by penny: every sum of whole pennies has its own place."""
    pennies, least = np.ones(1), 0
    for lot in CASES[name]:
        each = int(lot.each * 100)
        one = np.zeros(abs(each) * lot.count + 1)
        chances = binom.pmf(np.arange(lot.count + 1), lot.count, lot.share)
        one[:: abs(each)] = chances if each > 0 else chances[::-1]
        least += min(0, each * lot.count)
        pennies = np.asarray(fftconvolve(pennies, one))
    return least, pennies


def by_scipy(name: str, amount: Decimal) -> float:
    least, pennies = pennies_of(name)
    return float(pennies[max(0, int(amount * 100) - least) :].sum())


def mean(lots: Sequence[Lot]) -> float:
    return sum(float(lot.each) * lot.count * lot.share for lot in lots)


@pytest.mark.slow
@pytest.mark.parametrize("part", [0.85, 0.95, 0.99, 1.0, 1.01, 1.05, 1.2])
@pytest.mark.parametrize("name", CASES)
def test_the_chance_agrees_with_sums_added_up_penny_by_penny(name: str, part: float) -> None:
    amount = Decimal(round(mean(CASES[name]) * part))

    assert by_scipy(name, amount) == pytest.approx(chance_of_reaching(CASES[name], amount), abs=RIGHT)


@pytest.mark.parametrize("step", range(-3, 4))
def test_on_one_ware_the_chance_is_the_binomial_tail_itself(step: int) -> None:
    needed = 620 + step * 10
    amount = Decimal("11.05") * needed

    assert float(binom.sf(needed - 1, 1000, 0.62)) == pytest.approx(
        chance_of_reaching(A_THOUSAND, amount), abs=1e-8
    )


def test_amounts_that_no_coin_divides_are_still_within_the_bound() -> None:
    thirds = [Lot(each=Decimal(100 + n) / 3, count=30, share=0.6) for n in range(9)]
    draws = np.random.default_rng(20270612).binomial(30, 0.6, size=(400_000, 9))
    brought = draws @ np.array([float(lot.each) for lot in thirds])
    amount = Decimal(5700)

    # 400 000 draws leave a standard error of 0.0008.
    assert float((brought >= 5700).mean()) == pytest.approx(chance_of_reaching(thirds, amount), abs=0.004)


def test_sums_a_hair_apart_at_the_target_are_told_apart() -> None:
    """Kinds that bring all but the same crowd round the target; a coarse grid would lump them together."""
    hairs = [Lot(each=10 + Decimal(n) / 100_000, count=12, share=0.5) for n in range(1, 9)]
    never_below = chance_of_reaching(hairs, Decimal(480))

    assert float(binom.sf(47, 96, 0.5)) == pytest.approx(never_below, abs=RIGHT)


@pytest.mark.parametrize("part", ["0.99", "1", "1.01"])
def test_the_unit_of_currency_makes_no_difference(part: str) -> None:
    amount = Decimal(round(mean(TWELVE_WARES))) * Decimal(part)

    assert chance_of_reaching(TWELVE_WARES, amount) == pytest.approx(
        chance_of_reaching(DEAR, amount * 211), abs=RIGHT
    )


@pytest.mark.parametrize("away", [-20_000, 20_000])
def test_far_from_what_is_likely_the_chance_is_all_or_nothing(away: int) -> None:
    assert float(away < 0) == chance_of_reaching(TWELVE_WARES, Decimal(round(mean(TWELVE_WARES)) + away))


@pytest.mark.parametrize(
    ("amount", "chance"), [("-5", 1.0), ("0", 1.0), ("250.0000005", 1.0), ("250.01", 0.0), ("1e15", 0.0)]
)
def test_sure_things_are_sure(amount: str, chance: float) -> None:
    sure = [Lot(each=Decimal(25), count=10, share=1.0), Lot(each=Decimal(9), count=4, share=0.0)]

    assert chance == chance_of_reaching(sure, Decimal(amount))


def test_with_nothing_for_sale_only_nothing_is_reached() -> None:
    assert [chance_of_reaching([], Decimal(0)), chance_of_reaching([], Decimal(1))] == [1.0, 0.0]


@pytest.mark.parametrize(
    ("count", "share"), [(1, 0.5), (24, 0.85), (1000, 0.01), (10_000, 0.999), (7, 1e-12)]
)
def test_the_numbers_sold_are_binomial(count: int, share: float) -> None:
    first, chances = binomial(count, share)
    sold = np.arange(first, first + len(chances))

    assert binom.pmf(sold, count, share) == pytest.approx(np.array(chances), rel=1e-6, abs=1e-9)


lots = st.lists(
    st.builds(
        Lot,
        each=st.decimals(min_value=-5, max_value=60, places=3),
        count=st.integers(0, 12),
        share=st.floats(0, 1),
    ),
    max_size=4,
)


@given(lots=lots, amount=st.decimals(-200, 2000, places=2), more=st.decimals(0, 500, places=2))
def test_the_chance_lies_within_0_and_1_and_a_higher_target_is_never_likelier(
    lots: list[Lot], amount: Decimal, more: Decimal
) -> None:
    chance, less = chance_of_reaching(lots, amount), chance_of_reaching(lots, amount + more)

    assert 0 <= less <= chance + 1e-12
    assert chance <= 1


@given(lots=st.lists(lots.flatmap(lambda few: st.sampled_from(few) if few else st.nothing()), max_size=3))
def test_the_chance_is_the_sum_over_every_way_that_the_pieces_may_sell(lots: list[Lot]) -> None:
    amount = Decimal(100)
    ways = product(*(range(lot.count + 1) for lot in lots))
    expected = sum(
        float(np.prod([binom.pmf(sold, lot.count, lot.share) for sold, lot in zip(way, lots, strict=True)]))
        for way in ways
        if sum((sold * lot.each for sold, lot in zip(way, lots, strict=True)), Decimal(0)) >= amount
    )

    assert expected == pytest.approx(chance_of_reaching(lots, amount), abs=1e-7)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["twelve wares of a hundred", "a thousand pieces"])
def test_a_whole_ladder_over_three_kinds_of_day_takes_under_a_second(name: str) -> None:
    middle = mean(CASES[name])

    def seconds_taken() -> float:
        began = process_time()
        for rung in range(19 * 3):
            chance_of_reaching(CASES[name], Decimal(middle * (0.9 + 0.01 * (rung % 20))))
        return process_time() - began

    assert min(seconds_taken() for _attempt in range(3)) < 1


def test_lots_that_bring_the_same_are_as_one() -> None:
    apart = [Lot(each=Decimal(28), count=3, share=0.5), Lot(each=Decimal(28), count=4, share=0.5)]
    # of seven pieces at least four: (35 + 21 + 7 + 1) / 128
    assert chance_of_reaching(apart, Decimal(112)) == pytest.approx(0.5, abs=1e-12)
    assert chance_of_reaching(apart, Decimal(168)) == pytest.approx(8 / 128, abs=1e-12)


@pytest.mark.parametrize("share", [0.5, 1.0])
def test_a_millionth_of_money_is_forgiven_and_nothing_more(share: float) -> None:
    lots = [Lot(each=Decimal("10.01"), count=1, share=share), Lot(each=Decimal("7.03"), count=1, share=1.0)]
    amount = Decimal("17.04") + Decimal("1e-6")
    assert chance_of_reaching(lots, amount) == pytest.approx(share)
    assert chance_of_reaching(lots, amount + Decimal("1e-12")) == 0.0


def odd_lots(*counts: int) -> list[Lot]:
    """Return lots of which far more than 60 000 sums differ; no common step divides them into fewer."""
    return [
        Lot(each=Decimal(1009 + 131 * n + n**3) / 1000, count=count, share=0.5)
        for n, count in enumerate(counts)
    ]


def sums_of(lots: Sequence[Lot]) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
    """Return every sum of some lots in thousandths of money, and its chance."""
    sums, chances = np.zeros(1, dtype=np.int64), np.ones(1)
    for lot in lots:
        sold = np.arange(lot.count + 1)
        sums = np.add.outer(sums, sold * int(lot.each * 1000)).ravel()
        chances = np.multiply.outer(chances, binom.pmf(sold, lot.count, lot.share)).ravel()
    return sums, chances


@pytest.mark.parametrize("counts", [(14,) * 6, (3500, 14, 14, 14)])
def test_where_both_halves_have_few_sums_the_chance_is_exact(counts: Sequence[int]) -> None:
    lots = odd_lots(*counts)
    needed = int(mean(lots) * 1000) + 500
    one, likely = sums_of(lots[-3:])
    other, chances = sums_of(lots[:-3])
    order = np.argsort(other)
    at_least = np.append(chances[order][::-1].cumsum()[::-1], 0.0)
    due = float(likely @ at_least[np.searchsorted(other[order], needed - one)])
    assert due == pytest.approx(chance_of_reaching(lots, Decimal(needed) / 1000), abs=1e-8)


def test_numbers_that_hardly_ever_sell_are_left_out() -> None:
    """Of 10 000 at a half, 5 000 are 6.8 standard deviations of 50 likelier by 1e10 than 4 660 or 5 340."""
    first, chances = binomial(10_000, 0.5)
    assert (4_655 < first < 4_665, len(chances)) == (True, 10_001 - 2 * first)


@pytest.mark.parametrize(("unit", "cells"), [(1, 65_536), ("1.45", 65_536), ("1.52", 32_768)])
def test_a_tenth_of_the_unit_of_money_is_the_step_where_that_takes_at_most_60_000_cells(
    unit: str, cells: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    grids = list[int]()

    def counted(product: NDArray[np.complex128], cells: int) -> NDArray[np.float64]:
        grids.append(cells)
        return np.asarray(irfft(product, cells))

    irfft = np.fft.irfft
    monkeypatch.setattr(np.fft, "irfft", counted)
    thirds = [Lot(each=Decimal(100 + n) / 3 * Decimal(unit), count=30, share=0.6) for n in range(9)]
    chance_of_reaching(thirds, 5700 * Decimal(unit))
    assert [cells] == grids[:1]


@pytest.mark.parametrize("each", ["10", "7"])
def test_what_surely_sells_leaves_the_chance_of_the_others_as_it_is(each: str) -> None:
    sure = Lot(each=Decimal(10), count=1, share=1.0)
    other = Lot(each=Decimal(each), count=2, share=0.5)
    assert chance_of_reaching([sure, other], 10 + 2 * Decimal(each)) == pytest.approx(0.25, abs=1e-12)
