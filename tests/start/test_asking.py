"""The dialogue goes forward, back, and round again where an answer is not understood."""

from collections.abc import Mapping

import pytest

from salebook.base.errors import UnfitError
from salebook.start.asking import Terminal, ask_all
from salebook.start.question import Answer, Doubt, Question, Reader, SoFar
from tests.support.talk import HOME, Talk


def read_number(text: str, _so_far: SoFar) -> str:
    if not text.isdigit():
        raise UnfitError("a whole number")
    return str(int(text))


def a_question(key: str, **fields: object) -> Question:
    usual: dict[str, object] = {
        "key": key,
        "asks": lambda _so_far: f"How many {key}?",
        "such_as": lambda _so_far: "12",
        "assumed": lambda _so_far: "7",
        "because": "a guess",
    }
    reading = {key: fields.pop(key) for key in ("in_words", "doubts") if key in fields}
    reader = Reader(read=fields.pop("read", read_number), **reading)  # type: ignore[arg-type]  # a test's own
    return Question(reader=reader, **{**usual, **fields})  # type: ignore[arg-type]  # a test's own keys


def has_mugs(so_far: SoFar) -> bool:
    return so_far.was_asked("mugs") and so_far["mugs"] != "0"


JUGS, MUGS, BOWLS = (a_question(key) for key in ("jugs", "mugs", "bowls"))


def said(
    talk: Talk,
    *questions: Question,
    answers: Mapping[str, Answer] | None = None,
    again: int | None = None,
) -> dict[str, str]:
    answers = dict(answers or {})
    ask_all(questions, HOME, answers, Terminal(talk.ask, talk.say), again=again)
    return {key: answer.value for key, answer in answers.items()}


def test_each_question_is_asked_once_with_an_example() -> None:
    talk = Talk("3", "05")
    assert said(talk, JUGS, MUGS) == {"jugs": "3", "mugs": "5"}
    assert talk.text.count("How many jugs?") == 1
    assert "For example: 12." in talk.text


@pytest.mark.parametrize("word", ["help", "?", "Help"])
def test_help_is_no_answer(word: str) -> None:
    talk = Talk(word, "3")
    assert said(talk, JUGS) == {"jugs": "3"}
    assert "Type an answer as in the example" in talk.text


def test_an_answer_put_in_other_words_is_said_back() -> None:
    dozens = a_question("jugs", in_words=lambda text, _so_far: f"{int(text) // 12} dozen")
    talk = Talk("24")
    assert said(talk, dozens) == {"jugs": "24"}
    assert "That is 2 dozen." in talk.text


def test_an_answer_whose_numbers_changed_is_said_back() -> None:
    doubled = a_question("jugs", read=lambda text, _so_far: "24" if text == "two dozen" else text)
    talk = Talk("two dozen")
    assert said(talk, doubled) == {"jugs": "24"}
    assert "That is 24." in talk.text


@pytest.mark.parametrize(
    ("replies", "taken"), [(("yes",), "99"), (("", "what", "y"), "99"), (("no", "9"), "9"), (("b", "9"), "9")]
)
def test_an_answer_in_doubt_is_taken_only_when_it_is_meant(replies: tuple[str, ...], taken: str) -> None:
    doubted = a_question(
        "jugs", doubts=lambda _said, text, _so_far: [Doubt(asks="So many?")] * (text == "99")
    )
    talk = Talk("99", *replies)
    assert said(talk, doubted) == {"jugs": taken}
    assert "So many? (yes or no)" in talk.text


def test_what_is_not_understood_is_told_and_asked_again() -> None:
    talk = Talk("many", "", "3")
    assert said(talk, JUGS) == {"jugs": "3"}
    assert talk.shown.count("  Expected: a whole number.") == 1
    assert "Enter takes nothing here" in talk.text


