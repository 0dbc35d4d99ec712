"""What was said becomes a sound plan, with a comment wherever something was assumed."""

import re
import tomllib
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from salebook.base.errors import Fault
from salebook.making.losses import run_of
from salebook.plan.load import read_plan
from salebook.plan.model import Plan
from salebook.plan.money import is_locale
from salebook.plan.quantities import Length, Mass
from salebook.reckoning import reckon
from salebook.start.asking import BACK, HELP, UNKNOWN, with_assumed
from salebook.start.dialogue import blank_plan, faults_in, plan_by_asking, question_to_mend
from salebook.start.locale_defaults import LocaleDefaults
from salebook.start.plan_text import LOCALES, assumed_in, code_of
from salebook.start.question import Answer, SoFar
from salebook.start.questions import QUESTIONS
from tests.support.pseudo import in_pseudo
from tests.support.talk import ANSWERS, HOME, Talk, script

KEYS = [question.key for question in QUESTIONS if question.key in ANSWERS]
PLACES = [
    *[("en_GB", "GBP"), ("en_US", "USD"), ("en_CA", "CAD")],
    *[("de_CH", "CHF"), ("ja_JP", "JPY"), ("ar_KW", "KWD")],
]


def text_from(*lines: str, defaults: LocaleDefaults = HOME) -> str:
    talk = Talk(*lines)
    return plan_by_asking(defaults, {}, ask=talk.ask, say=talk.say, every=True)


def plan_from(*lines: str, defaults: LocaleDefaults = HOME) -> Plan:
    return read_plan(text_from(*lines, defaults=defaults), file="plan.toml")


def test_everything_that_was_said_stands_in_the_plan() -> None:
    plan = plan_from(*script())
    ware, clay, kiln = plan.wares[0], plan.clays[0], plan.kiln
    assert kiln is not None
    assert (plan.sale.title, plan.sale.maker) == ("Open shed", "Millrace pots")
    assert plan.sale.days == (date(2027, 6, 12), date(2027, 6, 13))
    assert (plan.sale.currency, plan.sale.locale, plan.sale.target) == ("GBP", "en_GB", Decimal(600))
    assert [(group.name, group.parts) for group in plan.beneficiaries] == [
        ("Village library", 2),
        ("Youth choir", 1),
    ]
    assert (ware.code, ware.name, ware.wanted, ware.price) == ("JUG", "Jug", 36, Decimal(24))
    assert ware.made_height is not None
    assert ware.made_diameter is not None
    assert (ware.ball, ware.made_height, ware.made_diameter) == (
        Mass.parse("1 lb 2 oz"),
        Length.parse("14 cm"),
        Length.parse("11 cm"),
    )
    assert (clay.name, clay.pack.kg, clay.pack_price) == (
        "Speckled stoneware",
        Decimal("12.5"),
        Decimal("15.40"),
    )
    assert (clay.shrinkage, clay.met_by) == (Decimal("0.12"), "sponsor")
    assert (kiln.shelf.width, kiln.shelf.depth) == (Length.parse("40 cm"), Length.parse("45 cm"))
    assert (kiln.usable_height, kiln.shelves) == (Length.parse("50 cm"), 4)
    assert kiln.rated_kw == Decimal("7.2")
    assert [firing.steps[-1].to.to_text() for firing in plan.firings] == ["1000 °C", "2264 °F"]
    assert {firing.met_by for firing in plan.firings} == {"maker"}
    assert plan.energy is not None
    assert plan.energy.rates[0].price == Decimal("0.272")
    assert [(cost.name, cost.amount, cost.met_by) for cost in plan.overheads] == [
        ("hall", Decimal(35), "sale")
    ]
    cash, card = plan.payments
    assert (cash.cash, card.percent, card.fixed) == (True, Decimal("1.69"), Decimal("0.1"))
    assert plan.payment_shares == (Decimal("0.4"), Decimal("0.6"))


def test_nothing_is_marked_as_assumed_where_everything_was_said() -> None:
    assert "# Assumed" not in text_from(*script())


@pytest.mark.parametrize("key", sorted(set(ANSWERS) - {"groups"}))
def test_whatever_one_does_not_know_is_assumed_and_marked(key: str) -> None:
    other = {"shelf": {}, "ways": {"fee": "-", "cards": "-"}, "hall": {"hall_paid": "-"}}.get(key, {})
    text = text_from(*script(**{key: "don't know", **other}))
    assert faults_in(text) == ()
    assert text.count("# Assumed: ") == assumed_in(text) == (2 if key == "firing_paid" else 1)


