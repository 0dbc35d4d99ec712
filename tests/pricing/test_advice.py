from decimal import Decimal
from time import process_time
from typing import Any

import pytest
from hypothesis import given as given_that
from hypothesis import strategies as st

from salebook.pricing.advice import expected_shares
from tests.support.priced_sales import a_plan, a_studio, a_ware, advice_on, given

TWELVE_WARES = {
    "wares": [
        a_ware(
            f"W{n}",
            wanted=100,
            price=str(Decimal(21) + Decimal("1.37") * n),
            seconds_price=str(9 + n),
            demand=[["10", "0.95"], ["60", "0.2"]],
        )
        for n in range(12)
    ],
    "donated": [given(count=5, keeps="0.25")],
    "payments": [
        {"name": "cash", "share": "0.4", "cash": True},
        {"name": "card", "percent": "1.69", "fixed": "0.10", "share": "0.6"},
    ],
    "outlooks": [
        {"name": "quiet", "factor": "0.7"},
        {"name": "fair", "weight": 2},
        {"name": "busy", "factor": "1.15"},
    ],
}


def test_what_one_piece_brings_is_the_mean_over_everything_for_sale() -> None:
    plan = a_plan(
        wares=[a_ware("MUG", wanted=8, price="20", seconds_price="10")],
        donated=[given(price="50", keeps="0.2", count=1)],
    )

    assert (8 * 20 + 10 + 40) / Decimal(10) == advice_on(
        plan, a_studio(plan, seconds={"MUG": 1})
    ).mean_contribution


def test_the_groups_share_what_is_expected_at_the_plans_prices() -> None:
    advice = advice_on(a_plan(wares=[a_ware(sells="0.65")]))

    assert (Decimal("130.00"), Decimal("130.00")) == (
        advice.target.expected_net,
        advice.share_out[0].expected,
    )


@pytest.mark.parametrize(("needed", "count"), [(5, 10), (10, 5), (40, 1)])
def test_pieces_for_the_target_may_be_more_than_there_are(needed: int, count: int) -> None:
    target = advice_on(a_plan(target=str(20 * needed), wares=[a_ware(wanted=count)])).target

    assert (needed, count) == (target.pieces_needed, target.for_sale)


@pytest.mark.parametrize(
    "tables",
    [
        pytest.param(TWELVE_WARES, id="twelve wares of a hundred, their seconds and donated pieces"),
        pytest.param({"wares": [a_ware(wanted=1000)]}, id="a thousand pieces of one ware"),
    ],
)
def test_advice_takes_under_a_second(tables: dict[str, Any]) -> None:
    plan = a_plan(target="18000", **tables)
    studio = a_studio(plan, seconds={ware.code: 5 for ware in plan.wares})

    def seconds_taken() -> float:
        began = process_time()
        advice_on(plan, studio)
        return process_time() - began

    assert min(seconds_taken() for _attempt in range(3)) < 1


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
