"""What can be expected against sales drawn piece by piece, with a moment and a limit for each buyer."""

from dataclasses import dataclass
from decimal import Decimal

import numpy as np
import pytest
from numpy.typing import NDArray

from salebook.forecast.figures import figures_of
from salebook.forecast.state import SaleState
from tests.support.sale_states import a_state, kinds_of_day, some

SALES = 100_000
KINDS = kinds_of_day(("1", "0.6"), ("2", "1"), ("1", "1.2"))
STATES = {
    "before the sale": a_state(
        some(9, share="0.8", brings="14", share_then="0.8", on_the_way=((4, Decimal("0.7")),)),
        some(6, share="0.5", brings="25", code="JUG"),
        outlooks=KINDS,
        target="190",
        reached="-20",
    ),
    "by half time": a_state(
        some(9, share="0.8", brings="14", sold=4),
        some(5, share="0.5", brings="25", code="JUG", sold=1),
        outlooks=KINDS,
        over="0.5",
        target="160",
        reached="81",
    ),
    "late and dearer from now on": a_state(
        some(8, share="0.9", brings="16", share_then="0.6", sold=5),
        some(3, share="0.4", brings="31", share_then="0.25", code="JUG", sold=1),
        outlooks=KINDS,
        over="0.7",
        target="120",
        reached="95",
    ),
    "early and cheaper from now on": a_state(
        some(8, share="0.5", brings="9", share_then="0.8", sold=1),
        outlooks=KINDS,
        over="0.2",
        target="50",
        reached="12",
    ),
}


@dataclass(frozen=True, kw_only=True)
class Drawn:
    """Sales that went up to now as this one did: their kind of day, and what then sold and came in."""

    kinds: NDArray[np.int64]
    more_sold: NDArray[np.float64]
    net: NDArray[np.float64]


def drawn(state: SaleState, sales: int, random: np.random.Generator) -> Drawn:
    """Draw sales, and keep those in which just so many of each good had gone by now.

    For each piece there is one who would buy it, with a limit for the price and a moment: those with the
    limit below the price never buy, those whose moment is past before the price falls have gone.
    """
    weights = np.array([float(outlook.weight) for outlook in state.outlooks])
    kinds = random.choice(len(weights), size=sales, p=weights / weights.sum())
    factors = np.array([float(outlook.factor) for outlook in state.outlooks])[kinds][:, None]
    keep, sold, net = np.ones(sales, dtype=bool), np.zeros(sales), np.full(sales, float(state.reached))
    for good in state.goods:
        limit, moment = random.random((2, sales, good.free))
        by_now = (limit < float(good.share) * factors) & (moment < float(state.over))
        keep &= by_now.sum(axis=1) == good.taken
        then = (limit < float(good.share_then) * factors) & (moment >= float(state.over))
        more = (then & ~by_now).sum(axis=1).astype(np.float64)
        for count, comes in good.on_the_way:
            through, buys = random.random((2, sales, count))
            more += ((through < float(comes)) & (buys < float(good.share_then) * factors)).sum(axis=1)
        sold, net = sold + more, net + more * float(good.brings_then)
    return Drawn(kinds=kinds[keep], more_sold=sold[keep], net=net[keep])


def within_three_errors(expected: float, found: NDArray[np.float64]) -> bool:
    return bool(abs(expected - found.mean()) <= 3 * found.std() / np.sqrt(len(found)) + 1e-12)


def check(state: SaleState, sales: int, seed: int) -> None:
    figures, sample = figures_of(state), drawn(state, sales, np.random.default_rng(seed))
    assert len(sample.net) > sales / 100
    for kind, weight in enumerate(figures.outlooks):
        assert within_three_errors(float(weight), (sample.kinds == kind).astype(np.float64))
    assert within_three_errors(float(figures.expected_more_sold), sample.more_sold)
    assert within_three_errors(float(figures.expected_net), sample.net)
    reached = (sample.net >= float(state.target) - 1e-6).astype(np.float64)
    assert within_three_errors(figures.chance, reached)


@pytest.mark.parametrize("state", STATES.values(), ids=STATES.keys())
def test_weights_pieces_and_chance_are_those_of_drawn_sales(state: SaleState) -> None:
    check(state, SALES // 5, seed=20270619)


@pytest.mark.slow
@pytest.mark.parametrize("state", STATES.values(), ids=STATES.keys())
def test_weights_pieces_and_chance_are_those_of_a_hundred_thousand_drawn_sales(state: SaleState) -> None:
    check(state, SALES, seed=20270620)
