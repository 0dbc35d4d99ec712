"""Each stub becomes one line; what is doubtful is asked about, and nothing is lost."""

from collections import Counter
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.event.entries import Entries, Line, PieceEntry
from salebook.event.event import Event, reckon_event
from salebook.event.stubs import (
    Pile,
    SaleCodes,
    SeenPhoto,
    StubLine,
    lines_from,
    questions_on_stubs,
    way_of_pile,
    without_lines,
)
from salebook.plan.load import read_plan
from salebook.reckoning import Reckoning, reckon
from tests.support.small_event import DONATED, FIRST, FIRST_DAY, PLAN, SECOND, SECOND_DAY, line, sale

NOTHING = Entries()
REGISTER = reckon_event(sale(), NOTHING).register
CODES = SaleCodes(REGISTER)
EMPTY = Line(number=0, till="1", book="K4C4C")


def pile(name: str, *photos: tuple[str, ...], counted: int | None = None) -> Pile:
    """Return a pile; its photographs show what these codes say."""
    way = way_of_pile(name, sale().plan)
    assert way is not None
    seen = tuple(SeenPhoto(name=f"IMG_{number}", texts=texts) for number, texts in enumerate(photos, start=1))
    return Pile(name=name, way=way, photos=seen, codes=CODES, counted=counted)


def made_from(*piles: Pile, lines: tuple[Line, ...] = ()) -> tuple[StubLine, ...]:
    return lines_from(piles, lines, day=SECOND_DAY, empty=EMPTY)


def questions(*piles: Pile, lines: tuple[Line, ...] = (), entries: Entries = NOTHING) -> list[str]:
    stubs = made_from(*piles, lines=lines)
    event = after(lines, stubs, entries=entries)
    return [question.says for question in questions_on_stubs(piles, event, stubs)]


def after(
    lines: tuple[Line, ...],
    stubs: tuple[StubLine, ...],
    *,
    of: Reckoning | None = None,
    entries: Entries = NOTHING,
) -> Event:
    both = (*lines, *(stub.line for stub in stubs))
    return reckon_event(of or sale(), replace(entries, lines=both))


def test_a_stub_becomes_a_line_with_its_day_its_piece_and_its_way_to_pay() -> None:
    made = made_from(pile("card", (SECOND, FIRST)), lines=(replace(line(7), book="K4C4C"),))
    expected = replace(EMPTY, number=8, day=SECOND_DAY, piece=FIRST, way="card")
    assert [expected, replace(expected, number=9, piece=SECOND)] == [stub.line for stub in made]


def test_lines_are_numbered_after_the_last_one_of_their_table() -> None:
    there = [replace(line(number), book="K4C4C") for number in (2, 7, 4)] + [line(90, till="2")]
    assert [8] == [stub.line.number for stub in made_from(pile("card", (FIRST,)), lines=tuple(there))]


def test_lines_of_stubs_count_at_the_list_price() -> None:
    stubs = made_from(pile("cash", (FIRST, SECOND)), pile("card", (DONATED,)))
    event = after((), stubs)
    assert [Decimal(28), Decimal(18), Decimal("14.50")] == [counted.amount for counted in event.state.lines]
    assert [None] * 3 == [counted.remark for counted in event.state.lines]


def test_a_stub_on_several_photographs_counts_once() -> None:
    assert (FIRST, SECOND) == pile("cash", (FIRST, SECOND), (SECOND, FIRST)).stubs


def test_of_a_ware_without_numbers_the_photograph_with_most_counts() -> None:
    both = pile("cash", ("DOT", "DOT", FIRST), ("DOT", "DOT", "DOT"))
    assert (FIRST, "DOT", "DOT", "DOT") == both.stubs
    (says,) = questions(both)
    assert "DOT has no numbers and is on 2 photographs: 3 counted" in says
    assert [] == questions(pile("cash", ("DOT", "DOT")))


@pytest.mark.parametrize(
    ("name", "way"),
    [("cash", "cash"), ("CARD", "card"), (" Card ", "card"), ("other", ""), ("Other", ""), ("shells", None)],
)
def test_a_pile_is_named_after_a_way_to_pay_or_other(name: str, way: str | None) -> None:
    assert way_of_pile(name, sale().plan) == way


def test_a_way_to_pay_that_is_called_other_is_that_way() -> None:
    plan = sale().plan
    ways = tuple(way.model_copy(update={"name": "Other"}) for way in plan.payments[:1])
    assert way_of_pile("other", plan.model_copy(update={"payments_given": ways})) == "Other"


def test_what_lies_in_the_pile_of_others_counts_nothing_and_waits_to_be_filled_in() -> None:
    stubs = made_from(pile("other", (FIRST,)))
    (made,) = stubs
    assert ("", "stub: another price, or a gift?") == (made.line.way, made.line.note)
    (counted,) = after((), stubs).state.lines
    assert counted.amount == 0
    assert ["line 1, MAY-001 in other: fill in its price or gift, and how it was paid"] == questions(
        pile("other", (FIRST,))
    )


def test_what_lies_in_the_pile_of_others_waits_too_where_there_is_one_way_to_pay() -> None:
    before, payments = PLAN.replace("WANTED", "4").split("[[payments]]", 1)
    one_way = reckon(
        read_plan(before + "[[overheads]]" + payments.split("[[overheads]]")[1], file="one.toml")
    )
    stubs = made_from(pile("other", (FIRST,)))
    (counted,) = after((), stubs, of=one_way).state.lines
    assert counted.amount == 0
    assert counted.remark is not None


