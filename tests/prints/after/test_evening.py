"""The page of an evening, for two to sign."""

import re
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from salebook.accounts.file import list_bytes
from salebook.accounts.lines import lines_of
from salebook.accounts.verification import verification_of
from salebook.base.errors import WrongUseError
from salebook.event.entries import Entries
from salebook.event.report import Report, report_of
from salebook.prints.after.evening import evening_html, evening_name
from tests.support.browser import printed
from tests.support.finished_sale import LINES, TODAY, accounts, rows
from tests.support.print_sales import made
from tests.support.programs import needs_chromium, needs_poppler
from tests.support.small_event import DONATED, FIRST, FIRST_DAY, SECOND_DAY, line, sale

LETTERS = re.compile(r"\b(?:[0-9A-Z]{4}-){4}[0-9A-Z]{4}\b")


def evening(report: Report, day: date = FIRST_DAY) -> str:
    return made(evening_html, report, day, today=TODAY)


def test_the_days_lines_pieces_and_money_are_there() -> None:
    shown = rows(evening(accounts()))
    assert "Pieces sold 2 2 44.50" in shown
    assert "Deposits 1 1 5.00" in shown
    assert "Paid on orders 1 4 0.00" in shown
    assert "In all 4 49.50" in shown
    assert "card 14.50" in shown
    assert "cash 35.00" in shown


def test_the_cash_box_of_the_day_is_there() -> None:
    shown = rows(evening(accounts()))
    assert "1 20.00 35.00 0.00 55.00 54.50 -0.50" in shown


def test_money_that_is_in_no_sum_stands_apart() -> None:
    shown = rows(evening(accounts(), SECOND_DAY))
    assert "Promised, not in the sum 9.00" in shown
    assert "Straight to a group, not in the sum 6.00" in shown
    assert "In all 3 71.25" in shown


def test_its_fingerprint_is_found_again_in_the_final_list() -> None:
    page = evening(accounts(*LINES[:4]))
    (letters,) = LETTERS.findall(page)
    found = verification_of(list_bytes(lines_of(accounts())), file="lines.csv", asked=letters)
    assert found.same_day is not None
    assert (found.same_day.day, found.same_day.till) == ("2027-06-19", "")


def test_each_of_several_tills_has_its_own() -> None:
    page = evening(accounts(line(1, piece=FIRST), replace(line(1, piece=DONATED), till="2")))
    told = [row.rpartition(" ")[0] for row in rows(page) if LETTERS.search(row)]
    assert told == ["All tills 2 42.50", "1 1 28.00", "2 1 14.50"]
    assert len(set(LETTERS.findall(page))) == 3


def test_no_name_stands_on_it() -> None:
    page = evening(accounts())
    assert [
        name for name in ("Ada", "Quill", "Ben", "01632", "Mill Row", "Ivy", "Otto") if name in page
    ] == []


def test_a_day_without_lines_is_refused_with_the_days_that_have_some() -> None:
    with pytest.raises(WrongUseError, match="is of 1 June 2027; there are lines of 19 June 2027 and 20 June"):
        evening(accounts(), date(2027, 6, 1))
    with pytest.raises(WrongUseError, match="no line of takings yet"):
        evening(report_of(sale(), Entries()), date(2027, 6, 1))


def test_its_file_is_called_by_the_day() -> None:
    assert evening_name(FIRST_DAY) == "evening-2027-06-19.html"


@needs_chromium
@needs_poppler
def test_it_is_one_page(tmp_path: Path) -> None:
    tills = [replace(line(1, kind, amount="4"), till=till) for till in "1234" for kind in ("raffle", "other")]
    numbered = [replace(one, number=number) for number, one in enumerate(tills)]
    assert len(printed(evening(accounts(*LINES[:4], *numbered)), tmp_path).sizes) == 1
