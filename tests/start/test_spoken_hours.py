import pytest

from salebook.base.errors import UnfitError
from salebook.start.question import SoFar
from salebook.start.spoken_hours import HOURS, hours_in
from tests.support.talk import HOME


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("10:00 to 17:00", "10:00 to 17:00"),
        ("10 to 5", "10:00 to 17:00"),
        ("from 9.30 till 4.15", "09:30 to 16:15"),
        ("10 am - 4 pm", "10:00 to 16:00"),
        ("12 pm to 6pm", "12:00 to 18:00"),
        ("12 am to 12 pm", "00:00 to 12:00"),
        ("10h30-13h", "10:30 to 13:00"),
        ("8 to 24", "08:00 to 24:00"),
        ("10 o'clock until 5 o'clock", "10:00 to 17:00"),
    ],
)
def test_hours_are_read_as_people_say_them(said: str, expected: str) -> None:
    assert str(hours_in(said)) == expected


def test_hours_may_not_be_known_yet() -> None:
    assert HOURS.read("Not yet", SoFar(defaults=HOME)) is None


@pytest.mark.parametrize(
    "said",
    ["", "10", "all day", "17:00 to 10:00", "13 pm to 4 pm", "25 to 26", "10 to 9:61", "0 am to 3"],
)
def test_what_is_no_hours_says_what_was_expected(said: str) -> None:
    with pytest.raises(UnfitError, match="opening hours"):
        hours_in(said)
