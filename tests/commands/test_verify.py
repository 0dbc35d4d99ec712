"""`salebook verify`."""

import json
from pathlib import Path

import pytest

from salebook.accounts.file import list_bytes
from salebook.accounts.lines import lines_of
from salebook.accounts.row import Row
from salebook.cli import main
from tests.support.command_line import Capture
from tests.support.finished_sale import accounts

ROWS = lines_of(accounts())
PRINT = "WN0G-QHZH-2C9F-D157-WHZB"


def verify(folder: Path, *options: str, rows: tuple[Row, ...] = ROWS) -> int:
    path = folder / "lines.csv"
    path.write_bytes(list_bytes(rows))
    return main(["verify", str(path), *options])


def test_without_a_letter_it_adds_up_and_says_the_fingerprint(tmp_path: Path, capsys: Capture) -> None:
    assert verify(tmp_path) == 0
    shown = capsys.readouterr()
    assert shown.out.startswith(
        f"Fingerprint of this list: {PRINT}. Compare it with the one on your letter.\n"
    )
    rows = [line.split() for line in shown.out.splitlines()]
    assert ["Money", "to", "share", "110.15"] in rows
    assert ["Tide", "~", "mill", "1", "2.00", "36.72", "38.72", "10.00", "28.72"] in rows
    assert shown.err == ""


@pytest.mark.parametrize(
    ("typed", "says", "code"),
    [
        (PRINT, "This is the same list as on your letter", 0),
        ("wn0gqhzh2c9fdl57whzb", "This is the same list as on your letter", 0),
        ("WN0G-QHZH-2C9F-D157-WHZA", "Only 1 letter differs: look at your letter again", 3),
        ("0000-QHZH-2C9F-D157-WHZB", "This is not the list of your letter", 3),
        ("WN0G", "found WN0G, expected a fingerprint of 20 letters and digits", 2),
    ],
)
def test_with_a_letter_it_says_whether_it_is_the_same_list(
    typed: str, says: str, code: int, tmp_path: Path, capsys: Capture
) -> None:
    assert verify(tmp_path, "--fingerprint", typed) == code
    assert says in "".join(capsys.readouterr())


def test_what_differs_is_said_with_its_place(tmp_path: Path, capsys: Capture) -> None:
    rows = (*ROWS[:2], Row(part="line", day="soon", kind="sail", amount="5", arrived="yes"), *ROWS[3:])
    assert verify(tmp_path, rows=rows) == 3
    said = capsys.readouterr().err
    assert "lines.csv: row 4, day: found soon, expected a day such as 2027-06-19\n" in said
    assert "lines.csv: row 4, kind: found sail, expected a kind that the list knows, such as sale\n" in said
    assert "The list says 73.43 for Reed bank * friends?, but it adds up to 58.10.\n" in said


def test_takings_that_do_not_meet_the_costs_are_said_to_be_missing(tmp_path: Path, capsys: Capture) -> None:
    rows = (*ROWS[:2], Row(part="cost", what="hall", amount="-40.00"))
    assert verify(tmp_path, rows=rows) == 0
    said = [line.split() for line in capsys.readouterr().out.splitlines()]
    assert ["Missing,", "so", "nothing", "to", "share", "40.00"] in said
    assert [line for line in said if line[:1] == ["Money"]] == []


def test_what_is_no_list_is_told_in_one_line(tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "letter.html"
    path.write_text("<p>Thank you</p>", encoding="utf-8")
    assert main(["verify", str(path)]) == 1
    assert "is this the file lines.csv of a report?" in capsys.readouterr().err
    assert main(["verify", str(tmp_path / "missing.csv")]) == 1
    assert "missing.csv: No such file" in capsys.readouterr().err


def test_the_answer_as_json_adds_up(tmp_path: Path, capsys: Capture) -> None:
    assert verify(tmp_path, "--json", "--fingerprint", PRINT) == 0
    answer = json.loads(capsys.readouterr().out)
    assert list(answer) == [
        *("currency", "kind", "what", "fingerprint", "asked", "same", "letters_differ", "day_same"),
        *("takings", "named", "fees", "costs", "to_givers", "pool", "shares", "waiting", "days"),
        *("faults", "differences", "remarks"),
    ]
    assert (answer["currency"], answer["kind"], answer["same"]) == ("GBP", "final", True)
    assert answer["takings"]["by_way"] == {"card": "14.50", "cash": "106.25"}
    assert answer["shares"][1] == {
        "group": "Tide ~ mill",
        "parts": 1,
        "named": "2.00",
        "share": "36.72",
        "stated": "36.72",
        "total": "38.72",
        "straight": "6.00",
        "paid": "10.00",
        "to_pay": "28.72",
    }


def test_no_text_of_a_list_steers_the_terminal(tmp_path: Path, capsys: Capture) -> None:
    group = Row(part="share", line="1", group="\x1b[31m[red]bank", amount="5", parts="\x1b]0;x", kind="\x07")
    assert verify(tmp_path, rows=(*ROWS, group)) == 3
    shown = capsys.readouterr()
    assert "\x1b" not in shown.out + shown.err
    assert "[red]bank" in shown.out
