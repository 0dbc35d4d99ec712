"""The studio by chance: Hypothesis strategies for clays, pieces, kiln and firings, as a plan's tables."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, SearchStrategy

from tests.support.strategies import (
    Tables,
    amounts,
    days,
    decimals,
    lengths,
    masses,
    met_by,
    names,
    prices,
    records,
    shares,
    unique_names,
)


@dataclass(frozen=True, kw_only=True)
class Size:
    """How large the plans may grow: the most of each kind."""

    wares: int = 3
    wanted: int = 8
    donated: int = 2
    carried: int = 2
    count: int = 4
    groups: int = 4
    others: int = 3
    """Materials, work, overheads, other income, ways to pay, outlooks: of each."""


@cache
@st.composite
def clays(draw: DrawFn, currency: str) -> list[Tables]:
    """Draw the clays, one or two."""
    chosen = draw(unique_names(2, least=1))
    return [{"name": name} | draw(_clay(currency)) for name in chosen]


@cache
@st.composite
def _clay(draw: DrawFn, currency: str) -> Tables:
    shrinkage = draw(decimals("0", "0.2", digits=3))
    half_or_less = decimals("0", str(shrinkage), digits=3)
    return draw(
        records(
            {
                "pack": masses(5000, 25000),
                "pack_price": amounts(currency, most=40),
                "shrinkage": st.just(shrinkage),
            },
            {
                "drying_shrinkage": half_or_less,
                "waste": decimals("0", "0.4"),
                "dry_fraction": decimals("0.7", "0.9"),
                "whole_packs": st.booleans(),
                "met_by": met_by,
            },
        )
    )


@cache
def _losses() -> SearchStrategy[Tables]:
    stages = ("throwing", "drying", "biscuit", "glaze")
    return records({}, {stage: decimals("0", "0.12", digits=3) for stage in stages})


@cache
def _seen() -> SearchStrategy[Tables]:
    stages = ("throwing", "drying", "biscuit", "glaze", "seconds")
    counts = st.tuples(decimals("0", "9", digits=1), decimals("9", "60", digits=2)).map(list)
    return records({}, dict.fromkeys(stages, counts))


@cache
def _demand(currency: str) -> SearchStrategy[list[list[Decimal]]]:
    point = st.tuples(prices(currency, most=90), shares).map(list)
    return st.lists(point, min_size=1, max_size=4, unique_by=lambda pair: pair[0])


@cache
@st.composite
def _sizes(draw: DrawFn, *, needed: bool) -> Tables:
    """The height and diameter as thrown or as fired, never both, so that they cannot contradict."""
    kind = draw(st.sampled_from(("made", "made", "made", "fired") if needed else ("made", "fired", "")))
    if not kind:
        return {}
    return {f"{kind}_height": draw(lengths(40, 240)), f"{kind}_diameter": draw(lengths(40, 190))}


@st.composite
def ware(draw: DrawFn, *, code: str, currency: str, clays: Sequence[str], fired: bool, size: Size) -> Tables:
    """Draw a ware of the maker's own."""
    wanted = draw(st.integers(1, size.wanted))
    footprint = st.tuples(st.integers(40, 190), st.integers(40, 190)).map(
        lambda sides: f"{max(sides)} x {min(sides)} mm"
    )
    ware = draw(
        records(
            {
                "name": names(),
                "price": prices(currency),
                "clay": st.sampled_from(clays),
                "ball": masses(100, 2500),
                "losses": _losses(),
            },
            {
                "numbered": st.booleans(),
                "seconds": decimals("0", "0.25"),
                "seconds_price": prices(currency, most=30),
                "seen": _seen(),
                "sells": shares,
                "demand": _demand(currency),
                "care": names(),
                "spoken_for": st.integers(0, wanted),
                "footprint": footprint,
                "per_shelf_biscuit": st.integers(1, 12),
                "per_shelf_glaze": st.integers(1, 12),
            },
        )
    )
    return {"code": code, "wanted": wanted} | ware | draw(_sizes(needed=fired))


@st.composite
def donated(draw: DrawFn, *, code: str, currency: str, size: Size) -> Tables:
    """Draw pieces that another maker gives."""
    count = draw(st.integers(1, size.count))
    given = draw(
        records(
            {"name": names(), "maker": names(), "price": prices(currency)},
            {"keeps": shares, "sells": shares, "care": names(), "spoken_for": st.integers(0, count)},
        )
    )
    return {"code": code, "count": count} | given


@st.composite
def carried(draw: DrawFn, *, codes: Sequence[str], currency: str, size: Size) -> list[Tables]:
    """Draw pieces that an earlier sale left, each of their numbers once."""
    numbered = st.tuples(st.sampled_from(codes), st.integers(1, 9))
    left = draw(st.lists(numbered, max_size=size.carried, unique=True))
    return [
        {"code": code, "numbers": [f"{code}-{number}", f"{code}-1{number:02}..1{number:02}"]}
        | draw(
            records(
                {"name": names(), "price": prices(currency)},
                {
                    **{"second": st.booleans(), "sells": shares, "care": names()},
                    "spoken_for": st.integers(0, 2),
                },
            )
        )
        for code, number in left
    ]


