"""Sums on a grid against every way that the pieces may sell, and against scipy's binomials."""

import math
from collections.abc import Sequence
from itertools import product

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.signal import fftconvolve
from scipy.stats import binom, norm

from salebook.pricing.chance_grid import Spread, chance_on_grid, most_sums

RIGHT = 0.001
"""How near a chance is to be to the exact one where its sums are rounded."""

FEW = (
    Spread(each=3, chances=(0.2, 0.3, 0.5)),
    Spread(each=7, chances=(0.9, 0.1)),
    Spread(each=-2, chances=(0.25, 0.5, 0.15, 0.1)),
)
"""From -6 to 13 in every way."""


def chance(spreads: Sequence[Spread], needed: int) -> float:
    return chance_on_grid(spreads, needed, tenth_of_unit=10)


def of_every_way(spreads: Sequence[Spread], needed: int) -> float:
    ways = product(*(enumerate(spread.chances) for spread in spreads))
    return math.fsum(
        math.prod(likely for _number, likely in way)
        for way in ways
        if sum(number * spread.each for (number, _likely), spread in zip(way, spreads, strict=True)) >= needed
    )


def binomial(each: int, count: int, share: float) -> Spread:
    return Spread(each=each, chances=tuple(binom.pmf(np.arange(count + 1), count, share).tolist()))


def convolved(spreads: Sequence[Spread], needed: int) -> float:
    """Add up spreads with a place of its own for each sum; none of them brings a loss."""
    sums = np.ones(1)
    for spread in spreads:
        one = np.zeros(spread.of_all + 1)
        one[:: spread.each] = spread.chances
        sums = fftconvolve(sums, one)
    return float(sums[needed:].sum())


def test_mean_and_variance_are_those_of_the_binomial() -> None:
    """Of 20 pieces at 3 each a quarter sells: 20 · 1/4 · 3, and 20 · 1/4 · 3/4 · 3²."""
    spread = binomial(3, 20, 0.25)
    assert [15.0, 33.75, 60] == pytest.approx([spread.mean, spread.variance, spread.of_all])


def test_a_piece_that_brings_a_loss_has_its_mean_below_0() -> None:
    spread = binomial(-3, 20, 0.25)
    assert [-15.0, 33.75, -60] == pytest.approx([spread.mean, spread.variance, spread.of_all])


def test_sums_are_counted_as_if_no_two_were_equal() -> None:
    assert [most_sums([]), most_sums(FEW)] == [1, 3 * 2 * 4]


@pytest.mark.parametrize("needed", range(-8, 16))
def test_where_every_sum_has_a_cell_the_chance_is_exact(needed: int) -> None:
    assert of_every_way(FEW, needed) == pytest.approx(chance(FEW, needed), abs=1e-14)


@pytest.mark.parametrize("needed", range(-19, -8))
def test_losses_alone_are_added_up_as_well(needed: int) -> None:
    losses = [Spread(each=-5, chances=(0.1, 0.2, 0.3, 0.4)), Spread(each=-3, chances=(0.5, 0.5))]
    assert of_every_way(losses, needed) == pytest.approx(chance(losses, needed), abs=1e-14)


@pytest.mark.parametrize("needed", [50_000_000, 80_000_000, 80_000_001, 90_000_000])
def test_sums_far_apart_take_no_more_cells_than_sums_close_together(needed: int) -> None:
    """Three kinds of 200 pieces, too many sums to be kept; 1 million divides all that they bring."""
    near = [binomial(each, 200, share) for each, share in ((1, 0.3), (2, 0.5), (-1, 0.4))]
    far = [Spread(each=10**6 * spread.each, chances=spread.chances) for spread in near]
    assert chance(near, math.ceil(needed / 10**6)) == pytest.approx(chance(far, needed), abs=1e-12)


