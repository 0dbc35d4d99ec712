"""Chances after part of the sale: conditional probability and Bayes' rule.

Sources: Introductory Statistics, sections 3.1 and 3.4, OpenStax, CC BY 4.0 (the rule, the table of drivers
and its answers from memory); NIST/SEMATECH e-Handbook of Statistical Methods, 8.1.10, Bayes' formula, and
1.3.6.6.18, the binomial distribution (both from memory); scipy's binomial and multinomial distributions.
"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom, multinomial

from salebook.forecast.figures import figures_of, likelihoods_of
from tests.support.sale_states import a_state, kinds_of_day, some

USERS, OTHERS, USERS_CAUGHT, OTHERS_CAUGHT = 305, 450, 25, 45
"""Drivers who use a phone in the car and who do not, and how many of them were caught speeding."""


@pytest.mark.parametrize(
    ("caught", "printed"),
    [pytest.param(1, (25, 70), id="caught"), pytest.param(0, (280, 685), id="not caught")],
)
def test_a_kind_of_day_is_as_likely_as_the_kind_of_driver(caught: int, printed: tuple[int, int]) -> None:
    """Section 3.4: P(uses a phone | caught) = 25/70, and 280/685 of those not caught use one.

    A driver is a piece, a kind of driver a kind of day, to be caught is to be sold by the end.
    """
    kinds = kinds_of_day(
        (f"{USERS}", f"{USERS_CAUGHT / USERS:.13f}"), (f"{OTHERS}", f"{OTHERS_CAUGHT / OTHERS:.13f}")
    )
    state = a_state(some(1, share="1", sold=caught), outlooks=kinds, over="1")
    users, _others = figures_of(state).outlooks
    assert printed[0] / printed[1] == pytest.approx(float(users), abs=1e-10)


SHARES = st.decimals("0.05", "0.95", places=2)


@given(st.integers(1, 60), st.integers(0, 60), SHARES, SHARES)
def test_kinds_of_day_are_weighed_by_bayes_formula_with_scipys_binomials(
    count: int, sold: int, share: Decimal, over: Decimal
) -> None:
    sold = min(sold, count)
    kinds = {"0.5": 1, "0.8": 2, "1": 1}
    state = a_state(
        some(count, share=str(share), sold=sold),
        outlooks=kinds_of_day(*((f"{weight}", factor) for factor, weight in kinds.items())),
        over=str(over),
    )
    joint = [
        weight * float(binom.pmf(sold, count, float(share) * float(factor) * float(over)))
        for factor, weight in kinds.items()
    ]
    assert [part / sum(joint) for part in joint] == pytest.approx(
        [float(weight) for weight in figures_of(state).outlooks], abs=1e-9
    )


@given(st.integers(1, 40), st.integers(0, 40), st.integers(0, 40), SHARES, SHARES)
def test_the_rest_sells_as_scipys_multinomial_says_once_some_are_sold(
    count: int, sold: int, needed: int, share: Decimal, over: Decimal
) -> None:
    """Each piece sells by now, in the rest or not at all: P(A | B) = P(A and B) / P(B), section 3.1."""
    sold = min(sold, count)
    early, late = float(share * over), float(share * (1 - over))
    both = multinomial(count, [early, late, 1 - early - late])
    chances = [float(both.pmf([sold, more, count - sold - more])) for more in range(count - sold + 1)]
    state = a_state(
        some(count, share=str(share), brings="1", sold=sold),
        over=str(over),
        target=f"{sold + needed}",
        reached=f"{sold}",
    )
    due = sum(chances[needed:]) / float(binom.pmf(sold, count, early))
    assert due == pytest.approx(figures_of(state).chance, abs=1e-8)


def test_the_chance_of_what_has_sold_is_binomial() -> None:
    """With one kind of day: the ways to choose 8 of 20, times the likelihood of one of them."""
    state = a_state(some(20, share="0.6", sold=8), over="0.5")
    (likelihood,) = likelihoods_of(state)
    assert float(binom.pmf(8, 20, 0.3)) == pytest.approx(125_970 * float(likelihood), rel=1e-12)
