"""Every question takes what it proposes, and tidies it such that it reads the same again."""

from decimal import Decimal

import pytest

from salebook.base.errors import UnfitError
from salebook.start.asking import with_assumed
from salebook.start.energy_price import USUAL, Rate, usual_band
from salebook.start.locale_defaults import LocaleDefaults
from salebook.start.question import Answer, Question, SoFar, say
from salebook.start.questions import FIRST, QUESTIONS
from salebook.start.spoken_money import Money
from tests.support.talk import ANSWERS, HOME


def so_far(**other: str) -> SoFar:
    """Return what was said by somebody who knows everything."""
    answers: dict[str, Answer] = {}
    for question in QUESTIONS:
        said = {**ANSWERS, **other}.get(question.key)
        if said is not None:
            answers[question.key] = question.answer(said, SoFar(defaults=HOME, answers=answers))
    return SoFar(defaults=HOME, answers=answers)


@pytest.mark.parametrize("shelf", ["round 46 cm", "no kiln"])
def test_a_dozen_are_asked_first(shelf: str) -> None:
    known = so_far(shelf=shelf)
    first = [question for question in QUESTIONS[:FIRST] if question.concerns(known)]
    assert len(first) == 12
    assert ("energy" in {question.key for question in first}) == (shelf != "no kiln")


def test_no_key_stands_twice() -> None:
    keys = [question.key for question in QUESTIONS]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda question: question.key)
def test_what_is_assumed_or_offered_is_an_answer_that_reads_the_same(question: Question) -> None:
    known = so_far()
    proposed = [say(question.assumed, known), *([say(question.offered, known)] if question.offered else [])]
    assert proposed == [question.answer(text, known).words for text in proposed]


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda question: question.key)
def test_a_tidied_answer_reads_the_same_again(question: Question) -> None:
    known = so_far()
    if question.key in known.answers:
        answer = known.answers[question.key]
        assert answer == question.answer(answer.words, known)


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda question: question.key)
@pytest.mark.parametrize("text", ["", " ", "\x1b[2J", "x" * 300], ids=["empty", "blank", "control", "long"])
def test_no_question_takes_nonsense(question: Question, text: str) -> None:
    with pytest.raises(UnfitError, match=r"\w"):
        question.reader.read(text, so_far())


@pytest.mark.parametrize(
    ("key", "said", "tidied"),
    [
        ("groups", "Library, Choir", "Library; Choir"),
        ("groups", "Friends of the park, north; Choir", "Friends of the park, north; Choir"),
        ("groups", "Library", "Library"),
        ("parts", "yes", "equally"),
        ("parts", "3 1", "3, 1"),
        ("target", "€1,200", "EUR 1200"),
        ("number", "40", "40"),
        ("bag", "25 lb at 20", "25 lb at 20"),
        ("bag", "12.5kg bag, £28.40 each", "12.5 kg at 28.4"),
        ("bag", "£28.40 for a 12.5 kg bag", "12.5 kg at 28.4"),
        ("bag", "a bag of 12,5 kg costs 28,40", "12.5 kg at 28.4"),
        ("bag", "25 pounds at twenty pounds", "25 lb at 20"),
        ("groups", "Library, Choir, and Scouts", "Library; Choir; Scouts"),
        ("target", "four thousand pounds", "GBP 4000"),
        ("ball", "ten ounces", "10 oz"),
        ("number", "100ish", "100"),
        ("number", "a hundred", "100"),
        ("size", "5in tall 4in wide", "5 in x 4 in"),
        ("inside", "2 foot", "24 in"),
        ("shelf", "2 foot by 18 inches", "24 in x 18 in"),
        ("energy", "8p gas", "0.08 gas"),
        ("energy", "gas, 8p", "0.08 gas"),
        ("bag", "a 12.5 kg bag is £28.40", "12.5 kg at 28.4"),
        ("ball", "450g", "450 g"),
        ("shelf", "Round 46 cm", "round 46 cm"),
        ("shelf", "none", "no kiln"),
        ("power", "Gas", "gas"),
        ("biscuit", "1832 F", "1832 °F"),
        ("energy", "27.5p", "0.275"),
        ("energy", "0.2735", "0.2735"),
        ("clay_paid", "I do", "me"),
        ("hall", "0", "nothing"),
        ("ways", "both", "cash and card"),
    ],
)
def test_answers_are_tidied(key: str, said: str, tidied: str) -> None:
    question = next(question for question in QUESTIONS if question.key == key)
    assert tidied == question.answer(said, so_far()).words


