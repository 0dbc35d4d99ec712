from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.plan.model import DemandPoint, Outlook
from salebook.pricing.demand import expected_sold, share_at, share_of_ware, share_on
from tests.support.priced_sales import a_plan, a_ware


def points(*pairs: tuple[int, str]) -> tuple[DemandPoint, ...]:
    return tuple(DemandPoint(price=Decimal(price), share=Decimal(share)) for price, share in pairs)


def days(*pairs: tuple[str, str]) -> tuple[Outlook, ...]:
    return tuple(
        Outlook(name=f"day {number}", weight=Decimal(weight), factor=Decimal(factor))
        for number, (weight, factor) in enumerate(pairs)
    )


LINE = points((12, "0.95"), (18, "0.85"), (30, "0.5"))


@pytest.mark.parametrize(
    ("price", "share"),
    [
        pytest.param("5", "0.95", id="flat below the first point"),
        pytest.param("12", "0.95", id="on the first point"),
        pytest.param("15", "0.9", id="half way between two"),
        pytest.param("18", "0.85", id="on a point"),
        pytest.param("24", "0.675", id="half way between the next two"),
        pytest.param("30", "0.5", id="on the last point"),
        pytest.param("100", "0.5", id="flat above the last point"),
    ],
)
def test_the_share_lies_on_straight_lines_between_the_points(price: str, share: str) -> None:
    assert Decimal(share) == share_at(Decimal(price), LINE)


def test_the_order_of_the_points_changes_nothing() -> None:
    assert share_at(Decimal(24), LINE) == share_at(Decimal(24), LINE[::-1])


def test_one_point_holds_at_any_price() -> None:
    assert Decimal("0.7") == share_at(Decimal(99), points((10, "0.7")))


def test_no_point_at_all_is_refused() -> None:
    with pytest.raises(ValueError, match="no demand points"):
        share_at(Decimal(10), ())


def test_a_ware_without_points_sells_its_share_at_any_price() -> None:
    ware = a_plan(wares=[a_ware(sells="0.6")]).wares[0]

    assert [Decimal("0.6")] * 2 == [share_of_ware(ware, Decimal(price)) for price in (1, 500)]


@pytest.mark.parametrize(
    ("share", "factor", "on_the_day"),
    [("0.8", "1", "0.8"), ("0.8", "0.5", "0.4"), ("0.8", "1.5", "1"), ("0.8", "0", "0")],
)
def test_the_share_on_a_kind_of_day_stays_within_0_and_1(share: str, factor: str, on_the_day: str) -> None:
    assert Decimal(on_the_day) == share_on(Decimal(share), Decimal(factor))


def test_expected_pieces_are_the_weighted_mean_over_the_kinds_of_day() -> None:
    kinds = days(("1", "0.5"), ("2", "1"), ("1", "2"))
    # 0.4, 0.8, 0.8 and 1 of twenty
    assert Decimal(15) == expected_sold(count=20, sure=0, share=Decimal("0.8"), outlooks=kinds)


def test_a_kind_of_day_without_weight_changes_nothing() -> None:
    kinds = days(("0", "0"), ("3", "1"))

    assert Decimal(16) == expected_sold(count=20, sure=0, share=Decimal("0.8"), outlooks=kinds)


def test_pieces_spoken_for_sell_on_the_worst_day_too() -> None:
    assert Decimal(4) == expected_sold(count=20, sure=4, share=Decimal("0.8"), outlooks=days(("1", "0")))


@given(
    count=st.integers(0, 200),
    spoken=st.integers(0, 200),
    share=st.decimals(0, 1, places=3),
    factors=st.lists(st.decimals(0, 10, places=2), min_size=1, max_size=4),
)
def test_never_more_pieces_are_expected_than_there_are(
    count: int, spoken: int, share: Decimal, factors: list[Decimal]
) -> None:
    kinds = days(*(("1", str(factor)) for factor in factors))
    sold = expected_sold(count=count, sure=min(count, spoken), share=share, outlooks=kinds)

    assert min(count, spoken) <= sold <= count
