"""Whether a list is the one behind a letter."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.accounts.file import RowFault, list_bytes
from salebook.accounts.fingerprint import ALPHABET, evening_fingerprint, fingerprint
from salebook.accounts.lines import lines_of
from salebook.accounts.row import KEYS, Row
from salebook.accounts.verification import Verification, verification_of
from salebook.plan.money import ZERO
from tests.support.finished_sale import REED, TIDE, accounts

ROWS = lines_of(accounts())
PRINT = fingerprint(ROWS)
LINES = [place for place, row in enumerate(ROWS) if row.part == "line"]


def verified(*rows: Row, asked: str = PRINT) -> Verification:
    return verification_of(list_bytes(rows), file="lines.csv", asked=asked)


def test_the_list_of_the_letter_is_the_same_and_sound() -> None:
    found = verified(*ROWS)
    assert (found.is_same, found.is_sound, found.fingerprint, found.letters_differ) == (True, True, PRINT, 0)
    assert not found.is_misread
    assert (found.faults, found.differences) == ((), ())


@given(st.permutations(ROWS))
def test_the_order_of_rows_does_not_matter(rows: list[Row]) -> None:
    assert verified(*rows).is_same


@given(st.sampled_from(range(len(ROWS))), st.sampled_from(KEYS), st.data())
def test_every_single_changed_letter_is_noticed(place: int, key: str, data: st.DataObject) -> None:
    text = getattr(ROWS[place], key)
    at = data.draw(st.integers(0, len(text)))
    other = data.draw(st.sampled_from([letter for letter in "0123456789abx" if letter != text[at : at + 1]]))
    changed = replace(ROWS[place], **{key: text[:at] + other + text[at + 1 :]})
    rows = [*ROWS[:place], changed, *ROWS[place + 1 :]]
    found = verified(*rows)
    # 020.00 is written 20.00, and so on: then it is no change.
    assert found.is_same == (tuple(found.rows) == ROWS)
    assert found.is_same or not found.is_sound


@pytest.mark.parametrize("place", LINES)
def test_a_line_that_is_missing_or_stands_twice_is_noticed(place: int) -> None:
    assert verified(*ROWS[:place], *ROWS[place + 1 :]).is_same is False
    assert verified(*ROWS, ROWS[place]).is_same is False


@given(st.sampled_from(KEYS), st.sampled_from(LINES), st.sampled_from(LINES))
def test_two_lines_that_swap_a_value_are_noticed(key: str, one: int, other: int) -> None:
    rows = list(ROWS)
    rows[one] = replace(ROWS[one], **{key: getattr(ROWS[other], key)})
    rows[other] = replace(ROWS[other], **{key: getattr(ROWS[one], key)})
    assert verified(*rows).is_same == (sorted(rows, key=str) == sorted(ROWS, key=str))


@pytest.mark.parametrize(("count", "is_misread"), [(1, True), (2, True), (3, False)])
def test_a_letter_or_two_that_differ_are_more_likely_misread(count: int, is_misread: bool) -> None:
    places = [place for place, letter in enumerate(PRINT) if letter != "-"][:count]
    letters = list(PRINT)
    for place in places:
        letters[place] = ALPHABET[(ALPHABET.index(letters[place]) + 1) % 32]
    found = verified(*ROWS, asked="".join(letters))
    assert (found.letters_differ, found.is_misread, found.is_same) == (count, is_misread, False)


def test_without_a_fingerprint_nothing_is_compared() -> None:
    found = verification_of(list_bytes(ROWS), file="lines.csv")
    assert Verification(listed=found.listed).is_same is None
    assert (found.is_same, found.same_day, found.letters_differ, found.is_sound) == (None, None, 0, True)


def test_the_lines_of_a_day_are_found_by_the_print_of_that_evening() -> None:
    evening = [row for row in ROWS if row.part == "line" and row.day == "2027-06-19"]
    found = verified(*ROWS, asked=evening_fingerprint(evening))
    assert (found.same_day, found.is_same, found.is_sound) == (found.days[0], False, True)
    assert [(day.day, day.till, day.lines) for day in found.days] == [
        ("2027-06-19", "", 4),
        ("2027-06-20", "", 3),
    ]
    assert str(found.days[0].money) == "49.50"


def test_a_till_of_several_that_was_signed_by_itself_is_found() -> None:
    two = [replace(row, till="2") if row.line in {"2", "6"} else row for row in ROWS]
    evening = [row for row in two if row.till == "2" and row.day == "2027-06-19"]
    found = verified(*two, asked=evening_fingerprint(evening))
    assert [(day.day, day.till, str(day.money)) for day in found.days] == [
        ("2027-06-19", "", "49.50"),
        ("2027-06-19", "1", "35.00"),
        ("2027-06-19", "2", "14.50"),
        ("2027-06-20", "", "71.25"),
        ("2027-06-20", "1", "71.25"),
        ("2027-06-20", "2", "0"),
    ]
    assert found.same_day == found.days[2]


def test_a_line_of_the_day_that_was_changed_later_is_noticed() -> None:
    evening = [row for row in ROWS if row.part == "line" and row.day == "2027-06-19"]
    changed = [replace(row, amount="1.00") if row is evening[0] else row for row in ROWS]
    found = verified(*changed, asked=evening_fingerprint(evening))
    assert (found.same_day, found.is_sound) == (None, False)


@pytest.mark.parametrize(
    ("values", "is_same"),
    [
        ({"what": "Tall jug"}, True),
        ({"list_price": "99.00"}, True),
        ({"arrived": "straight"}, False),
        ({"amount": "1.00"}, False),
        ({"way": "card"}, False),
    ],
)
def test_a_signed_evening_stays_when_a_ware_is_renamed_or_priced_anew(
    values: dict[str, str], is_same: bool
) -> None:
    evening = [row for row in ROWS if row.part == "line" and row.day == "2027-06-19"]
    later = [replace(row, **values) if row is evening[0] else row for row in ROWS]
    assert bool(verified(*later, asked=evening_fingerprint(evening)).same_day) == is_same


def test_a_signed_evening_stays_when_promised_money_comes() -> None:
    lines = [row for row in ROWS if row.part == "line" and row.day == "2027-06-19"]
    promised = replace(lines[0], arrived="no")
    asked = evening_fingerprint([promised, *lines[1:]])
    assert verified(*ROWS, asked=asked).same_day


def _months_first(rows: tuple[Row, ...]) -> bytes:
    turned = [
        replace(row, day=f"{row.day[5:7]}/{row.day[8:]}/{row.day[:4]}" if row.day else "") for row in rows
    ]
    return list_bytes(turned)


def test_of_days_that_read_two_ways_the_one_with_the_fingerprint_counts() -> None:
    early = tuple(
        replace(row, day=row.day.replace("06-19", "06-05").replace("06-20", "06-06")) for row in ROWS
    )
    content = _months_first(early)
    found = verification_of(content, file="lines.csv", asked=fingerprint(early))
    assert (found.is_same, {row.day for row in found.rows}) == (True, {"", "2027-06-05", "2027-06-06"})
    assert not found.is_day_first_assumed
    alone = verification_of(content, file="lines.csv")
    assert alone.is_day_first_assumed
    assert {row.day for row in alone.rows} == {"", "2027-05-06", "2027-06-06"}


def test_a_share_that_is_not_what_the_list_adds_up_to_is_named() -> None:
    changed = [
        replace(row, amount="-73.42") if row.group == REED and row.part == "share" else row for row in ROWS
    ]
    found = verified(*changed, asked="")
    assert [(group.group, str(group.stated), str(group.share)) for group in found.differences] == [
        (REED, "73.42", "73.43")
    ]
    assert not found.is_sound


def test_a_cost_that_is_left_out_changes_the_shares() -> None:
    found = verified(*[row for row in ROWS if row.what != "hall"], asked="")
    assert [group.group for group in found.differences] == [REED, TIDE]


def changed(of: str, **values: str) -> Callable[[Row], Row]:
    return lambda row: replace(row, **values) if row.part == of else row


@pytest.mark.parametrize(
    ("change", "key", "found", "expected"),
    [
        (changed("paid", part="pade"), "part", "pade", "part"),
        (changed("sale", kind="done"), "kind", "done", "kind"),
        (changed("currency", parts="60"), "parts", "60", "parts"),
        (changed("giver", amount=""), "amount", "", "amount"),
        (changed("giver", amount="some"), "amount", "some", "amount"),
        (changed("paid", group="the reeds"), "group", "the reeds", "group"),
        (changed("paid", group=""), "group", "", "group"),
    ],
)
def test_a_row_that_makes_no_sense_is_named(
    change: Callable[[Row], Row], key: str, found: str, expected: str
) -> None:
    rows = [change(row) for row in ROWS]
    row = next(place for place, row in enumerate(rows) if row not in ROWS) + 2
    assert verified(*rows, asked="").faults == (RowFault(row=row, key=key, found=found, expected=expected),)


@pytest.mark.parametrize("part", ["line", "fee", "cost", "giver", "share", "paid"])
def test_every_row_that_moves_money_has_an_amount(part: str) -> None:
    place = next(place for place, row in enumerate(ROWS) if row.part == part)
    rows = [*ROWS[:place], replace(ROWS[place], amount=""), *ROWS[place + 1 :]]
    missing = RowFault(row=place + 2, key="amount", found="", expected="amount")
    assert verified(*rows, asked="").faults == (missing,)


def test_an_amount_that_cannot_be_read_counts_nothing() -> None:
    rows = [replace(row, amount="much") if row.line == "2" and row.part == "line" else row for row in ROWS]
    assert verified(*ROWS, asked="").sums.takings - verified(*rows, asked="").sums.takings == Decimal("14.50")


@pytest.mark.parametrize("parts", ["\N{SUPERSCRIPT TWO}", "some", "-1"])
def test_a_group_whose_parts_cannot_be_read_gets_none(parts: str) -> None:
    rows = [replace(row, parts=parts) if row.group == TIDE and row.part == "share" else row for row in ROWS]
    groups = {group.group: group for group in verified(*rows, asked="").sums.groups}
    assert (groups[TIDE].parts, groups[TIDE].share) == (0, ZERO)
    assert groups[REED].share == verified(*ROWS, asked="").sums.pool


def test_faults_stand_in_the_order_of_the_file_what_is_left_over_last_in_its_row() -> None:
    row = replace(ROWS[LINES[0]], kind="sail", amount="much", group="", to_group="")
    text = list_bytes([*ROWS[:2], row, row]).decode().replace(",yes\r\n", ",yes,more\r\n")
    found = verification_of(text.encode(), file="lines.csv").faults
    assert [(fault.row, fault.key) for fault in found] == [
        (row, key) for row in (4, 5) for key in ("kind", "amount", "")
    ]


def test_money_for_a_group_without_a_share_or_with_two_is_named() -> None:
    straight, named = (
        replace(ROWS[LINES[0]], group=TIDE, **how) for how in ({"arrived": "straight"}, {"to_group": "1.00"})
    )
    share = next(row for row in ROWS if row.part == "share" and row.group == TIDE)
    one, none, two = ((straight, named, *(share,) * many) for many in (1, 0, 2))
    assert [len(verified(*ROWS[:2], *rows, asked="").faults) for rows in (one, none, two)] == [0, 2, 4]


def test_lines_of_no_known_kind_or_arrival_and_shares_without_parts_are_named() -> None:
    rows = [replace(ROWS[LINES[0]], kind="sail", arrived="maybe"), replace(ROWS[-2], parts="0")]
    assert [(fault.key, fault.expected) for fault in verified(*ROWS[:2], *rows, asked="").faults] == [
        ("kind", "kind"),
        ("arrived", "arrived"),
        ("parts", "parts"),
    ]


def test_the_sale_and_its_currency_stand_once() -> None:
    assert [(fault.row, fault.found, fault.expected) for fault in verified(ROWS[0], ROWS[0]).faults] == [
        (0, "0", "currency"),
        (0, "2", "sale"),
    ]


def test_a_list_without_groups_or_lines_is_added_up_to_nothing() -> None:
    found = verified(*ROWS[:2], asked="")
    assert found.is_sound
    assert found.sums.pool == ZERO
    assert not found.sums.groups
    assert not found.days


@pytest.mark.parametrize("parts", ["", "0", "-1"])
def test_a_share_has_a_part_or_more(parts: str) -> None:
    found = verified(*ROWS[:2], replace(ROWS[-2], parts=parts)).faults
    assert [(fault.key, fault.found, fault.expected) for fault in found] == [("parts", parts, "parts")]


def test_of_two_currencies_neither_counts_whichever_stands_first() -> None:
    yen = replace(ROWS[1], kind="JPY", parts="1")
    both = (verified(*ROWS, yen), verified(yen, *ROWS))
    assert [found.listed.digits for found in both] == [2, 2]
    assert both[0].fingerprint == both[1].fingerprint