@pytest.mark.parametrize(
    ("key", "said", "expected"),
    [
        ("title", "", "a name"),
        ("clay", " ", "a name"),
        ("groups", "Library, library", 'here are "Library", "library"'),
        ("parts", "2, 1, 1", "2 whole numbers"),
        ("parts", "2, 0", "2 whole numbers"),
        ("price", "0", "above 0"),
        ("price", "$16", "go back to the target"),
        ("target", "0", "above 0"),
        ("piece", "mug, bowl, vase", "one kind of piece for now"),
        ("glaze", "cone 06", "which a cone is not"),
        ("glaze", "Cone 6", "which a cone is not"),
        ("days", "Fri 12 June 2027", "that is Saturday, 12 June 2027"),
        ("number", "0", "a whole number from 1 to 10 000"),
        ("number", "lots", "a whole number from 1 to 10 000"),
        ("bag", "12.5 kg", '"at" between'),
        ("ball", "450", "a mass with its unit"),
        ("size", "11 by 9", "with their unit"),
        ("shelf", "round", "how far across"),
        ("shelf", "round 46", "with the unit"),
        ("glaze", "90", "a temperature from 500"),
        ("clay_paid", "the king", '"me", "the takings" or "a sponsor"'),
        ("cards", "11", "a whole number from 0 to 10"),
    ],
)
def test_what_does_not_fit_is_told(key: str, said: str, expected: str) -> None:
    question = next(question for question in QUESTIONS if question.key == key)
    with pytest.raises(UnfitError) as told:
        question.reader.read(said, so_far())
    assert expected in str(told.value)


@pytest.mark.parametrize(
    ("key", "said", "doubt"),
    [
        ("groups", "A & B", 'Is "A & B" one group?'),
        ("groups", "St Anne's nursery and Lifeboat crew", "one group?"),
        ("groups", "Library, Choir and Scouts", 'Is "Choir and Scouts" one group?'),
        ("groups", "A & B;", ""),
        ("groups", "Library, Andover choir", ""),
        ("groups", "Library, Choir, and Scouts", ""),
        ("energy", "28", "People pay from about 0.056 to 1.4 GBP for one. Is 28 GBP meant?"),
        ("energy", "0.003", "Is 0.003 GBP meant?"),
        ("energy", "nothing", "Is 0 GBP meant?"),
        ("energy", "8 gas", "People pay from about 0.014 to 0.35 GBP for one."),
        ("energy", "about 28p", ""),
        ("energy", "28 pence", ""),
        ("energy", "0.28", ""),
        ("energy", "28 cents", ""),
        ("energy", "8p gas", ""),
        ("piece", "cup and saucer", 'Is "cup and saucer" one piece'),
        ("piece", "hand bowl", ""),
        ("days", "12/4/2027", "Is Monday, 12 April 2027 meant?"),
        ("days", "1/2/2027", "Numbers alone read two ways"),
        ("days", "12.4.2027", ""),
        ("days", "13/4/2027", ""),
        ("days", "4 Dec 2025", "Is Thursday, 4 December 2025, which is past, meant?"),
        ("days", "10 March 2027", ""),
    ],
)
def test_what_may_be_meant_otherwise_is_asked(key: str, said: str, doubt: str) -> None:
    question = next(question for question in QUESTIONS if question.key == key)
    doubts = question.reader.doubts(said, question.reader.read(said, so_far()), so_far())
    asked = " ".join(each.asks for each in doubts)
    assert doubt in asked
    assert bool(doubt) == bool(asked)


def test_in_america_the_month_comes_first() -> None:
    days = next(question for question in QUESTIONS if question.key == "days")
    america = SoFar(defaults=LocaleDefaults(today=HOME.today, locale="en_US", currency="USD"))
    assert days.answer("12/4/2027", america).words == "2027-12-04"
    assert days.reader.doubts("12.4.2027", days.reader.read("12.4.2027", america), america)
    assert not days.reader.doubts("4/13/2027", days.reader.read("4/13/2027", america), america)


