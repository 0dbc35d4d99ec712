"""Prices, demand, fees and targets that make no sense: the advice says so in words, and never breaks."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from salebook.cli import main

FIRST = (Path(__file__).parent.parent.parent / "sample_data" / "first-sale.toml").read_text(encoding="utf-8")
BALL = 'ball = "14 oz"'
NO_NUMBER = re.compile(r"\b(?:nan|inf|infinity|None|E[+-]\d+)\b", re.IGNORECASE)

Capture = pytest.CaptureFixture[str]
Write = Callable[..., Path]


@pytest.fixture
def plan(tmp_path: Path) -> Write:
    """Return a function that writes the first sample with some of its text replaced and more behind it."""

    def write(*replaced: tuple[str, str], more: str = "") -> Path:
        text = FIRST
        for old, new in replaced:
            assert old in text
            text = text.replace(old, new, 1)
        path = tmp_path / "plan.toml"
        path.write_text(text + more, encoding="utf-8")
        return path

    return write


ODD = {
    "demand that rises with price": (
        [(BALL, BALL + "\ndemand = [[10, 0.4], [16, 0.6], [20, 0.9]]")],
        "",
        "MUG → How many would sell at each price: more would sell at a higher price; is that meant?",
    ),
    "nothing would sell": ([(BALL, BALL + "\ndemand = [[10, 0], [20, 0]]")], "", "less than 1 in 20"),
    "a fee above the price": (
        [],
        '\n[[payments]]\nname = "card"\nfixed = 20\n',
        "MUG: paid by card, the fee is more than the price.",
    ),
    "a piece that costs more than it brings": (
        [],
        '\n[[materials]]\nname = "box"\namount = 1\nper = "piece sold"\npack_amount = 1\npack_price = 18\n'
        'met_by = "sale"\n',
        "Mug: each one sold costs more than it brings.",
    ),
    "a fee of the whole price": (
        [],
        '\n[[payments]]\nname = "card"\npercent = 100\n',
        "Mug: nothing is left of the price for the groups.",
    ),
    "a target below the other income": (
        [],
        '\n[[other_income]]\nname = "tea"\nexpected = 900\n',
        "The other income expected (£900.00) makes the target of £240.00 without a piece sold.",
    ),
    "a target of nothing": ([("target = 240", "target = 0")], "", "without a piece sold"),
    "a target that nobody can reach": (
        [("target = 240", "target = 99999999")],
        "",
        "Even if every piece is sold, these prices do not make the target",
    ),
    "a kind of day without weight": (
        [],
        '\n[[outlooks]]\nname = "flood"\nweight = 0\nfactor = 0\n[[outlooks]]\nname = "fair"\n',
        "There is only one kind of day",
    ),
    "only days on which nothing sells": (
        [],
        '\n[[outlooks]]\nname = "flood"\nfactor = 0\n',
        "less than 1 in 20",
    ),
    "the smallest price": ([("price = 16", "price = 0.01")], "", "Even if every piece is sold"),
    "a very large price": ([("price = 16", "price = 99999999")], "", "more than 19 in 20"),
}
"""What is changed in the plan, what is put behind it, and what the advice then says."""


@pytest.mark.parametrize("name", ODD)
def test_what_may_not_be_meant_is_answered_in_words(name: str, plan: Write, capsys: Capture) -> None:
    replaced, more, says = ODD[name]
    assert main(["price", str(plan(*replaced, more=more))]) == 0
    shown = capsys.readouterr()
    assert shown.err == ""
    assert says in " ".join(shown.out.split())
    assert NO_NUMBER.findall(shown.out) == []


@pytest.mark.parametrize("name", ODD)
def test_the_json_answer_holds_only_numbers_that_are_numbers(name: str, plan: Write, capsys: Capture) -> None:
    replaced, more, _says = ODD[name]

    def refuse(word: str) -> None:
        raise AssertionError(word)

    assert main(["price", str(plan(*replaced, more=more)), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out, parse_constant=refuse)
    assert 0 <= answer["target"]["chance"] <= 1
    assert [rung for rung in answer["ladder"] if not 0 <= rung["chance"] <= 1] == []
    amounts = [answer["target"]["expected_net"], *(rung["expected_net"] for rung in answer["ladder"])]
    assert [amount for amount in amounts if not re.fullmatch(r"-?\d+\.\d\d", amount)] == []


FAULTS = {
    "a price of 0": ([("price = 16", "price = 0")], "", "wares → MUG → price: found 0"),
    "a seconds price of 0": (
        [("price = 16", "price = 16\nseconds_price = 0")],
        "",
        "wares → MUG → seconds_price: found 0",
    ),
    "a point of demand at 0": (
        [(BALL, BALL + "\ndemand = [[0, 1], [20, 0.5]]")],
        "",
        "wares → MUG → demand",
    ),
    "two shares for one price": (
        [(BALL, BALL + "\ndemand = [[20, 1], [20, 0.5]]")],
        "",
        "each price once",
    ),
    "a price whose sums no spreadsheet holds": (
        [("price = 16", "price = 999999999999")],
        "",
        "wares → MUG → price: found what comes to",
    ),
    "weights of 0": ([], '\n[[outlooks]]\nname = "fair"\nweight = 0\n', "outlooks"),
    "a target below 0": ([("target = 240", "target = -1")], "", "sale → target: found -1"),
    "a fee above 100 %": ([], '\n[[payments]]\nname = "card"\npercent = 101\n', "payments → card → percent"),
    "not a number": ([("price = 16", "price = nan")], "", "wares → MUG → price"),
    "endless": ([("target = 240", "target = inf")], "", "sale → target"),
    "a number wanted that nothing reaches": (
        [("wanted = 20\n", ""), ("price = 16", "price = 0.01")],
        "",
        "wares → MUG → wanted: found nothing",
    ),
}
"""What is changed in the plan, what is put behind it, and the place of the fault."""


@pytest.mark.parametrize("command", ["price", "check"])
@pytest.mark.parametrize("name", FAULTS)
def test_what_cannot_be_reckoned_is_a_fault_with_its_place(
    name: str, command: str, plan: Write, capsys: Capture
) -> None:
    replaced, more, says = FAULTS[name]
    assert main([command, str(plan(*replaced, more=more))]) == 2
    shown = capsys.readouterr()
    told = shown.err if command == "price" else shown.out
    assert says in told
    assert "Traceback" not in told
    assert "nobody foresaw" not in shown.err


def test_where_nearly_every_piece_is_needed_that_comes_first_but_for_what_each_must_fetch(
    plan: Write, capsys: Capture
) -> None:
    assert main(["price", str(plan(("target = 240", "target = 290")))]) == 0
    told = " ".join(capsys.readouterr().out.split("\n\n")[1].split())
    places = [
        told.index(text)
        for text in (
            "To reach £290.00 each piece must fetch, if all sell: £16.00.",
            "To reach £290.00 you need nearly every piece sold, 20 of 20",
            "At the prices in the plan you can expect",
        )
    ]
    assert places == sorted(places)


def test_a_number_left_out_is_said_in_the_terminal_and_in_json(plan: Write, capsys: Capture) -> None:
    path = plan(("wanted = 20\n", ""))
    assert main(["price", str(path)]) == 0
    assert "How many of Mug to offer is not said: 21 is taken" in " ".join(capsys.readouterr().out.split())
    assert main(["price", str(path), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["wares"][0]["wanted"] == 21
    assert answer["target"]["chance"] >= 0.9
    assert any("21 is taken" in warning for warning in answer["warnings"])


def test_it_says_what_it_does_not_know(plan: Write, capsys: Capture) -> None:
    assert main(["price", str(plan())]) == 0
    _before, found, after = capsys.readouterr().out.partition("\nWhat it does not know\n")
    unknown = " ".join(after.partition("\nPlease note\n")[0].split())
    assert found
    assert "no best price can be named" in unknown
    assert "There is only one kind of day" in unknown