def test_what_is_assumed_is_counted_in_any_language() -> None:
    with in_pseudo():
        text = text_from(*script(piece="don't know"))
        assert faults_in(text) == ()
        assert assumed_in(text) == 1


@pytest.mark.parametrize(("locale", "currency"), PLACES)
def test_somebody_who_knows_nothing_gets_a_sound_plan(locale: str, currency: str) -> None:
    defaults = LocaleDefaults(today=date(2027, 3, 10), locale=locale, currency=currency)
    plan = plan_from(*["don't know"] * len(with_assumed(QUESTIONS, defaults, {})), "", defaults=defaults)
    assert (plan.sale.locale, plan.sale.currency) == (locale, currency)
    assert reckon(plan).advice.target.chance >= 0.9
    assert plan.sale.days == (date(2027, 6, 5),)


def test_without_a_kiln_no_firing_is_planned_and_its_price_is_a_cost() -> None:
    no_kiln = dict.fromkeys(("inside", "shelves", "power", "biscuit", "glaze", "energy"), "-")
    plan = plan_from(*script(shelf="no kiln", firing_paid="-", firing_cost="£24", **no_kiln))
    assert (plan.kiln, plan.firings) == (None, ())
    assert [(cost.name, cost.amount, cost.met_by) for cost in plan.overheads] == [
        ("firing", Decimal(24), "sale"),
        ("hall", Decimal(35), "sale"),
    ]


def test_a_gas_kiln_is_marked_as_a_rough_guess() -> None:
    text = text_from(*script(power="gas"))
    assert faults_in(text) == ()
    assert 'fuel = "gas"' in text
    assert "# Assumed: the two below are rough." in text


def test_another_currency_than_the_places_brings_its_own_locale() -> None:
    plan = plan_from(*script(target="€600", price="24 €", bag="12.5 kg at 15", hall="35", fee="1.69 %"))
    assert (plan.sale.currency, plan.sale.locale) == ("EUR", "en_IE")


def test_a_number_left_to_the_target_is_worked_out() -> None:
    plan = plan_from(*script(number="don't know"))
    assert "wanted" not in plan.wares[0].model_fields_set
    assert reckon(plan).plan.wares[0].wanted > 25


def test_where_no_number_makes_the_target_one_is_taken_for_now() -> None:
    talk = Talk(*script(number="don't know", price="0.02"))
    text = plan_by_asking(HOME, {}, ask=talk.ask, say=talk.say, every=True)
    assert "No number of pieces makes the target: 40 are taken for now." in talk.text
    assert read_plan(text, file="plan.toml").wares[0].wanted == 40


def test_a_piece_that_is_too_tall_for_the_kiln_asks_for_the_kiln_again() -> None:
    talk = Talk(*script(inside="12 cm")[:-1], "50 cm", "")
    text = plan_by_asking(HOME, {}, ask=talk.ask, say=talk.say, every=True)
    assert "This does not go together yet: Jug is too tall for the empty kiln." in talk.text
    assert faults_in(text) == ()


def test_a_piece_that_is_too_wide_asks_for_the_shelf_again_and_one_can_go_back_to_the_piece() -> None:
    talk = Talk(*script(shelf="round 9 cm")[:-1], "back", "", "round 46 cm", "")
    text = plan_by_asking(HOME, {}, ask=talk.ask, say=talk.say, every=True)
    assert "too wide for the empty shelf" in talk.text
    assert 'diameter = "46 cm"' in text


@pytest.mark.parametrize("target", ["¥90000", "90000 JPY"])
@pytest.mark.parametrize(("locale", "currency"), [("en_GB", "GBP"), ("de_DE", "EUR")])
def test_yen_can_be_written_anywhere(target: str, locale: str, currency: str) -> None:
    yen = {"target": target, "price": "1600", "bag": "12.5 kg for 1500", "energy": "27", "hall": "3500"}
    defaults = LocaleDefaults(today=HOME.today, locale=locale, currency=currency)
    plan = plan_from(*script(**yen, fee="1.69 %"), defaults=defaults)
    assert (plan.sale.currency, plan.sale.target) == ("JPY", Decimal(90_000))


def test_every_currency_has_a_locale_that_is_one() -> None:
    assert {name for name in LOCALES.values() if not is_locale(name)} == set()


def test_all_answers_are_shown_before_the_plan_is_written() -> None:
    talk = Talk(*script(ball="don't know"))
    plan_by_asking(HOME, {}, ask=talk.ask, say=talk.say, every=True)
    shown = talk.text[talk.text.index("   1  ") :]
    assert "   2  On which day is it, or on which days?  Saturday, 12 June 2027; Sunday, 13 June" in shown
    assert "What is the sale called?  Open shed" in shown
    assumed = shown[shown.index("Assumed until you know better, and marked in the plan:") :]
    assert f"  {len(ANSWERS)}  How much clay do you weigh out for one (jug)?  450 g\n" in assumed
    assert shown.count("\n") >= len(ANSWERS)


