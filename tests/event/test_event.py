from hypothesis import given, settings

from salebook.event.entries import Banked, DayCount, Entries, GroupPayment, Line, TableCount
from salebook.event.event import Event, entries_up_to, reckon_event
from salebook.making.firing_done import FiringDone
from tests.support.small_event import FIRST, FIRST_DAY, SECOND, SECOND_DAY, after, line, messy_lines, sale


def up_to_the_first_day(event: Event) -> Event:
    return reckon_event(sale(), entries_up_to(event, FIRST_DAY))


def test_a_line_goes_by_the_day_carried_down_to_it() -> None:
    event = after(line(1, piece=FIRST), line(2, "raffle", amount="3", day=SECOND_DAY), line(3, piece=SECOND))
    assert [1] == [counted.line.number for counted in up_to_the_first_day(event).state.lines]
    assert up_to_the_first_day(event).share_out.takings == 28


def test_what_has_a_later_day_is_left_out() -> None:
    event = after(
        cash=tuple(DayCount(day=day) for day in (FIRST_DAY, SECOND_DAY)),
        banked=tuple(Banked(day=day, what="paid in") for day in (FIRST_DAY, SECOND_DAY)),
        table_counts=tuple(TableCount(day=day, code="MAY", counted=3) for day in (FIRST_DAY, SECOND_DAY)),
        payments=tuple(
            GroupPayment(day=day, group="Tide ~ mill", amount=sale().plan.sale.target)
            for day in (FIRST_DAY, SECOND_DAY)
        ),
        firings_done=tuple(FiringDone(day=day) for day in (FIRST_DAY, SECOND_DAY)),
        made={"MAY": 3},
    )
    entries = entries_up_to(event, FIRST_DAY)
    records = (entries.cash, entries.banked, entries.table_counts, entries.payments, entries.firings_done)
    assert [[FIRST_DAY]] * 5 == [[record.day for record in each] for each in records]
    assert entries.made == {"MAY": 3}


@given(messy_lines())
@settings(deadline=None)
def test_up_to_the_last_day_nothing_is_missing(lines: tuple[Line, ...]) -> None:
    event = after(*lines)
    again = reckon_event(sale(), entries_up_to(event, SECOND_DAY))
    assert event.share_out == again.share_out


@given(messy_lines())
@settings(deadline=None)
def test_the_lines_of_a_day_keep_their_day(lines: tuple[Line, ...]) -> None:
    event = after(*lines)
    before = {counted.line: counted.day for counted in event.state.lines}
    for counted in up_to_the_first_day(event).state.lines:
        assert before[counted.line] == counted.day == FIRST_DAY


def test_an_empty_book_stays_empty() -> None:
    assert Entries() == entries_up_to(after(), FIRST_DAY)