@pytest.mark.parametrize(
    "words", ["don't know", "Dont know", "no idea", " don’t know ", "I don’t know", "Don't know."]
)
def test_what_nobody_knows_is_assumed_and_marked(words: str) -> None:
    talk = Talk(words)
    given: dict[str, Answer] = {}
    ask_all([JUGS], HOME, given, Terminal(talk.ask, talk.say))
    assert given == {"jugs": Answer(value="7", words="7", known=False)}
    assert "Then this is taken for now: 7 (a guess)." in talk.text


def test_enter_takes_what_follows_from_another_answer() -> None:
    offered = a_question("mugs", offered=lambda so_far: so_far["jugs"])
    talk = Talk("4", "")
    assert said(talk, JUGS, offered) == {"jugs": "4", "mugs": "4"}
    assert "Enter takes: 4." in talk.text


@pytest.mark.parametrize("word", ["back", "Back", "b", "<"])
def test_back_asks_the_question_before_again_and_offers_what_was_said(word: str) -> None:
    talk = Talk("3", word, "", "5")
    assert said(talk, JUGS, MUGS) == {"jugs": "3", "mugs": "5"}
    assert "Enter takes: 3." in talk.text


def test_an_answer_that_was_only_assumed_stays_so_on_the_way_back() -> None:
    talk = Talk("no idea", "back", "", "5")
    answers: dict[str, Answer] = {}
    ask_all([JUGS, MUGS], HOME, answers, Terminal(talk.ask, talk.say))
    assert [answer.known for answer in answers.values()] == [False, True]


def test_one_can_go_back_several_questions_and_on_again() -> None:
    talk = Talk("1", "2", "back", "back", "9", "", "3")
    assert said(talk, JUGS, MUGS, BOWLS) == {"jugs": "9", "mugs": "2", "bowls": "3"}


def test_before_the_first_question_there_is_nothing() -> None:
    talk = Talk("back", "3")
    assert said(talk, JUGS) == {"jugs": "3"}
    assert "This is the first question." in talk.text


def test_a_question_that_no_longer_concerns_loses_its_answer() -> None:
    handles = a_question("handles", concerns=has_mugs)
    talk = Talk("5", "4", "back", "back", "0", "2")
    assert said(talk, MUGS, handles, BOWLS) == {"mugs": "0", "bowls": "2"}


def test_the_way_back_leaves_out_what_does_not_concern() -> None:
    handles = a_question("handles", concerns=has_mugs)
    talk = Talk("0", "back", "1", "6", "2")
    assert said(talk, MUGS, handles, BOWLS) == {"mugs": "1", "handles": "6", "bowls": "2"}


def test_an_earlier_answer_that_no_longer_fits_is_not_offered() -> None:
    def at_most_the_mugs(text: str, so_far: SoFar) -> str:
        if int(read_number(text, so_far)) > int(so_far["mugs"]):
            raise UnfitError("no more than there are mugs")
        return text

    handles = a_question("handles", read=at_most_the_mugs, assumed=lambda _so_far: "1")
    talk = Talk("5", "4", "back", "back", "3", "", "2", "1")
    assert said(talk, MUGS, handles, BOWLS) == {"mugs": "3", "handles": "2", "bowls": "1"}
    assert "Enter takes: 4." not in talk.text.rsplit("How many mugs?", maxsplit=1)[1]


def test_one_question_alone_can_be_asked_again() -> None:
    before = {key: Answer(value="1", words="1") for key in ("jugs", "mugs", "bowls")}
    talk = Talk("8")
    assert said(talk, JUGS, MUGS, BOWLS, answers=before, again=1) == {"jugs": "1", "mugs": "8", "bowls": "1"}


def test_a_new_answer_may_make_another_question_necessary() -> None:
    handles = a_question("handles", concerns=has_mugs)
    before = {"mugs": Answer(value="0", words="0"), "bowls": Answer(value="1", words="1")}
    talk = Talk("5", "6")
    assert said(talk, MUGS, handles, BOWLS, answers=before, again=0) == {
        "mugs": "5",
        "bowls": "1",
        "handles": "6",
    }


def test_a_closed_terminal_ends_it() -> None:
    with pytest.raises(EOFError):
        said(Talk("3"), JUGS, MUGS)
