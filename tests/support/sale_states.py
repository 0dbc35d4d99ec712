"""States of a sale for the tests: from plain values, and by chance."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn

from salebook.forecast.state import Offered, SaleState
from salebook.plan.model import Outlook


def state_from(values: Mapping[str, Any]) -> SaleState:
    """Read a state as `salebook price --json` writes it."""
    outlooks = tuple(Outlook.model_validate(outlook) for outlook in values["outlooks"])
    goods = tuple(_offered(good) for good in values["goods"])
    money = {key: Decimal(values[key]) for key in ("over", "target", "reached", "other_left", "held_brings")}
    return SaleState(**money, outlooks=outlooks, goods=goods)


def _offered(values: Mapping[str, Any]) -> Offered:
    way = tuple((count, Decimal(comes)) for count, comes in values.get("on_the_way", []))
    exact = {key: Decimal(values[key]) for key in ("share", "price_then", "share_then", "brings_then")}
    return Offered(**{**values, **exact, "on_the_way": way})


def kinds_of_day(*kinds: tuple[str, str]) -> tuple[Outlook, ...]:
    """Return kinds of day by their weights and factors."""
    return tuple(
        Outlook(name=f"{factor} times", weight=Decimal(weight), factor=Decimal(factor))
        for weight, factor in kinds
    )


AS_EXPECTED = kinds_of_day(("1", "1"))


def some(count: int, *, share: str = "0.8", brings: str = "10", code: str = "MUG", **what: Any) -> Offered:
    """Return pieces alike, of which nobody has taken any yet unless told otherwise."""
    exact: dict[str, Any] = {
        "share": Decimal(share),
        "share_then": Decimal(what.pop("share_then", share)),
    }
    return Offered(
        code=code,
        grade="first",
        offered=count,
        price_then=Decimal(brings),
        brings_then=Decimal(brings),
        **exact,
        **what,
    )


def a_state(*goods: Offered, outlooks: tuple[Outlook, ...] = AS_EXPECTED, **money: str) -> SaleState:
    """Return a sale with a target of 100 of which nothing has come in, unless told otherwise."""
    usual = {"over": "0", "target": "100", "reached": "0", "other_left": "0", "held_brings": "0"}
    exact = {key: Decimal(value) for key, value in (usual | money).items()}
    return SaleState(**exact, outlooks=outlooks, goods=goods)


SHARES = st.decimals("0.01", "1", places=2)


@st.composite
def goods_by_chance(draw: DrawFn) -> Offered:
    """Draw pieces alike: some sold, held, gone or spoken for, some still in the studio."""
    counts = {key: draw(st.integers(0, 6)) for key in ("gone", "spoken_for", "sold", "held")}
    return Offered(
        code=draw(st.sampled_from(("MUG", "JUG", "BOWL"))),
        grade="first",
        offered=sum(counts.values()) + draw(st.integers(0, 12)),
        share=draw(SHARES),
        price_then=draw(st.decimals("1", "60", places=2)),
        share_then=draw(SHARES),
        brings_then=draw(st.decimals("0", "60", places=2)),
        on_the_way=tuple(draw(st.lists(st.tuples(st.integers(0, 6), SHARES), max_size=2))),
        **counts,
    )


@st.composite
def states(draw: DrawFn) -> SaleState:
    """Draw a sale at any moment of its selling time but the very end."""
    kinds = st.tuples(st.sampled_from(("1", "2", "5")), st.sampled_from(("0.4", "0.8", "1", "1.1", "1.3")))
    money = st.decimals("0", "300", places=2)
    return SaleState(
        over=draw(st.sampled_from([Decimal(tenths) / 10 for tenths in range(10)])),
        target=draw(st.decimals("0", "900", places=2)),
        reached=draw(st.decimals("-90", "600", places=2)),
        other_left=draw(money),
        held_brings=draw(money),
        outlooks=kinds_of_day(*draw(st.lists(kinds, min_size=1, max_size=3))),
        goods=tuple(draw(st.lists(goods_by_chance(), min_size=1, max_size=3))),
    )