@pytest.mark.parametrize(
    ("key", "text", "words"),
    [
        ("days", "2027-12-04, 2027-12-05", "Saturday, 4 December 2027; Sunday, 5 December 2027"),
        ("target", "GBP 900", "£900.00"),
        ("target", "JPY 90000", "JP¥90,000"),
        ("price", "16", "£16.00"),
        ("groups", "Library", "Library"),
        ("groups", "Library; Choir", "1. Library, 2. Choir"),
        ("number", "100", "100 on the table: start 118, since some break"),
        ("number", "as many as it takes", "as many as it takes"),
        ("ball", "10 oz", "283 g (10 oz)"),
        ("ball", "450 g", "450 g"),
        ("energy", "0.28", "0.28 GBP for a kilowatt hour of electricity"),
        ("energy", "0.08 gas", "0.08 GBP for a kilowatt hour of gas"),
        ("hall", "nothing", "nothing"),
    ],
)
def test_days_and_money_are_said_back_in_words(key: str, text: str, words: str) -> None:
    question = next(question for question in QUESTIONS if question.key == key)
    assert words == question.said_back(question.reader.read(text, so_far()), so_far())


def test_who_names_the_price_of_gas_has_a_gas_kiln() -> None:
    questions = {question.key: question for question in QUESTIONS}
    assert say(questions["power"].assumed, so_far(energy="0.08 gas")) == "gas"
    assert say(questions["power"].assumed, so_far(energy="0.28")) == "7.2 kW"
    assert say(questions["energy"].assumed, so_far(power="gas")) == "0.08 gas"
    assert say(questions["energy"].assumed, so_far()) == "0.27"


@pytest.mark.parametrize("currency", [*USUAL, "KWD", "UGX", "XCD"])
def test_a_price_of_energy_far_from_what_people_pay_is_asked_about_in_every_money(currency: str) -> None:
    rate = next(question for question in QUESTIONS if question.key == "energy")
    known = SoFar(defaults=HOME, answers={"target": Answer(value=Money(Decimal(90_000), currency), words="")})
    least, most = usual_band(currency, gas=False)
    usual = (least * most).sqrt()
    doubts = [
        bool(rate.reader.doubts("", Rate(price=usual * by, gas=False), known))
        for by in (1, 3, Decimal(1) / 3, 100, Decimal("0.01"))
    ]
    assert doubts == [False, False, False, True, True]


def test_more_clay_is_taken_to_make_a_larger_piece() -> None:
    size = next(question for question in QUESTIONS if question.key == "size")
    assert (say(size.assumed, so_far(ball="450 g")), say(size.assumed, so_far(ball="3.6 kg"))) == (
        "110 mm x 95 mm",
        "220 mm x 190 mm",
    )


@pytest.mark.parametrize(
    ("clay", "shrinkage", "glaze"),
    [("Porcelain", "14 %", "1280 °C"), ("red earthenware", "8 %", "1080 °C"), ("crank", "12 %", "1240 °C")],
)
def test_the_clays_name_says_what_is_usual(clay: str, shrinkage: str, glaze: str) -> None:
    known = so_far(clay=clay)
    usual = {question.key: say(question.assumed, known) for question in QUESTIONS}
    assert (shrinkage, glaze) == (usual["shrinkage"], usual["glaze"])


def test_a_kiln_that_nobody_knows_has_room_for_the_piece() -> None:
    known = so_far(size="80 x 60 cm")
    assumed = {question.key: say(question.assumed, known) for question in QUESTIONS}
    assert (assumed["shelf"], assumed["inside"]) == ("round 66 cm", "86 cm")


def test_nothing_that_is_assumed_is_refused_by_its_own_question() -> None:
    known = so_far(ball="10000 kg")
    for question in QUESTIONS:
        assert question.answer(say(question.assumed, known), known, known=False).words == say(
            question.assumed, known
        )


def test_a_piece_larger_than_any_kiln_is_refused() -> None:
    (size,) = (question for question in QUESTIONS if question.key == "size")
    with pytest.raises(UnfitError, match="at most 2 m"):
        size.reader.read("1000 x 1000 cm", so_far())


def test_somebody_who_knows_nothing_has_an_answer_to_all_that_concerns_them() -> None:
    answers = with_assumed(QUESTIONS, HOME, {})
    assert [answer for answer in answers.values() if answer.known] == []
    assert {"title", "target", "number", "shelf", "energy", "ways"} <= set(answers)
    assert {"parts", "firing_cost", "hall_paid", "fee"}.isdisjoint(answers)