@pytest.mark.parametrize("part", [0.9, 0.97, 1.0, 1.03, 1.1])
def test_several_groups_on_one_grid_are_exact_where_nothing_is_rounded(part: float) -> None:
    """With 201 numbers of each kind only one kind fits into a group; the sums have some thousand cells."""
    kinds = [binomial(each, 200, share) for each, share in ((3, 0.3), (5, 0.5), (7, 0.7), (11, 0.2))]
    needed = round(part * sum(spread.mean for spread in kinds))
    assert convolved(kinds, needed) == pytest.approx(chance(kinds, needed), abs=1e-9)


def test_what_is_less_likely_than_the_noise_of_the_sums_is_never_below_0_nor_above_1() -> None:
    """Of 60 pieces that sell once in a hundred 15 sell with a chance of some 1e-17."""
    few, most = binomial(1, 60, 0.01), binomial(1, 60, 0.99)
    found = [chance([few, binomial(1, count, 0.01)], needed) for count in range(9) for needed in range(9, 19)]
    found += [chance([most, binomial(1, count, 0.99)], needed) for count in range(9) for needed in range(50)]
    assert (0.0 <= min(found), max(found) <= 1.0) == (True, True)


def test_what_bernsteins_inequality_calls_less_likely_than_1e_9_is_taken_for_none() -> None:
    """200 pieces at 10 sell at 1/2, the variance 5000: 1000 + t come about with exp(-t²/2 ÷ (5000 + 10t/3)).

    For t = 529 the exponent is -20.69, for 530 it is -20.76; between them lies the logarithm of 1e-9, -20.72.
    """
    pieces = [binomial(10, 200, 0.5)]
    assert [chance(pieces, 1000 - 530), chance(pieces, 1000 + 530)] == [1.0, 0.0]
    assert 1 - 1e-9 < chance(pieces, 1000 - 529) < 1.0
    assert 0.0 < chance(pieces, 1000 + 529) < 1e-9


@pytest.mark.parametrize("part", [0.5, 0.99, 1.0, 1.01])
def test_one_dear_loss_that_is_unlikely_is_not_forgotten(part: float) -> None:
    """The dear piece costs 160 000 more than it brings, and sells once in a hundred."""
    cheap = [binomial(each, 20, 0.5) for each in (941, 977, 1019, 1061)]
    loss = Spread(each=-160_001, chances=(0.99, 0.01))
    needed = round(part * sum(spread.mean for spread in cheap))
    due = 0.99 * convolved(cheap, needed)
    assert due == pytest.approx(chance([*cheap, loss], needed), abs=RIGHT)


def test_what_the_pieces_cannot_bring_is_surely_not_brought() -> None:
    three = [Spread(each=4, chances=(0.125, 0.375, 0.375, 0.125))]
    assert [chance(three, 0), chance(three, 12), chance(three, 13)] == [1.0, pytest.approx(0.125), 0.0]


@pytest.mark.parametrize("count", range(2, 12))
def test_sure_things_are_just_1_and_what_cannot_be_is_just_0(count: int) -> None:
    """No noise of the sums is left in them."""
    gains = [binomial(each, count, 0.3) for each in (3, 5, 7)]
    losses = [binomial(-each, count, 0.3) for each in (3, 5, 7)]
    assert [chance(gains, 0), chance(gains, 15 * count + 1)] == [1.0, 0.0]
    assert [chance(losses, -15 * count), chance(losses, 1)] == [1.0, 0.0]


def close_to_a_million(sign: int) -> list[Spread]:
    """Return eight kinds of twelve pieces, too many sums to be kept: they crowd beside each whole million."""
    chances = binomial(1, 12, 0.5).chances
    return [Spread(each=10**6 + sign * n, chances=chances) for n in range(1, 9)]