ASKED = {
    "sold already": (
        (pile("cash", (FIRST,)),),
        (line(1, piece=FIRST),),
        "line 2, MAY-001 in cash: sold twice",
    ),
    "in two piles": (
        (pile("cash", (FIRST, SECOND)), pile("card", (FIRST,))),
        (),
        "line 1, MAY-001 in cash and card: how was it paid?",
    ),
    "in a pile and in the others": (
        (pile("cash", (FIRST,)), pile("other", (FIRST,))),
        (),
        "line 1, MAY-001 in cash and other: fill in its price or gift, and how it was paid",
    ),
    "not in the register": (
        (pile("cash", ("MAY-900",)),),
        (),
        "line 1, MAY-900 in cash: unknown: write as in MAY-001",
    ),
    "not in the register, in the others": (
        (pile("other", ("MAY-900",)),),
        (),
        "line 1, MAY-900 in other: unknown: write as in MAY-001",
    ),
    "of another sale": (
        (pile("cash", ("ZZZ-003", "LOGS", "ZZZ-001")),),
        (),
        "no line was made for codes that are of no piece of this sale: LOGS, ZZZ-001, ZZZ-003",
    ),
    "twice on one photograph": (
        (pile("cash", (FIRST, FIRST)),),
        (),
        "MAY-001 is 2 times on IMG_1: are these whole tags, or two stubs with the same number?",
    ),
    "fewer than counted": (
        (pile("cash", (FIRST, SECOND), counted=3),),
        (),
        "2 of 3 stubs were read: a missing one has no outline on the pictures",
    ),
    "more than counted": (
        (pile("cash", (FIRST, SECOND), counted=1),),
        (),
        "2 stubs were read where 1 were counted: count again",
    ),
    "nothing at all": ((pile("cash", ()),), (), "no stub was read"),
}


@pytest.mark.parametrize(("piles", "lines", "says"), ASKED.values(), ids=ASKED)
def test_what_is_doubtful_is_asked(piles: tuple[Pile, ...], lines: tuple[Line, ...], says: str) -> None:
    asked = questions(*piles, lines=tuple(replace(one, book="K4C4C") for one in lines))
    assert says in asked


@pytest.mark.parametrize(
    ("entry", "says"),
    [
        (PieceEntry(mishap="broken"), "line 1, MAY-001 in cash: marked as broken"),
        (PieceEntry(reserved_for="Person Somebody"), "line 1, MAY-001 in cash: reserved for somebody else"),
    ],
)
def test_a_stub_of_a_marked_piece_is_asked_about_without_a_name(entry: PieceEntry, says: str) -> None:
    assert [says] == questions(pile("cash", (FIRST,)), entries=Entries(pieces={FIRST: entry}))


def test_a_stub_of_a_piece_that_never_left_the_kiln_is_asked_about() -> None:
    stubs = made_from(pile("cash", ("MAY-004",)))
    event = after((), stubs, entries=Entries(made={"MAY": 3}))
    (question,) = questions_on_stubs([pile("cash", ("MAY-004",))], event, stubs)
    assert "line 1, MAY-004 in cash: not out of the kiln" == question.says


def test_a_sound_pile_asks_nothing() -> None:
    assert [] == questions(pile("cash", (FIRST, SECOND), (SECOND,), counted=2), pile("card", (DONATED,)))


def test_a_code_of_no_stub_is_left_out_and_counted() -> None:
    piles = (pile("cash", (FIRST, "https://example.org", "4006381333931")),)
    assert 2 == piles[0].of_no_stub
    assert [FIRST] == [stub.line.piece for stub in made_from(*piles)]
    assert [] == questions(*piles)


def test_the_books_own_lines_are_asked_about_apart() -> None:
    own = (line(1, piece=FIRST), line(2, piece="MAY-900"))
    stubs = made_from(pile("cash", (FIRST,)), lines=own)
    left = without_lines(after(own, stubs), stubs).state.lines
    assert [1, 2] == [counted.line.number for counted in left]


TEXTS = st.lists(st.sampled_from([FIRST, SECOND, DONATED, "MAY-900", "DOT", "ZZZ-1", "http://x"]), max_size=6)
PHOTOS = st.lists(TEXTS.map(tuple), min_size=1, max_size=3)


@given(cash=PHOTOS, card=PHOTOS, other=PHOTOS, day=st.sampled_from([FIRST_DAY, SECOND_DAY]))
def test_every_stub_of_the_sale_has_a_line_and_every_number_only_one(
    cash: list[tuple[str, ...]], card: list[tuple[str, ...]], other: list[tuple[str, ...]], day: date
) -> None:
    piles = [pile("cash", *cash), pile("card", *card), pile("other", *other)]
    made = lines_from(piles, (), day=day, empty=EMPTY)
    pieces = Counter(stub.line.piece for stub in made)
    seen = {text for each in piles for photo in each.photos for text in photo.texts}
    assert set(pieces) == {text for text in seen if CODES.is_of_the_sale(text)}
    assert [piece for piece, count in pieces.items() if count > 1 and piece != "DOT"] == []
    assert [stub.line.number for stub in made] == list(range(1, len(made) + 1))
    for stub in made:
        ways = {each.way for each in stub.piles}
        assert stub.line.way == (ways.pop() if len(ways) == 1 else "")


@given(photos=PHOTOS)
def test_the_order_of_photographs_makes_no_difference(photos: list[tuple[str, ...]]) -> None:
    turned = [photo[::-1] for photo in reversed(photos)]
    assert pile("cash", *photos).stubs == pile("cash", *turned).stubs