@cache
def making() -> SearchStrategy[Tables]:
    """How the maker works."""
    return records(
        {},
        {
            "batch": st.integers(1, 20),
            "bats": st.integers(1, 30),
            "days_on_bat": st.integers(0, 3),
            "drying_days": st.integers(0, 21),
            "free_days": st.lists(days, max_size=3, unique=True).map(sorted),
        },
    )


STAGES: tuple[tuple[str, ...], ...] = (
    (),
    ("biscuit", "glaze"),
    ("biscuit", "glaze", "glaze"),
    ("biscuit",),
    ("glaze",),
)
"""Which firings a plan may have."""

FUELS: tuple[Tables, ...] = (
    {},
    {"fuel": "electric"},
    {"fuel": "gas", "burner_efficiency": Decimal("0.2")},
)

WALL_KEYS = {
    "wall_area_m2": decimals("0.5", "3"),
    "wall_thickness_mm": st.integers(50, 200),
    "wall_conductivity": decimals("0.1", "0.6"),
    "wall_mass_kg": st.integers(20, 200),
}


@st.composite
def kilns(draw: DrawFn, fired: Sequence[Tables]) -> Tables:
    """Draw a kiln that takes every ware drawn here, for these firings."""
    round_shelf = records({"shape": st.just("round"), "diameter": lengths(300, 600)})
    sides = {"width": lengths(300, 600), "depth": lengths(300, 600)}
    square_shelf = records({"shape": st.just("rectangle"), **sides})
    walls = draw(st.one_of(st.just({}), st.fixed_dictionaries(WALL_KEYS)))
    rated = {"rated_kw": decimals("2", "40", digits=1)}
    metered = records(
        {
            "firing": st.sampled_from([firing["name"] for firing in fired]),
            "metered_kwh": decimals("5", "120", digits=1),
        }
    )
    kiln = draw(
        records(
            {"shelf": st.one_of(round_shelf, square_shelf), "usable_height": lengths(350, 700)}
            | ({} if walls else rated),
            {
                "shelves": st.integers(1, 6),
                "days_per_load": st.integers(1, 4),
                "shelf_thickness": lengths(5, 25),
                "clearance": lengths(5, 25),
                "gap": lengths(3, 12),
                "room": st.integers(-5, 35),
                "furniture_kg": decimals("0", "40", digits=1),
                "calibration": metered,
            }
            | (rated if walls else {}),
        )
    )
    return kiln | walls | draw(st.sampled_from(FUELS))


@cache
@st.composite
def _steps(draw: DrawFn) -> list[Tables]:
    """Up in steps, sometimes down again at the end."""
    tops = sorted(draw(st.lists(st.integers(20, 256), min_size=1, max_size=4, unique=True)))
    down = draw(st.one_of(st.just([]), st.integers(15, tops[-1] - 1).map(lambda low: [low])))
    said = st.sampled_from((False, False, False, True))
    hold = records({}, {"hold": st.integers(0, 60)})
    steps = []
    for to in [*tops, *down]:
        step: Tables = {
            "rate": draw(st.integers(30, 300)),
            "to": _fahrenheit(5 * to) if draw(said) else 5 * to,
        }
        steps.append(step | draw(hold))
    return steps


def _fahrenheit(celsius: int) -> str:
    return f"{celsius * 9 // 5 + 32} F"


@cache
@st.composite
def firings(draw: DrawFn) -> list[Tables]:
    """Draw a plan's firings, none included."""
    stages = draw(st.sampled_from(STAGES))
    chosen = draw(unique_names(len(stages), least=len(stages)))
    clock = st.tuples(st.integers(0, 23), st.integers(0, 59)).map(lambda at: f"{at[0]:02}:{at[1]:02}")
    optional = {
        "start": clock,
        "metered_kwh": decimals("0", "90", digits=1),
        "on_share": decimals("0.1", "1"),
        "met_by": met_by,
    }
    return [
        {"name": name, "stage": stage} | draw(records({"steps": _steps()}, optional))
        for name, stage in zip(chosen, stages, strict=True)
    ]


@cache
@st.composite
def energy(draw: DrawFn) -> Tables:
    """Windows that cover the day once, one of them through midnight unless it ends there."""
    cuts = sorted(draw(st.lists(st.integers(0, 95), min_size=1, max_size=4, unique=True)))
    ends = [*cuts[1:], cuts[0]]
    price = decimals("0", "0.6", digits=4)
    windows = zip(cuts, ends, strict=True)
    return {"rates": [{"from": _clock(a), "to": _clock(b), "price": draw(price)} for a, b in windows]}


def _clock(quarter: int) -> str:
    return f"{quarter // 4:02}:{quarter % 4 * 15:02}"
