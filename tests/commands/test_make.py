from datetime import UTC, datetime, timedelta
from pathlib import Path

import icalendar

from salebook.cli import main
from tests.support.command_line import FIRST


def stamps(folder: Path) -> set[datetime]:
    diary = icalendar.Calendar.from_ical((folder / "sale.ics").read_bytes())
    return {entry.decoded("DTSTAMP") for entry in diary.walk("VEVENT")}


def test_the_diary_says_when_it_was_made(tmp_path: Path) -> None:
    before = datetime.now(UTC).replace(microsecond=0)
    assert main(["make", str(FIRST), "-o", str(tmp_path)]) == 0
    (stamp,) = stamps(tmp_path)
    assert before <= stamp <= before + timedelta(minutes=5)


def test_a_day_that_is_said_to_be_today_stands_on_the_diary(tmp_path: Path) -> None:
    for name in ("one", "other"):
        assert main(["make", str(FIRST), "-o", str(tmp_path / name), "--today", "2027-03-01"]) == 0
    assert stamps(tmp_path / "one") == {datetime(2027, 3, 1, tzinfo=UTC)}
    assert (tmp_path / "one" / "sale.ics").read_bytes() == (tmp_path / "other" / "sale.ics").read_bytes()
