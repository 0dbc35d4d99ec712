"""Plans by chance: Hypothesis strategies for whole, valid plans, as the tables of a plan file.

`plan_tables()` makes the tables and `plans()` reads them as salebook reads a plan file.
"""

from collections.abc import Mapping, Sequence
from datetime import timedelta
from decimal import Decimal
from functools import cache
from typing import Any

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, SearchStrategy

from salebook.plan.load import read_plan
from salebook.plan.model import Plan
from salebook.plan.money import minor_digits
from tests.support.strategies import (
    Tables,
    amounts,
    codes,
    days,
    decimals,
    met_by,
    named_records,
    names,
    prices,
    records,
    shares_of_one,
    unique_names,
)
from tests.support.studio_strategies import (
    Size,
    carried,
    clays,
    donated,
    energy,
    firings,
    kilns,
    making,
    ware,
)
from tests.support.toml_text import toml_text

SMALL = Size(wares=2, wanted=3, donated=1, carried=1, count=2, groups=3, others=2)
USUAL = Size()
WIDE = Size(wares=12, wanted=4, donated=3, carried=3, count=2, groups=6, others=4)
SIZES = st.sampled_from((SMALL, SMALL, USUAL, USUAL, USUAL, USUAL, WIDE))
"""Sizes as they may meet in a row of plans: many middling ones, and some with all that a plan may have."""


PLACES = (
    ("GBP", "en_GB"),
    ("USD", "en_US"),
    ("EUR", "de_DE"),
    ("CHF", "de_CH"),
    ("JPY", "ja_JP"),
    ("KWD", "en_GB"),
    ("CAD", "fr_CA"),
)
"""Currencies with none, two and three minor digits, and ways to write them."""


STEPS = (Decimal("0.05"), Decimal("0.5"), Decimal(1), Decimal(5))


@cache
@st.composite
def _sales(draw: DrawFn) -> Tables:
    currency, locale = draw(st.sampled_from(PLACES))
    first = draw(days)
    later = draw(st.lists(st.integers(1, 20), max_size=2, unique=True))
    sale = draw(
        records(
            {"title": names(longest=30), "maker": names(), "target": amounts(currency, most=2000)},
            {
                "venue": names(),
                "open": st.sampled_from(("10:00 to 17:00", "9:30-16:15", "18:00 to 24:00")),
                "price_step": _steps_of(currency),
                "confidence": decimals("0.5", "0.98"),
                "denominations": st.lists(prices(currency), min_size=1, max_size=4, unique=True),
            },
        )
    )
    dates = [first, *(first + timedelta(days=day) for day in sorted(later))]
    return sale | {"currency": currency, "locale": locale, "days": dates}


@cache
def _steps_of(currency: str) -> SearchStrategy[Decimal]:
    return st.sampled_from([step for step in STEPS if minor_digits(currency) or step == int(step)])


@cache
@st.composite
def _groups(draw: DrawFn, most: int) -> list[Tables]:
    optional = {"parts": st.integers(1, 12), "agreed": days, "registration": names(), "contact": names()}
    chosen = draw(unique_names(most, least=1))
    return [{"name": name} | draw(records({}, optional)) for name in chosen]


PER = ("piece started", "piece glazed", "piece finished", "piece sold", "batch", "load", "sale")


def _materials(most: int, currency: str, wares: Sequence[str]) -> SearchStrategy[list[Tables]]:
    return named_records(
        most,
        {
            "amount": decimals("0", "80", digits=1),
            "per": st.sampled_from(PER),
            "pack_amount": st.integers(1, 5000),
            "pack_price": amounts(currency, most=30),
        },
        {
            "unit": st.sampled_from(("g", "ml", "set", "Stück")),
            "wares": _some_of(wares),
            "whole_packs": st.booleans(),
            "met_by": met_by,
        },
    )


def _work(most: int, wares: Sequence[str]) -> SearchStrategy[list[Tables]]:
    return named_records(
        most,
        {"per": st.sampled_from(PER), "minutes": decimals("0", "90", digits=1)},
        {"wares": _some_of(wares)},
    )


