"""Python and the page check.html find the same in a list, whatever program saved it or who spoilt it."""

import base64
import json
import random
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise
from typing import Any

import pytest

from salebook.accounts.file import list_bytes
from salebook.accounts.fingerprint import ALPHABET, evening_fingerprint, fingerprint
from salebook.accounts.row import Row
from salebook.accounts.verification import verification_of
from salebook.base.errors import FileError
from salebook.jobs.verify import verification_json
from tests.support.check_page import opened
from tests.support.devtools import Browser
from tests.support.lists_by_chance import CURRENCIES, a_list, a_program, spoilt
from tests.support.programs import needs_chromium

pytestmark = needs_chromium

LISTS = 300

Asked = tuple[bytes, str]


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Browser:
    return opened(tmp_path_factory.mktemp("page"))


def on_the_page(page: Browser, lists: Sequence[Asked]) -> list[Any]:
    """Return what the page finds in files with fingerprints; None where one is no list."""
    sent = [(base64.b64encode(content).decode(), asked) for content, asked in lists]
    question = f"""
        JSON.stringify({json.dumps(sent)}.map(([content, asked]) => {{
            const text = salebook.decoded(Uint8Array.from(atob(content), letter => letter.charCodeAt(0)));
            return text === null ? null : salebook.check(text, asked);
        }}))
    """
    found: list[Any] = json.loads(page.found(question))
    return found


def in_python(content: bytes, asked: str) -> Any:
    try:
        found = verification_of(content, file="lines.csv", asked=asked)
    except FileError:
        return None
    return json.loads(json.dumps(verification_json(found)))


def asked_for(rows: tuple[Row, ...], chance: random.Random) -> str:
    """Return a fingerprint that may be typed for a list: its own, misread, a day's, another's, none."""
    own = fingerprint(rows)
    lines = [row for row in rows if row.part == "line"]
    day = chance.choice(lines).day if lines else ""
    letters = list(own)
    for place in chance.sample(range(4), k=chance.randint(1, 3)):
        letters[place] = chance.choice(ALPHABET)
    of_day = evening_fingerprint([row for row in lines if row.day == day])
    return chance.choice((own, own, "".join(letters), "".join(letters), of_day, "0000-" * 4 + "0000", ""))


@cache
def lists_by_chance(seed: int) -> tuple[Asked, ...]:
    """Return files with fingerprints to compare them with; every third file is spoilt."""
    chance = random.Random(seed)  # noqa: S311  (nothing secret)
    asked = []
    for number in range(LISTS):
        rows = a_list(chance)
        content = a_program(chance).saved(chance.choice((rows, rows, rows, rows[1:], (*rows, rows[0]))))
        asked.append((spoilt(content, chance) if number % 3 == 0 else content, asked_for(rows, chance)))
    return tuple(asked)


LONGER = (pytest.param(seed, marks=pytest.mark.long) for seed in range(2, 22))


@pytest.mark.parametrize("seed", [1, *LONGER])
def test_300_lists_give_the_same_answer(page: Browser, seed: int) -> None:
    asked = lists_by_chance(seed)
    assert on_the_page(page, asked) == [in_python(*each) for each in asked]


def test_the_lists_are_of_every_sort() -> None:
    found = [one for each in lists_by_chance(1) if (one := in_python(*each))]
    assert len(found) > 250
    values = {"same": (True, False, None), "letters_differ": (1, 2), "currency": tuple(CURRENCIES)}
    for key, each in values.items():
        assert [value for value in each if sum(one[key] == value for one in found) < 3] == [], key
    for key in ("faults", "differences", "day_same", "remarks"):
        assert sum(bool(one[key]) for one in found) > 10, key


def test_days_that_are_none_come_in_the_same_order(page: Browser) -> None:
    rows = [
        Row(part="line", day=day, arrived="yes") for day in ("\U0001f600", "2027-06-19", "\ufb33", "soon")
    ]
    asked = [(list_bytes(rows), "")]
    assert on_the_page(page, asked) == [in_python(*each) for each in asked]


def test_what_a_program_rewrites_keeps_its_fingerprint(page: Browser) -> None:
    chance = random.Random(2)  # noqa: S311  (nothing secret)
    lists = [a_list(chance) for _list in range(LISTS)]
    asked = [(a_program(chance).saved(rows), fingerprint(rows)) for rows in lists]
    assert [found["same"] for found in on_the_page(page, asked)] == [True] * LISTS
    assert [in_python(*each)["same"] for each in asked] == [True] * LISTS


def changed_lists(rows: tuple[Row, ...]) -> list[tuple[Row, ...]]:
    """Return a list with each digit changed, each row left out, each row doubled, two rows' sums swapped."""
    changed = [
        (*rows[:place], replace(row, **{key: other}), *rows[place + 1 :])
        for place, row in enumerate(rows)
        for key, text in vars(row).items()
        for other in other_digits(text)
    ]
    changed += [(*rows[:place], *rows[place + 1 :]) for place in range(len(rows))]
    changed += [(*rows, row) for row in rows]
    lines = [row for row in rows if row.part == "line"]
    for one, other in pairwise(lines):
        swapped = {one: replace(one, amount=other.amount), other: replace(other, amount=one.amount)}
        if one.amount != other.amount:
            changed.append(tuple(swapped.get(row, row) for row in rows))
    return changed


def other_digits(text: str) -> list[str]:
    """Return a text with each of its digits changed."""
    return [
        f"{text[:place]}{(int(letter) + 1) % 10}{text[place + 1 :]}"
        for place, letter in enumerate(text)
        if letter in "0123456789"
    ]


def test_every_single_change_is_noticed_and_order_is_none(page: Browser) -> None:
    chance = random.Random(3)  # noqa: S311  (nothing secret)
    rows = next(rows for rows in iter(lambda: a_list(chance), None) if len(rows) > 20)
    changes = changed_lists(rows)
    assert len(changes) > 300
    asked = [(list_bytes(changed), fingerprint(rows)) for changed in changes]
    assert {found["same"] for found in on_the_page(page, asked)} == {False}
    assert {in_python(*each)["same"] for each in asked} == {False}
    shuffled = [(list_bytes(chance.sample(rows, k=len(rows))), fingerprint(rows)) for _time in range(9)]
    assert {found["same"] for found in on_the_page(page, shuffled)} == {True}


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\xff",
        b"\xff\xfe",
        b"\xff\xfea",
        b"\xff\xfe\x00\xd8",
        b"part;till",
        b'"',
        b"\r\n\r\n",
        b"\x00\x00",
    ],
)
def test_what_is_no_list_is_none_for_both(page: Browser, content: bytes) -> None:
    assert on_the_page(page, [(content, "")]) == [in_python(content, "")] == [None]
