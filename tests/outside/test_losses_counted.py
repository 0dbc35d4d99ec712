"""Losses that were counted: what is believed after counts, against two textbooks."""

from decimal import Decimal

import pytest

from salebook.base.beta import Beta


def test_exact_limits_of_a_share_defective_are_those_of_the_handbook() -> None:
    # NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.2 (4 defective of 20, 90 %, exact): the printed
    # limits 0.071 and 0.401 solve binomial sums, recomputed here to seven digits from their beta quantiles.
    defective, inspected = 4, 20
    below = Beta(Decimal(defective), Decimal(inspected - defective + 1)).quantile(0.05)
    above = Beta(Decimal(defective + 1), Decimal(inspected - defective)).quantile(0.95)
    assert (below, above) == pytest.approx((0.0713539, 0.4010281), abs=5e-8)


# Gelman et al., Bayesian Data Analysis, 3rd edition, section 2.4: 437 girls of 980 births.
def test_a_share_after_counts_is_the_books() -> None:
    after = Beta(Decimal(1), Decimal(1)).updated(437, 980)
    assert after == Beta(Decimal(438), Decimal(544))
    assert float(after.mean) == pytest.approx(0.446, abs=5e-4)
    assert after.middle(0.95) == pytest.approx((0.415, 0.477), abs=5e-4)


@pytest.mark.parametrize(("worth", "median"), [(20, 0.447), (100, 0.450), (200, 0.453)])
def test_a_share_believed_more_firmly_gives_way_less_as_in_the_books_table(worth: int, median: float) -> None:
    after = Beta.believed(Decimal("0.485"), worth=worth).updated(437, 980)
    assert after.quantile(0.5) == pytest.approx(median, abs=5e-4)
