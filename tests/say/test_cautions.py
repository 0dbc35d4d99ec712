import re

import pytest

from salebook.say.cautions import CAUTIONS, TOPICS, Caution, cautions_on

WORDS = {
    "hot": "cool before opening",
    "fumes": "electric kilns too",
    "wiring": "qualified electrician only",
    "gas": "qualified gas fitter only",
    "dust": "Clean wet",
    "feet": "polish feet wet",
    "mask": "extraction and a mask for fine dust",
    "fibre": "kiln's fibre lining",
    "eyes": "dark glasses",
    "left on": "has switched off",
    "lifting": "Lift close to the body",
    "night": "tested cut-out",
    "alarm": "smoke alarm",
    "call": "within call",
    "counting": "Two people",
    "gift": "not a gift for tax",
    "tax": "sales tax or VAT",
    "room": "every way out free",
    "food": "be able to say what is in it",
}


@pytest.mark.parametrize("needed", WORDS.values(), ids=list(WORDS))
def test_each_danger_is_named_in_plain_words(needed: str) -> None:
    assert any(needed in caution.text for caution in CAUTIONS)


@pytest.mark.parametrize("caution", CAUTIONS, ids=lambda caution: caution.about)
def test_every_caution_says_whose_rule_comes_first_and_where_it_is_from(caution: Caution) -> None:
    assert (caution.decides.strip() != "", caution.source.endswith(".")) == (True, True)


@pytest.mark.parametrize("topic", TOPICS)
def test_no_topic_is_without_a_caution(topic: str) -> None:
    assert [caution.topic for caution in CAUTIONS].count(topic) >= 3  # type: ignore[arg-type] # a topic of TOPICS


def test_cautions_on_topics_keep_their_order_and_no_other_topic() -> None:
    assert {caution.topic for caution in cautions_on("making", "firing")} == {"making", "firing"}


def test_limits_for_ware_that_touches_food_are_those_of_the_directive() -> None:
    """Council Directive 84/500/EEC, article 2, as amended by 2005/31/EC: lead and cadmium."""
    text = next(caution.text for caution in cautions_on("food") if "EU" in caution.about)
    assert re.findall(r"\d+\.\d+", text) == ["0.8", "0.07", "4.0", "0.3", "1.5", "0.1"]
