"""The calendar file against RFC 5545, byte by byte, and as two libraries read it that are not ours.

The numbers of its sections are from memory.
"""

from datetime import UTC, date, datetime, timedelta, timezone

import icalendar
import pytest
import vobject
from hypothesis import example, given
from hypothesis import strategies as st

from salebook.prints.studio.calendar_file import Entry, calendar_text

STAMP = datetime(2027, 3, 1, 8, 30, tzinfo=UTC)
EVENING = datetime(2027, 6, 5, 22, 30)
NOT_TEXT = [chr(number) for number in (*range(9), *range(11, 32), *range(127, 160), 0x2028, 0x2029)]
"""What no text of a calendar holds, and what some take for the end of a line."""

TEXTS = st.text(st.characters(codec="utf-8", exclude_characters=NOT_TEXT))


def entry(**changes: object) -> Entry:
    usual: dict[str, object] = {
        "key": "fire biscuit 1",
        "title": "Light the kiln",
        "text": "Stay within call",
        "starts": EVENING,
        "ends": EVENING + timedelta(hours=9),
    }
    return Entry(**(usual | changes))  # type: ignore[arg-type]  # a test gives what it will


def text_of(*entries: Entry, calendar_id: str = "a sale") -> str:
    return calendar_text(entries, calendar_id=calendar_id, stamp=STAMP)


def unfolded(text: str) -> list[str]:
    """RFC 5545, 3.1: a line end and one white space after it are taken out."""
    return text.replace("\r\n ", "").removesuffix("\r\n").split("\r\n")


def value(name: str, text: str) -> str:
    (found,) = (line.removeprefix(name) for line in unfolded(text) if line.startswith(name))
    return found


