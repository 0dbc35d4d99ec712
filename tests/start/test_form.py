"""The questions as a form say what the dialogue says, and make the plan that it makes."""

from collections.abc import Mapping
from datetime import date

import pytest

from salebook.plan.load import read_plan
from salebook.start.dialogue import NUMBER_TAKEN, faults_in
from salebook.start.form import SURE, Asked, Form, form_of, reckoned
from salebook.start.locale_defaults import LocaleDefaults
from salebook.start.questions import FIRST, QUESTIONS

HOME = LocaleDefaults(today=date(2027, 3, 1))
TYPED = {
    "maker": "Quince Yard pots",
    "days": "12 and 13 June 2027",
    "groups": "Library",
    "target": "300",
    "piece": "mug",
    "number": "40",
    "price": "16",
    "shelf": "no kiln",
    "hall": "nothing",
}


def form(typed: Mapping[str, str] | None = None, *unknown: str) -> Form:
    return form_of(typed or {}, unknown, HOME)


def field(shown: Form, key: str) -> Asked:
    return next(one for one in shown.fields if one.key == key)


def test_every_question_has_its_field_in_order() -> None:
    shown = form()
    assert [one.key for one in shown.fields] == [question.key for question in QUESTIONS]
    assert (len(shown.first), len(shown.rest)) == (FIRST, len(QUESTIONS) - FIRST)


def test_the_answers_make_a_sound_plan() -> None:
    shown = reckoned(form(TYPED))
    plan = read_plan(shown.plan, file="plan")
    assert shown.is_understood
    assert (plan.sale.maker, plan.wares[0].wanted, plan.sale.days[1]) == (
        "Quince Yard pots",
        40,
        date(2027, 6, 13),
    )
    assert set(shown.given) == set(TYPED)


def test_an_answer_in_other_words_is_said_back() -> None:
    shown = form(TYPED)
    assert field(shown, "days").says.strip() == "That is Saturday, 12 June 2027; Sunday, 13 June 2027."
    assert field(shown, "maker").says == ""


def test_what_is_not_understood_says_what_was_expected_at_its_field() -> None:
    shown = form(TYPED | {"target": "lots"})
    assert field(shown, "target").trouble.strip().startswith("Expected: an amount of money")
    assert not shown.is_understood
    assert "target" not in shown.given


def test_what_nobody_knows_is_taken_for_now_with_its_reason() -> None:
    for shown in (form({}, "clay"), form({"clay": "don't know"})):
        assert field(shown, "clay").says.strip() == "Then this is taken for now: stoneware (look at the bag)."
        assert (field(shown, "clay").is_unknown, field(shown, "clay").typed) == (True, "")


def test_an_answer_counts_more_than_an_earlier_do_not_know() -> None:
    shown = form({"clay": "porcelain"}, "clay")
    assert (shown.given["clay"].value, field(shown, "clay").is_unknown) == ("porcelain", False)


def test_only_what_concerns_the_person_is_asked() -> None:
    assert not field(form(TYPED), "energy").concerns
    assert field(form(TYPED), "firing_cost").concerns
    assert field(form(TYPED | {"shelf": "round 46 cm"}), "energy").concerns


@pytest.mark.parametrize(
    ("is_sure", "groups"), [("yes", ("Library and Choir",)), ("no", ("Library", "Choir"))]
)
def test_a_doubt_is_asked_and_its_answer_is_kept(is_sure: str, groups: tuple[str, ...]) -> None:
    typed = TYPED | {"groups": "Library and Choir"}
    (doubt,) = field(form(typed), "groups").doubts
    assert not form(typed).is_understood
    shown = form(typed | {f"{SURE}{doubt}": is_sure})
    assert shown.is_understood
    assert shown.given["groups"].value == groups
    assert field(shown, "groups").sure == {doubt: is_sure}


def test_an_empty_form_makes_a_plan_of_what_is_assumed() -> None:
    shown = reckoned(form())
    assert shown.is_understood
    assert faults_in(shown.plan) == ()
    assert shown.given == {}


def test_where_no_number_makes_the_target_one_is_taken_and_that_is_said() -> None:
    shown = reckoned(form(TYPED | {"target": "900000", "number": ""}))
    assert shown.so_far.answers["number"] == NUMBER_TAKEN
    assert field(shown, "number").says.startswith("No number of pieces makes the target")


def test_what_does_not_go_together_stands_at_the_question_that_mends_it() -> None:
    typed = TYPED | {"shelf": "round 20 cm", "size": "11 x 30 cm"}
    shown = reckoned(form(typed))
    assert field(shown, "shelf").trouble.startswith("This does not go together yet:")
    assert not shown.is_understood