@pytest.mark.parametrize("tenth_of_unit", [1, 10**5])
@pytest.mark.parametrize("millions", [45, 48, 50, 53])
def test_the_step_is_made_finer_until_the_chance_is_proven(millions: int, tenth_of_unit: int) -> None:
    """A little more than a million each: so many pieces and no fewer bring so many million."""
    found = chance_on_grid(close_to_a_million(+1), millions * 10**6, tenth_of_unit=tenth_of_unit)
    assert float(binom.sf(millions - 1, 96, 0.5)) == pytest.approx(found, abs=RIGHT)


@pytest.mark.parametrize("millions", [45, 48, 50, 53])
def test_sums_that_just_miss_what_is_needed_are_not_taken_to_reach_it(millions: int) -> None:
    """A little less than a million each: one piece more is needed."""
    found = chance_on_grid(close_to_a_million(-1), millions * 10**6, tenth_of_unit=10**5)
    assert float(binom.sf(millions, 96, 0.5)) == pytest.approx(found, abs=RIGHT)


@pytest.fixture
def grids(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Return a list that takes down how many cells each grid has."""
    found = list[int]()

    def counted(product: NDArray[np.complex128], cells: int) -> NDArray[np.float64]:
        found.append(cells)
        return np.asarray(irfft(product, cells))

    irfft = np.fft.irfft
    monkeypatch.setattr(np.fft, "irfft", counted)
    return found


def test_where_sums_lie_close_and_even_a_single_grid_is_enough(grids: list[int]) -> None:
    kinds = [binomial(each, 60, 0.5) for each in (31_000_003, 43_111_117, 57_357_359, 79_797_983)]
    deviation = math.sqrt(sum(spread.variance for spread in kinds))
    needed = round(sum(spread.mean for spread in kinds) + 0.6 * deviation)
    found = chance_on_grid(kinds, needed, tenth_of_unit=1)
    assert found == pytest.approx(float(norm.sf(0.6)), abs=0.005)
    assert (len(grids), max(grids) < 10_000) == (1, True)


def test_a_tenth_of_the_unit_of_money_is_the_step_where_that_takes_few_cells(grids: list[int]) -> None:
    """All four kinds together bring some 60 to 12 600 units; a tenth of a unit is 20 000 here."""
    kinds = [binomial(each, 60, 0.5) for each in (3_100_003, 4_311_117, 5_735_359, 7_979_983)]
    chance_on_grid(kinds, round(sum(spread.mean for spread in kinds)), tenth_of_unit=20_000)
    assert [65_536] == grids


@pytest.mark.parametrize("tenth_of_unit", [1, 10**4, 10**9])
@pytest.mark.parametrize("part", [0.95, 1.0, 1.04])
def test_the_chance_is_right_whatever_the_unit_of_money(part: float, tenth_of_unit: int) -> None:
    """Four kinds of 60 pieces, the sums of which would take hundreds of thousands of cells."""
    table = [(4_973, 0.5), (5_003, 0.6), (6_113, 0.4), (7_507, 0.7)]
    kinds = [binomial(each, 60, share) for each, share in table]
    needed = round(part * sum(spread.mean for spread in kinds))
    found = chance_on_grid(kinds, needed, tenth_of_unit=tenth_of_unit)
    assert convolved(kinds, needed) == pytest.approx(found, abs=RIGHT)


@pytest.mark.parametrize("share", [0.9, 0.99])
@pytest.mark.parametrize("part", [0.75, 0.99, 1.0, 1.01, 1.05])
def test_one_dear_piece_that_all_but_surely_sells_does_not_hide_that_it_may_not(
    part: float, share: float
) -> None:
    """Where it stays unsold the sum is less by twice of what all others may bring."""
    cheap = [binomial(each, 20, 0.5) for each in (941, 977, 1019, 1061)]
    kinds = [*cheap, Spread(each=160_001, chances=(1 - share, share))]
    needed = round(part * sum(spread.mean for spread in kinds))
    assert convolved(kinds, needed) == pytest.approx(chance(kinds, needed), abs=RIGHT)