class TestBytes:
    @given(title=TEXTS, words=TEXTS, place=TEXTS)
    @example(title="🏺" * 40, words="é" * 37 + "🏺\n\\n;,\\", place="ß" * 200)
    def test_lines_end_in_crlf_and_hold_75_octets_of_whole_characters(
        self, title: str, words: str, place: str
    ) -> None:
        """RFC 5545, 3.1: lines SHOULD NOT be longer than 75 octets, excluding the line break."""
        whole = text_of(entry(title=title, text=words, place=place, rings_before=timedelta(hours=5))).encode()
        assert whole.endswith(b"END:VCALENDAR\r\n")
        assert whole.count(b"\n") == whole.count(b"\r") == whole.count(b"\r\n")
        lines = whole.removesuffix(b"\r\n").split(b"\r\n")
        assert max(len(line) for line in lines) <= 75
        assert "\r\n".join(line.decode() for line in lines).encode() == whole.removesuffix(b"\r\n")

    @pytest.mark.parametrize(
        ("text", "escaped"),
        [
            (r"a\b", r"a\\b"),
            ("a;b", r"a\;b"),
            ("a,b", r"a\,b"),
            ("a\nb", r"a\nb"),
            ("a:b", "a:b"),
            ('"a"', '"a"'),
            ("a\r\nb", r"a\nb"),
            ("a\x07b", "ab"),
            ("a\u2028b\x85c", r"a\nb\nc"),
        ],
    )
    def test_texts_are_escaped(self, text: str, escaped: str) -> None:
        r"""RFC 5545, 3.3.11: \\ \; \, and \n; a colon stays; other control characters have no place."""
        assert value("SUMMARY:", text_of(entry(title=text))) == escaped

    def test_a_line_is_broken_at_75_octets(self) -> None:
        """RFC 5545, 3.1; "SUMMARY:" takes eight octets, and the space before a part of a line counts."""
        folded = text_of(entry(title="x" * 142)).split("\r\n")
        at = folded.index(f"SUMMARY:{'x' * 67}")
        assert folded[at + 1 : at + 3] == [f" {'x' * 74}", " x"]

    def test_times_are_of_no_zone_and_the_stamp_is_in_utc(self) -> None:
        """RFC 5545, 3.3.5 form 1, "floating", and 3.8.7.2."""
        berlin = timezone(timedelta(hours=2))
        text = calendar_text([entry()], calendar_id="", stamp=datetime(2027, 6, 1, 1, 15, tzinfo=berlin))
        assert value("DTSTART", text) == ":20270605T223000"
        assert value("DTEND", text) == ":20270606T073000"
        assert value("DTSTAMP", text) == ":20270531T231500Z"

    def test_whole_days_are_dates_and_end_on_the_day_after(self) -> None:
        """RFC 5545, 3.6.1: the end of an event is not inclusive; 3.3.4: dates have eight digits."""
        text = text_of(entry(starts=date(2027, 6, 5), ends=date(2027, 6, 6)))
        assert value("DTSTART", text) == ";VALUE=DATE:20270605"
        assert value("DTEND", text) == ";VALUE=DATE:20270606"

    def test_a_calendar_and_its_entries_say_what_they_must(self) -> None:
        """RFC 5545, 3.6, 3.6.1 and 3.6.6: what is REQUIRED of a calendar, an event, an alarm."""
        assert unfolded(
            text_of(entry(place="Quay", rings_before=timedelta(days=1, hours=4, minutes=30)))
        ) == [
            "BEGIN:VCALENDAR",
            "VERSION:2.0",
            "PRODID:-//salebook//diary//EN",
            "BEGIN:VEVENT",
            f"UID:{value('UID:', text_of(entry()))}",
            "DTSTAMP:20270301T083000Z",
            "DTSTART:20270605T223000",
            "DTEND:20270606T073000",
            "SUMMARY:Light the kiln",
            "DESCRIPTION:Stay within call",
            "LOCATION:Quay",
            "BEGIN:VALARM",
            "ACTION:DISPLAY",
            "DESCRIPTION:Light the kiln",
            "TRIGGER:-P1DT4H30M",
            "END:VALARM",
            "END:VEVENT",
            "END:VCALENDAR",
        ]

    def test_an_entry_keeps_its_uid_whatever_else_changes(self) -> None:
        """RFC 5545, 3.8.4.7: by its UID the next file finds the entry of the one before."""
        one = value("UID:", text_of(entry()))
        assert value("UID:", text_of(entry(title="Other", starts=EVENING - timedelta(days=3)))) == one
        assert value("UID:", text_of(entry(key="fire biscuit 2"))) != one
        assert value("UID:", text_of(entry(), calendar_id="another sale")) != one


@given(title=TEXTS, words=TEXTS, place=TEXTS.filter(bool), minutes=st.integers(1, 3000))
@example(title="\\n", words="\\;,\n🏺", place="a\\", minutes=1440)
def test_two_libraries_read_what_was_meant(title: str, words: str, place: str, minutes: int) -> None:
    rings = timedelta(minutes=minutes)
    whole = text_of(entry(title=title, text=words, place=place, rings_before=rings), whole_day())
    first, second = icalendar.Calendar.from_ical(whole).walk("VEVENT")
    said = (first["SUMMARY"], first["DESCRIPTION"], first["LOCATION"])
    assert tuple(map(str, said)) == (title, words, place)
    assert (first.decoded("DTSTART"), first.decoded("DTEND")) == (EVENING, EVENING + timedelta(hours=9))
    assert [alarm.decoded("TRIGGER") for alarm in first.walk("VALARM")] == [-rings]
    assert (second.decoded("DTSTART"), second.decoded("DTEND")) == (date(2027, 6, 19), date(2027, 6, 21))
    assert [part.errors for part in (first, second)] == [[], []]
    one, other = vobject.readOne(whole).vevent_list
    assert (one.summary.value, one.description.value) == (title, words)
    assert (one.dtstart.value, one.dtend.value) == (EVENING, EVENING + timedelta(hours=9))
    assert one.valarm.trigger.value == -rings
    assert (other.dtstart.value, other.dtend.value) == (date(2027, 6, 19), date(2027, 6, 21))


def whole_day() -> Entry:
    return entry(key="sale", title="The sale", starts=date(2027, 6, 19), ends=date(2027, 6, 21))
