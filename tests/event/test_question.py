from decimal import Decimal
from gettext import NullTranslations
from typing import Any

import pytest

from salebook.event.entries import GroupPayment, Line, PieceEntry, Unplaced
from salebook.event.question import Question, question_line, questions_of
from tests.support.small_event import FIRST, FIRST_DAY, after, line, sale


def asked(*lines: Line, rows: Any = None, **entries: Any) -> tuple[Question, ...]:
    return questions_of(sale(), after(*lines, **entries), rows or {})


def test_a_sound_book_asks_nothing() -> None:
    assert asked(line(1, piece=FIRST)) == ()


def test_a_remark_on_a_line_is_a_question_with_its_row() -> None:
    expected = Question(sheet="Takings", row=31, says="line 2: unknown: write as in MAY-001")
    assert (expected,) == asked(line(1, piece=FIRST), line(2, piece="MAY-900"), rows={line(2).identity: 31})


def test_a_question_is_said_with_its_sheet_and_its_row_where_it_has_one() -> None:
    lines = [question_line(Question(sheet="Costs", row=row, says="how much?")) for row in (0, 7)]
    assert lines == ["Costs: how much?", "Costs, row 7: how much?"]


def test_where_lines_come_from_several_tables_each_question_names_its_table() -> None:
    second = line(1, piece=FIRST, till="2")
    assert ["table 2, line 1: sold twice"] == [
        question.says for question in asked(line(1, piece=FIRST), second)
    ]


def test_a_line_of_which_the_row_is_not_known_is_asked_about_all_the_same() -> None:
    assert [0] == [question.row for question in asked(line(1, piece="MAY-900"))]


@pytest.mark.parametrize(
    ("typed", "near"),
    [
        ("MAI-003", "no such piece (is it MAY-003?)"),
        ("MAI-OO3", "no such piece (is it MAY-003?)"),
        ("mai-00l", "no such piece (is it MAY-001?)"),
        ("MAY-900", "unknown: write as in MAY-001"),
        ("MAY-XX3", "unknown: write as in MAY-001"),
        ("ZOT-003", "unknown: write as in MAY-001"),
        ("MAI", "unknown: write as in MAY-001"),
    ],
)
def test_a_piece_that_looks_alike_or_else_one_of_the_sale_is_named_where_there_is_no_such(
    typed: str, near: str
) -> None:
    (question,) = asked(line(1, piece=typed))
    assert f"line 1: {near}" == question.says


class OtherWords(NullTranslations):
    """A language that names the claim first, and has one word for two remarks."""

    def gettext(self, message: str) -> str:
        words = {
            "reserved for {subject}": "{subject} has it",
            "no such piece (is it {number}?)": "what? ({number}?)",
            "unknown: write as in {subject}": "what?",
            "not a date": "what?",
        }
        return words.get(message, message)


def test_what_is_asked_does_not_hang_on_the_words_for_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("salebook.base.words._chosen", [OtherWords()])
    held = {FIRST: PieceEntry(reserved_for="A. Nyone")}
    (reserved,) = asked(line(1, piece=FIRST, claim="7"), pieces=held)
    (unknown,) = asked(line(1, piece="MAI-003", unread=(("day", "noon"),)))
    assert ("line 1: somebody else has it", "line 1: what? (MAY-003?)") == (reserved.says, unknown.says)


def test_a_cell_that_could_not_be_read_hides_no_other_question_about_its_line() -> None:
    (question,) = asked(line(1, piece="MAY-900", unread=(("time", "noon"),)))
    assert question.says == "line 1: unknown: write as in MAY-001"


def test_a_claim_number_is_never_said() -> None:
    (question,) = asked(line(1, piece=FIRST), pieces={FIRST: PieceEntry(reserved_for="Ada 01632 960123")})
    assert question.says == "line 1: reserved for somebody else"


def test_a_group_that_was_paid_a_little_more_than_it_gets_is_asked_about() -> None:
    share = next(group for group in after(line(1, piece=FIRST)).share_out.groups if group.named == 0)
    for more, questions in ((Decimal(0), 0), (Decimal("0.01"), 1)):
        paid = GroupPayment(day=FIRST_DAY, group=share.group.name, amount=share.total + more)
        assert questions == len(asked(line(1, piece=FIRST), payments=(paid,)))


@pytest.mark.parametrize(
    ("entries", "says"),
    [
        ({"pieces": {"MAY-900": PieceEntry(grade="first")}}, "not in the plan: 1"),
        ({"actual_costs": {"overhead: tent": Decimal(3)}}, "a cost not in the plan"),
        ({"actual_fees": {"shells": Decimal(3)}}, "a way to pay that is not in the plan"),
        (
            {"payments": (GroupPayment(day=FIRST_DAY, group="Nobody", amount=Decimal(3)),)},
            "a group that is not in the plan",
        ),
        (
            {"payments": (GroupPayment(day=FIRST_DAY, group="Tide ~ mill", amount=Decimal(999)),)},
            "Tide ~ mill was paid more than it gets",
        ),
        ({"unplaced": (Unplaced(sheet="Pieces", says="Ada 01632 960123"),)}, "no place for it in this one"),
    ],
)
def test_what_belongs_to_nothing_is_asked_about(entries: dict[str, Any], says: str) -> None:
    (question,) = asked(line(1, piece=FIRST), **entries)
    assert says in question.says
    assert question.row == 0
    assert "Ada" not in question.says