def _some_of(wares: Sequence[str]) -> SearchStrategy[list[str]]:
    return st.lists(st.sampled_from(wares), max_size=2, unique=True) if wares else st.just([])


@st.composite
def _payments(draw: DrawFn, most: int, currency: str, groups: Sequence[str]) -> list[Tables]:
    chosen = draw(unique_names(most))
    parts = draw(shares_of_one(len(chosen))) if chosen else []
    optional = {"percent": decimals("0", "5"), "fixed": amounts(currency, most=1)}
    kinds: SearchStrategy[Tables] = st.one_of(
        st.just({}),
        st.just({"cash": True}),
        st.sampled_from(groups).map(lambda group: {"paid_to": group}),
    )
    return [
        {"name": name, "share": part} | draw(records({}, optional)) | draw(kinds)
        for name, part in zip(chosen, parts, strict=True)
    ]


@cache
@st.composite
def _outlooks(draw: DrawFn, most: int) -> list[Tables]:
    required = {"weight": st.integers(0, 5), "factor": decimals("0", "1.5")}
    outlooks = draw(named_records(most, required))
    if outlooks and not any(outlook["weight"] for outlook in outlooks):
        outlooks[0]["weight"] = 1
    return outlooks


LABELS: tuple[Tables, ...] = (
    {
        "page": "A4",
        "columns": 3,
        "rows": 7,
        "width": "63.5 mm",
        "height": "38.1 mm",
        "left": "7.2 mm",
        "top": "15.1 mm",
        "across": "66.0 mm",
        "down": "38.1 mm",
    },
    {
        "page": "Letter",
        "columns": 2,
        "rows": 5,
        "width": "4 in",
        "height": "2 in",
        "left": "0.15 in",
        "top": "0.5 in",
        "across": "4.2 in",
        "down": "2 in",
        "promise": True,
    },
)


@st.composite
def plan_tables(draw: DrawFn, of: Size | None = None) -> Tables:
    """Draw the tables of a whole valid plan, of any size where none is given."""
    size = of or draw(SIZES)
    sale = draw(_sales())
    currency = sale["currency"]
    groups = draw(_groups(size.groups))
    fired = draw(firings())
    clay = draw(clays(currency))
    all_codes = draw(st.lists(codes, min_size=1, max_size=size.wares + size.donated, unique=True))
    own = all_codes[: min(size.wares, draw(st.integers(0, len(all_codes))))] or all_codes[:1]
    given = all_codes[len(own) :][: size.donated]
    left = draw(st.sampled_from([[], [], [*own, draw(codes.filter(lambda code: code not in all_codes))]]))
    clay_names = [one["name"] for one in clay]
    tables: Tables = {
        "format": 1,
        "sale": sale,
        "beneficiaries": groups,
        "clays": clay,
        "wares": [
            draw(ware(code=code, currency=currency, clays=clay_names, fired=bool(fired), size=size))
            for code in own
        ],
        "donated": [draw(donated(code=code, currency=currency, size=size)) for code in given],
        "carried": draw(carried(codes=left, currency=currency, size=size)) if left else [],
        "making": draw(making()),
        "firings": fired,
        "materials": draw(_materials(size.others, currency, own)),
        "work": draw(_work(size.others, own)),
        "hours": draw(records({}, {"rate": amounts(currency, most=30)})),
        "overheads": draw(
            named_records(size.others, {"amount": amounts(currency)}, {"met_by": met_by}),
        ),
        "other_income": draw(named_records(size.others, {"expected": amounts(currency)})),
        "payments": draw(_payments(size.others, currency, [group["name"] for group in groups])),
        "outlooks": draw(_outlooks(size.others)),
    }
    if fired:
        tables |= {"kiln": draw(kilns(fired)), "energy": draw(energy())}
    if draw(st.booleans()):
        tables["labels"] = draw(st.sampled_from(LABELS))
    return {key: table for key, table in tables.items() if table}


def plans(size: Size | None = None) -> SearchStrategy[Plan]:
    """Draw plans as salebook reads them from a file."""
    return plan_tables(size).map(plan_of)


def plan_of(tables: Mapping[str, Any]) -> Plan:
    """Read the tables as a plan file."""
    return read_plan(toml_text(tables), file="plan by chance")