DOZEN = (
    "maker",
    "days",
    "groups",
    "target",
    "piece",
    "number",
    "price",
    "clay",
    "ball",
    "shelf",
    "energy",
    "hall",
)


def dozen(**other: str) -> list[str]:
    """Return the answers to the dozen questions that are asked first."""
    return [{**ANSWERS, **other}[key] for key in DOZEN]


def test_after_a_dozen_questions_the_rest_is_assumed_said_and_marked() -> None:
    talk = Talk(*dozen(), "")
    given: dict[str, Answer] = {}
    text = plan_by_asking(HOME, given, ask=talk.ask, say=talk.say)
    assert faults_in(text) == ()
    assert "[12/12] What does the hall" in talk.text
    assert set(given) == set(DOZEN)
    assert "How hot does your biscuit firing become?  1000 °C" in talk.text.partition("Assumed until")[2]
    assert "# Assumed: 1000 °C" in text
    assert "# Assumed: £" not in text


def test_without_a_kiln_a_dozen_are_asked_too() -> None:
    talk = Talk(*dozen(shelf="no kiln", energy="£24"), "")
    text = plan_by_asking(HOME, {}, ask=talk.ask, say=talk.say)
    assert "[11/12] What will firing cost" in talk.text
    assert "[kiln]" not in text


def test_more_asks_what_was_only_assumed_and_nothing_twice() -> None:
    more = [answer for key, answer in zip(KEYS, script(), strict=False) if key not in DOZEN]
    talk = Talk(*dozen(), "more", *more, "")
    assert plan_by_asking(HOME, {}, ask=talk.ask, say=talk.say) == text_from(*script())
    assert talk.text.count("What do you make for it?") == 3  # asked once, listed twice
    assert "more asks all" not in talk.text.rpartition("Write it?")[2]


def test_back_from_the_first_of_the_rest_goes_to_the_last_of_the_dozen() -> None:
    talk = Talk(*dozen(), "more", "back", "£50", *["don't know"] * 20)
    given: dict[str, Answer] = {}
    with pytest.raises(EOFError):
        plan_by_asking(HOME, given, ask=talk.ask, say=talk.say)
    assert given["hall"].value == 50


def test_an_assumption_is_replaced_by_its_number_and_what_follows_from_it_changes() -> None:
    talk = Talk(*dozen(), "13", "Open shed", "9", "2 lb", "")
    text = plan_by_asking(HOME, {}, ask=talk.ask, say=talk.say)
    assert 'title = "Open shed"' in text
    assert "# Assumed: 140 mm x 120 mm" in text


def test_a_change_that_opens_other_questions_leaves_them_assumed() -> None:
    talk = Talk(*dozen(shelf="no kiln", energy="£24"), "10", "round 46 cm", "30p", "")
    text = plan_by_asking(HOME, {}, ask=talk.ask, say=talk.say)
    assert faults_in(text) == ()
    assert "price = 0.3 " in text
    assert "# Assumed: 7.2 kW" in text


def test_each_doubt_about_the_groups_is_asked_by_itself_and_the_list_said_back() -> None:
    said = "Larkfield Help, Plate & Hope, the Garden Fund and Larkfield Meadows"
    lines = dozen(groups=said)
    lines[3:3] = ["yes", "no"]
    talk = Talk(*lines, "")
    plan = read_plan(plan_by_asking(HOME, {}, ask=talk.ask, say=talk.say), file="plan.toml")
    names = ["Larkfield Help", "Plate & Hope", "the Garden Fund", "Larkfield Meadows"]
    assert [group.name for group in plan.beneficiaries] == names
    assert 'Is "Plate & Hope" one group?' in talk.text
    assert 'Is "the Garden Fund and Larkfield Meadows" one group?' in talk.text
    assert "1. Larkfield Help, 2. Plate & Hope, 3. the Garden Fund, 4. Larkfield Meadows" in talk.text


def test_three_groups_with_and_between_are_taken_apart_one_by_one() -> None:
    lines = dozen(groups="Friends of Wood and Weir and Choir")
    lines[3:3] = ["yes", "no"]
    talk = Talk(*lines, "")
    text = plan_by_asking(HOME, {}, ask=talk.ask, say=talk.say)
    assert 'name = "Friends of Wood and Weir"' in text
    assert 'name = "Choir"' in text


