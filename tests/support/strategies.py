"""Bricks for plans by chance: Hypothesis strategies for names, numbers, amounts and quantities.

To build a strategy takes longer than to draw from it, so that each is built once.
"""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from salebook.plan.money import minor_digits

Tables = dict[str, Any]
"""A plan file's tables, as TOML reads them."""


def at_most(examples: int, **more: Any) -> settings:
    """Draw so many examples, or as few as any test does in the inner loop."""
    usual = settings().max_examples
    return settings(max_examples=min(examples, usual), **more)


WORDS = (
    "Reading room",
    "Fährverein",
    "O'Hara & sons",
    "the <big> pot",
    "碗",
    "10 % off",
    "a, b; c",
    '"quoted"',
)

AWKWARD = (
    "=1+1",
    "+44",
    "-3",
    "@home",
    "'quote",
    "007",
    "1e3",
    "TRUE",
    "#REF!",
    "3 May",
    "a*",
    "what?",
    "~x",
    ">5",
    "=",
)
"""Texts that a spreadsheet program may take for something else."""


CHARACTERS = st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Cn", "Co", "Zl", "Zp"))


@cache
def names(*, longest: int = 12) -> SearchStrategy[str]:
    """Texts that are not empty: plain ones, awkward ones and any others."""
    others = st.text(CHARACTERS, min_size=1, max_size=longest).map(str.strip).filter(bool)
    return st.one_of(st.sampled_from(WORDS), st.sampled_from(AWKWARD), others)


@cache
def unique_names(most: int, *, least: int = 0) -> SearchStrategy[list[str]]:
    """Lists of names that differ in more than capitals."""
    return st.lists(names(), min_size=least, max_size=most, unique_by=str.casefold)


@cache
def decimals(least: str, most: str, *, digits: int = 2) -> SearchStrategy[Decimal]:
    """Exact numbers with so many digits after the point, both ends included."""
    units = st.integers(int(Decimal(least).scaleb(digits)), int(Decimal(most).scaleb(digits)))
    return units.map(lambda unit: Decimal(unit).scaleb(-digits))


@cache
def amounts(currency: str, *, least: int = 0, most: int = 100) -> SearchStrategy[Decimal]:
    """Amounts of money in whole minor units; some two hundred times as many where there are none."""
    digits = minor_digits(currency)
    scale = 1 if digits else 200
    return decimals(str(least * scale), str(most * scale), digits=digits)


@cache
def prices(currency: str, *, most: int = 60) -> SearchStrategy[Decimal]:
    """Amounts above 0."""
    return amounts(currency, least=1, most=most)


@cache
def shares_of_one(count: int) -> SearchStrategy[list[Decimal]]:
    """So many hundredths that add up to 1."""
    cuts = st.lists(st.integers(0, 100), min_size=count - 1, max_size=count - 1).map(sorted)
    return cuts.map(
        lambda inner: [Decimal(b - a) / 100 for a, b in zip([0, *inner], [*inner, 100], strict=True)]
    )


shares = decimals("0", "1")
met_by = st.sampled_from(("maker", "sale", "sponsor"))
codes = st.from_regex(r"[A-Z][A-Z0-9]{0,5}", fullmatch=True)
days = st.dates(date(2026, 1, 1), date(2032, 12, 31))


@cache
def lengths(least_mm: int, most_mm: int) -> SearchStrategy[str]:
    """Lengths in the units that people use."""
    millimetres = st.integers(least_mm, most_mm)
    quarters_of_inches = st.integers(-(-least_mm * 40 // 254), most_mm * 40 // 254)
    return st.one_of(
        millimetres.map(lambda mm: f"{mm} mm"),
        millimetres.map(lambda mm: f"{Decimal(mm) / 10} cm"),
        quarters_of_inches.map(lambda quarters: f"{Decimal(quarters) / 4} in"),
    )


@cache
def masses(least_g: int, most_g: int) -> SearchStrategy[str]:
    """Masses in the units that people use."""
    grams = st.integers(least_g, most_g)
    ounces = st.integers(-(-least_g // 28), most_g // 29)
    return st.one_of(
        grams.map(lambda g: f"{g} g"),
        grams.map(lambda g: f"{Decimal(g) / 1000} kg"),
        ounces.map(lambda oz: f"{oz} oz"),
        ounces.map(lambda oz: f"{oz // 16} lb {oz % 16} oz" if oz >= 16 else f"{oz} oz"),
    )


SAID = ("some", "some", "some", "everything", "nothing")
"""How much a plan says of what may be left out; one draw holds for a whole plan."""


def records(required: Mapping[str, Any], optional: Mapping[str, Any] | None = None) -> SearchStrategy[Tables]:
    """A table with all the required keys and some of the others; with all or none of them in some plans."""
    choices = {
        "some": st.fixed_dictionaries(dict(required), optional=dict(optional or {})),
        "everything": st.fixed_dictionaries({**required, **(optional or {})}),
        "nothing": st.fixed_dictionaries(dict(required)),
    }
    return st.shared(st.sampled_from(SAID), key="said").flatmap(choices.__getitem__)


def named_records(
    most: int, required: Mapping[str, Any], optional: Mapping[str, Any] | None = None
) -> SearchStrategy[list[Tables]]:
    """Tables with a name of their own each."""

    def filled(chosen: list[str]) -> SearchStrategy[list[Tables]]:
        return st.tuples(*(records({"name": st.just(name), **required}, optional) for name in chosen)).map(
            list
        )

    return unique_names(most).flatmap(filled)
