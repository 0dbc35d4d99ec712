"""What was learned is told, what changes is asked, and the plan of the next sale stands."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from salebook.event.entries import Line
from salebook.plan.load import read_plan
from salebook.plan.model import Plan
from salebook.start.asking import Terminal
from salebook.start.locale_defaults import LocaleDefaults
from salebook.start.next_dialogue import NextSale, plan_as_proposed, plan_by_asking_anew
from tests.support.past_sale import harbour, lessons, mugs, sold
from tests.support.talk import Talk

HOME = LocaleDefaults(today=date(2027, 7, 1), locale="en_US", currency="USD")
SOLD = sold(*mugs(1, 27))
ANSWERS = ("7 October 2028", "Autumn table", "£900", "40", "none", "0", "3", "0", "22", "")


def sale(lines: tuple[Line, ...] = SOLD, **filled_in: Any) -> NextSale:
    made = {"made": {"MUG": 28, "BOWL": 0, "JUG": 0}}
    return NextSale(lessons=lessons(lines=lines, **(made | filled_in)), defaults=HOME)


def read(text: str) -> Plan:
    return read_plan(text, file="next.toml")


def asked(*lines: str) -> tuple[Plan, Talk]:
    talk = Talk(*lines)
    return read(plan_by_asking_anew(sale(), Terminal(talk.ask, talk.say))), talk


def test_only_what_changes_is_asked_and_stands_in_the_plan() -> None:
    plan, talk = asked(*ANSWERS)
    assert talk.lines == []
    assert (plan.sale.title, plan.sale.days, plan.sale.target) == (
        "Autumn table",
        (date(2028, 10, 7),),
        Decimal(900),
    )
    assert [(ware.code, ware.wanted, ware.price) for ware in plan.wares] == [("MUG", 40, Decimal(22))]
    assert [(given.code, given.count) for given in plan.donated] == [("LAMP", 3)]
    assert [left.numbers for left in plan.carried] == [("MUG-028",)]
    assert (plan.kiln, plan.clays) == (harbour().plan.kiln, harbour().plan.clays)


def test_enter_alone_takes_what_is_proposed() -> None:
    plan, talk = asked(*[""] * 12)
    assert plan == read(plan_as_proposed(sale()))
    assert "On which day is it" in talk.text
    assert "  Enter takes: Saturday, 17 June 2028; Sunday, 18 June 2028." in talk.text
    assert "on the table (Harbour mug)? Beside 1 that are left over." in talk.text
    assert 'For example: 36, or "none". Enter takes: 36.' in talk.text
    assert "What shall each of them cost (Harbour mug)? Last time: £20.00." in talk.text


def test_one_can_go_back_and_change_an_answer_at_the_end() -> None:
    plan, _talk = asked("", "Wrong", "back", "Right", *[""] * 9, "3", "£950", "")
    assert (plan.sale.title, plan.sale.target) == ("Right", Decimal(950))


def test_other_money_is_refused() -> None:
    plan, talk = asked("", "", "900 USD", "£900", *[""] * 10)
    assert plan.sale.target == 900
    assert "an amount in GBP" in talk.text


def test_a_plan_in_which_nothing_is_for_sale_is_told_before_it_is_written() -> None:
    nothing = Talk(*[""] * 3, *["0"] * 5, "4", "10", "", "")
    past_sale = NextSale(lessons=lessons(), defaults=HOME)
    plan = read(plan_by_asking_anew(past_sale, Terminal(nothing.ask, nothing.say)))
    assert [ware.code for ware in plan.wares] == ["MUG"]
    assert "This does not go together yet" in nothing.text


def test_the_plan_says_in_comments_what_the_terminal_says() -> None:
    past_sale = sale()
    text = plan_as_proposed(past_sale).replace("\n# ", " ")
    told = list(past_sale.told())
    assert told[0] == "Learned from Harbour lamps pottery weekend, Sat, 19 Jun 2027:"
    for line in told[1:-1]:
        assert not line.startswith("  ") or line.strip() in text


def test_what_is_only_proposed_is_marked() -> None:
    text = plan_as_proposed(sale())
    assert (
        "# Last time: Sat, 19 Jun 2027, Sun, 20 Jun 2027.\n# Assumed: the same weekdays, 52 weeks later."
        in text
    )


@pytest.mark.parametrize(
    "filled_in",
    [
        {"lines": ()},
        {"lines": (), "made": {}},
        {"lines": (), "made": {"MUG": 0, "BOWL": 0, "JUG": 0}},
        {"lines": sold(*mugs(1, 28))},
        {"lines": sold(*mugs(1, 36), *(f"CARD-{n:03d}" for n in range(1, 16))), "made": {}},
    ],
)
def test_books_in_which_nothing_or_all_was_sold_or_counted_make_a_sound_plan(
    filled_in: dict[str, Any],
) -> None:
    text = plan_as_proposed(sale(**filled_in))
    assert read(text).wares