def test_a_price_of_energy_that_nobody_pays_is_taken_only_after_a_yes() -> None:
    lines = dozen(energy="28")
    lines[11:11] = ["", "no", "about 28p"]
    talk = Talk(*lines, "")
    text = plan_by_asking(HOME, {}, ask=talk.ask, say=talk.say)
    assert "Is 28 GBP meant? (yes or no)" in talk.text
    assert "price = 0.28 " in text


def test_how_many_to_start_is_said_for_the_number_on_the_table() -> None:
    talk = Talk(*dozen(number="100ish"), "")
    text = plan_by_asking(HOME, {}, ask=talk.ask, say=talk.say)
    plan = read_plan(text, file="plan.toml")
    assert plan.wares[0].wanted == 100
    started = run_of(plan.wares[0], plan).started
    assert f"That is 100 on the table: start {started}, since some break." in talk.text


def test_an_answer_is_changed_by_its_number() -> None:
    plan = plan_from(*script()[:-1], "what", "99", "6", "40", "1", "Weir pots", "")
    assert (plan.wares[0].wanted, plan.sale.maker) == (40, "Weir pots")


def test_what_no_answer_mends_is_told_and_the_plan_can_be_written_all_the_same(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(LOCALES, "JPY", "xx_XX")
    yen = {"target": "¥90000", "price": "1600", "bag": "12.5 kg for 1500", "energy": "27", "hall": "3500"}
    talk = Talk(*script(**yen, fee="1.69 %"))
    text = plan_by_asking(HOME, {}, ask=talk.ask, say=talk.say, every=True)
    assert 'does not go together yet: "xx_XX", where a language and country' in talk.text
    assert "salebook check helps" in talk.text
    assert 'title = "Open shed"' in text


def test_twins_that_slipped_through_lead_to_the_question_on_groups() -> None:
    fault = Fault(file="", place="beneficiaries → name", found="twins", expected="one each")
    known = SoFar(defaults=HOME, answers={"groups": Answer(value=("A", "a"), words="A; a")})
    assert question_to_mend((fault,), known) == "groups"
    assert question_to_mend((fault,), SoFar(defaults=HOME)) == ""


def test_back_from_the_list_of_answers_is_the_last_question() -> None:
    talk = Talk(*script()[:-1], "back", "7", "")
    text = plan_by_asking(HOME, {}, ask=talk.ask, say=talk.say, every=True)
    assert read_plan(text, file="plan.toml").payment_shares == (Decimal("0.3"), Decimal("0.7"))


@pytest.mark.parametrize(("locale", "currency"), PLACES)
def test_the_blank_plan_is_sound_and_marks_every_example(locale: str, currency: str) -> None:
    text = blank_plan(LocaleDefaults(today=date(2027, 3, 10), locale=locale, currency=currency))
    assert faults_in(text) == ()
    assert text.count("# Example: ") >= 20
    assert "Assumed" not in text


def test_the_blank_plan_gets_the_whole_advice() -> None:
    advice = reckon(read_plan(blank_plan(HOME), file="plan.toml")).advice
    assert advice.target.best_change is not None
    assert len({rung.chance for rung in advice.ladder}) > 5


NAMES = st.text(min_size=1, max_size=60).map(str.strip)


def is_a_name(text: str) -> bool:
    """Whether a text can be a name, and is no word of the dialogue's own."""
    words = {*BACK, *HELP, *UNKNOWN}
    return bool(text) and text.isprintable() and text.lower() not in words


def is_a_piece(text: str) -> bool:
    """Whether a name is one that leaves no doubt whether it is one piece."""
    return is_a_name(text) and not re.search(r"[,;&+]|and", text, re.IGNORECASE)


@pytest.mark.slow
@settings(suppress_health_check=[HealthCheck.too_slow])
@given(name=NAMES.filter(is_a_piece))
def test_names_stand_in_the_plan_as_they_were_said(name: str) -> None:
    text = text_from(*script(title=name, maker=name, clay=name, piece=name))
    tables: dict[str, Any] = tomllib.loads(text)
    assert [tables["sale"]["title"], tables["sale"]["maker"], tables["clays"][0]["name"]] == [name] * 3
    assert faults_in(text) == ()


@given(st.text(max_size=20))
def test_a_code_can_be_made_of_any_name(name: str) -> None:
    code = code_of(name)
    assert code[0].isalpha()
    assert code.isascii()
    assert 1 <= len(code) <= 3


@pytest.mark.parametrize(
    ("name", "code"),
    [("Pouring jug", "POU"), ("mug", "MUG"), ("2 cups", "CUP"), ("Écuelle", "ECU"), ("茶碗", "P")],
)
def test_a_code_is_made_of_the_first_letters(name: str, code: str) -> None:
    assert code == code_of(name)
