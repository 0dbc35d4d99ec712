from decimal import Decimal

import pytest

from salebook.plan.notes import assumptions, warnings
from tests.support.sound_plan import GONE, Place, plan_with

AGREED: list[tuple[Place, object]] = [(("beneficiaries", n, "agreed"), "2027-03-01") for n in (0, 1)]


def test_the_worked_plan_says_what_it_assumes() -> None:
    assert assumptions(plan_with()) == (
        "The sale → Price step: prices are proposed in steps of £0.50.",
        "The sale → How sure: so many are started that enough come out good with a chance of 90 %.",
        "buff stoneware → of it in drying: it shrinks 6 % until it is dry, half of all its shrinkage "
        "(common practice).",
        "buff stoneware → Waste on top: 10 % more clay for trimmings and spoiled pieces.",
        "buff stoneware → Dry part of its weight: dry clay weighs 80 % of plastic clay.",
        "SPN → Share that sells: 90 % of them sell at their price.",
        "Throwing and drying → Thrown in one go: 20 pieces are thrown in one go.",
        "Throwing and drying → Leather hard to bone dry: 7 days from leather hard to bone dry.",
        "The kiln → Shelf thickness: 15 mm.",
        "The kiln → Above the tallest piece: 10 mm.",
        "The kiln → Between pieces: 5 mm.",
        "The kiln → Days for a load: 2 days to fire, cool and unload.",
        "Clay → Who pays: the maker pays for buff stoneware.",
        "Firings → Who pays: the maker pays for biscuit.",
        "Materials → Who pays: the maker pays for glaze.",
    )


@pytest.mark.parametrize(
    ("place", "said"),
    [
        (
            ("wares", 0, "losses"),
            "VASE → Losses: 3 % in throwing, 3 % in drying, 2 % in biscuit, 4 % in glaze (common practice).",
        ),
        (
            ("wares", 0, "demand"),
            "VASE → Share that sells: 90 % of them sell at their price, whatever it is.",
        ),
        (("donated", 0, "keeps"), "SPN → Giver's part: the giver takes nothing of the price back."),
        (("kiln", "furniture_kg"), "The kiln → Shelves and props: shelves and props take no heat."),
        (("firings", 0, "start"), "biscuit → Starts at: the kiln is lit at 07:00."),
        (("hours",), "Your hours → One hour is worth: no worth is put on an hour."),
        (("overheads", 0, "met_by"), "Other costs → Who pays: the maker pays for hall."),
        (("payments",), "Ways to pay: everybody pays in cash."),
        (("outlooks",), "Kinds of day: there is one kind of day, and it goes as expected."),
        (("beneficiaries", 0, "parts"), "The groups → Parts: all groups share alike."),
    ],
)
def test_what_the_plan_leaves_out_is_said_to_be_assumed(place: Place, said: str) -> None:
    assert said not in assumptions(plan_with())
    assert said in assumptions(plan_with((place, GONE)))


def test_the_time_that_elements_are_on_is_assumed_where_the_walls_are_not_known() -> None:
    walls = ("wall_area_m2", "wall_thickness_mm", "wall_conductivity", "wall_mass_kg")
    plan = plan_with(*((("kiln", key), GONE) for key in walls))
    assert "biscuit → Elements or burner on: the elements are on 50 % of the time." in assumptions(plan)
    assert "glaze → Elements or burner on: the elements are on 65 % of the time." in assumptions(plan)


def test_a_gas_kiln_has_a_burner_and_no_elements() -> None:
    walls = ("wall_area_m2", "wall_thickness_mm", "wall_conductivity", "wall_mass_kg")
    gas = ((("kiln", "fuel"), "gas"), (("kiln", "burner_efficiency"), Decimal("0.2")))
    said = assumptions(plan_with(*((("kiln", key), GONE) for key in walls), *gas))
    assert "biscuit → Elements or burner on: the burner is on 50 % of the time." in said
    assert [text for text in said if "elements are" in text] == []


def test_what_the_plan_says_is_not_assumed() -> None:
    said = plan_with(
        (("sale", "price_step"), Decimal("0.50")), (("making",), {"batch": 20, "drying_days": 7})
    )
    assert not [text for text in assumptions(said) if text.startswith(("sale → price_step", "making"))]


def test_a_plan_of_donated_pieces_assumes_nothing_of_a_studio() -> None:
    tables = ("wares", "clays", "kiln", "firings", "energy", "materials", "work", "hours")
    plan = plan_with(*(((table,), GONE) for table in tables))
    places = {text.split(" → ")[0] for text in assumptions(plan)}
    assert {"The sale", "SPN"} == places


def test_a_plan_that_is_as_usual_gives_no_warning() -> None:
    assert warnings(plan_with(*AGREED)) == ()


@pytest.mark.parametrize(
    ("place", "value", "said"),
    [
        (
            ("beneficiaries", 0, "agreed"),
            GONE,
            "Village library → Agreed on: no day is given on which the group agreed to its "
            "name, the parts and the costs taken off.",
        ),
        (
            ("clays", 0, "drying_shrinkage"),
            Decimal("0.01"),
            "buff stoneware → of it in drying: 0.01 of 0.12 shrinkage before the biscuit firing is "
            "unusual; was it measured?",
        ),
        (
            ("wares", 0, "price"),
            Decimal("18.30"),
            "VASE → Price: £18.30 is no whole number of steps of £0.50; it stands as written.",
        ),
        (
            ("wares", 1, "seconds_price"),
            Decimal("15.20"),
            "POT → Price of a second: £15.20 is no whole number of steps of £0.50; it stands as written.",
        ),
        (
            ("donated", 0, "price"),
            Decimal("14.99"),
            "SPN → Price: £14.99 is no whole number of steps of £0.50; it stands as written.",
        ),
        (
            ("wares", 1, "seconds"),
            0,
            "POT → Price of a second: there is a price for seconds, but none are expected.",
        ),
        (
            ("wares", 1, "seconds_price"),
            26,
            "POT → Price of a second: a second costs as much as a good piece, or more.",
        ),
        (
            ("wares", 0, "demand", 2),
            [30, Decimal("0.9")],
            "VASE → How many would sell at each price: more would sell at a higher price; is that meant?",
        ),
        (("payments", 1, "fixed"), 20, "SPN: paid by card, the fee is more than the price."),
        (
            ("kiln", "burner_efficiency"),
            Decimal("0.2"),
            "The kiln → Burner efficiency: not used, as the kiln is electric.",
        ),
        (
            ("firings", 0, "on_share"),
            Decimal("0.5"),
            "biscuit → Elements or burner on: not used, as the kiln's walls are given.",
        ),
    ],
)
def test_what_may_not_be_meant_is_a_warning(place: Place, value: object, said: str) -> None:
    assert said in warnings(plan_with(*AGREED, (place, value)))
