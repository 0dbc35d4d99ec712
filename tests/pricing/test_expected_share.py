from decimal import Decimal

from hypothesis import given as given_that
from hypothesis import strategies as st

from salebook.pricing.expected_share import expected_shares
from tests.support.priced_sales import a_plan, given


def test_the_net_is_rounded_half_up_and_shared_by_parts() -> None:
    plan = a_plan(
        beneficiaries=[{"name": "Village library", "parts": 2}, {"name": "Towpath rangers"}],
        donated=[given()],
    )

    assert [Decimal("536.63"), Decimal("268.31")] == [
        share.expected for share in expected_shares(plan, Decimal("804.9387763"))
    ]


@given_that(
    net=st.decimals(-1000, 100_000, places=6), parts=st.lists(st.integers(1, 1000), min_size=1, max_size=6)
)
def test_the_shares_add_up_to_the_net_and_to_nothing_where_there_is_a_loss(
    net: Decimal, parts: list[int]
) -> None:
    groups = [{"name": f"Group {number}", "parts": part} for number, part in enumerate(parts)]
    shares = [
        share.expected for share in expected_shares(a_plan(beneficiaries=groups, donated=[given()]), net)
    ]

    assert abs(sum(shares, Decimal(0)) - max(Decimal(0), net)) <= Decimal("0.005")
    assert min(shares) >= 0
