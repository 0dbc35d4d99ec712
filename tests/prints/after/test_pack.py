"""The prints after the sale, as a pack; what holds of every print stands in test_every_print.py."""

import re
from dataclasses import replace
from datetime import timedelta
from itertools import combinations
from pathlib import Path

import pytest

from salebook.event.report import Report, report_of
from salebook.jobs.report_json import report_json
from salebook.plan.load import load_plan
from salebook.prints.after.pack import CHECK, prints_after
from salebook.prints.after.statement import statement_html
from salebook.prints.paper import PAPERS, PaperName
from salebook.reckoning import reckon
from tests.filled_sample import filled_in
from tests.support.books import SAMPLES
from tests.support.browser import Printed, as_pdf, printed
from tests.support.finished_sale import LETTER_PAPER, TODAY, accounts, accounts_with, rows
from tests.support.print_sales import made
from tests.support.programs import needs_chromium, needs_poppler, needs_weasyprint
from tests.support.small_event import FIRST, FIRST_DAY, line

FILES = (
    *("statement.html", "statement.csv", "letter-1-reed-bank-friends.html", "letter-2-tide-mill.html"),
    *("thanks-1-a-neighbour.html", "poster-after.html", CHECK, "collection.html"),
)
OF_THIS_SALE = tuple(name for name in FILES if name != CHECK)
"""The page that adds a list up again says what the list says."""
PAGES = tuple(name for name in FILES if name.endswith(".html"))


@pytest.fixture(scope="module")
def prints() -> dict[str, str]:
    return made(prints_after, accounts(), today=TODAY)


def test_all_prints_are_there(prints: dict[str, str]) -> None:
    assert tuple(prints) == FILES


class TestNotFinal:
    @pytest.mark.parametrize("name", OF_THIS_SALE)
    def test_every_print_says_that_the_figures_are_not_final(self, name: str) -> None:
        report = accounts(line(1, piece=FIRST), line(2, piece="MAY-900"))
        assert "Not final: 1 line needs a look." in made(prints_after, report, today=TODAY)[name]

    @pytest.mark.parametrize("name", OF_THIS_SALE)
    def test_final_figures_say_nothing_of_the_kind(self, name: str, prints: dict[str, str]) -> None:
        assert "Not final" not in prints[name]

    @pytest.mark.parametrize("name", OF_THIS_SALE)
    def test_an_interim_print_says_up_to_when(self, name: str) -> None:
        assert "19 June 2027" in made(prints_after, accounts(up_to=FIRST_DAY), today=TODAY)[name]


def test_all_outputs_show_the_same_sums(prints: dict[str, str]) -> None:
    answer = report_json(accounts())
    statement = rows(prints["statement.html"])
    assert f"Takings {answer['takings']['total']}" in statement
    assert f"Money to share {answer['pool']}" in statement
    for number, share in enumerate(answer["share_out"], 1):
        name = share["name"]
        (letter,) = (text for file, text in prints.items() if file.startswith(f"letter-{number}-"))
        (row,) = (row for row in statement if row.startswith(f"{name} "))
        assert f'<p class="amount">£{share["total"]}</p>' in letter
        sums = (share[key] for key in ("share", "named", "total", "paid", "to_pay"))
        assert " ".join(sums) in row
        assert f'"share","","","","{name}","",-{share["share"]}' in prints["statement.csv"]


@pytest.mark.parametrize(
    ("currency", "figure"), [("JPY", ">121<"), ("KWD", ">121.250<"), ("CHF", ">121.25<")]
)
def test_figures_have_the_digits_of_their_currency(currency: str, figure: str) -> None:
    in_whole = [("amount = 3.50", "amount = 3"), ("fixed = 0.05", ""), ("price = 1.50", "price = 2")]
    in_whole += [
        ("price = 14.50", "price = 15"),
        ("target = 300", f'target = 300\ncurrency = "{currency}"'),
    ]
    prints = made(prints_after, accounts_with(*in_whole), today=TODAY)
    assert figure in prints["statement.html"]


@pytest.mark.parametrize("name", FILES)
def test_a_day_before_the_sale_still_makes_prints(name: str) -> None:
    assert made(prints_after, accounts(up_to=FIRST_DAY - timedelta(days=9)), today=TODAY)[name]


@pytest.mark.parametrize(("with_people", "is_there"), [(True, True), (False, False)])
def test_the_list_with_names_can_be_left_out(with_people: bool, is_there: bool) -> None:
    assert is_there == (
        "collection.html" in made(prints_after, accounts(), with_people=with_people, today=TODAY)
    )


LAID_OUT = {"A4": accounts, "Letter": lambda: accounts_with(*LETTER_PAPER)}


@needs_chromium
@needs_poppler
@pytest.mark.parametrize("paper", LAID_OUT)
@pytest.mark.parametrize("name", PAGES)
def test_a_print_fits_its_pages_and_none_is_empty(name: str, paper: PaperName, tmp_path: Path) -> None:
    found = printed(made(prints_after, LAID_OUT[paper](), today=TODAY)[name], tmp_path)
    size = (PAPERS[paper].width_mm, PAPERS[paper].height_mm)
    assert all(found.on(number) for number, _size in enumerate(found.sizes, 1))
    assert [each for each in found.sizes if each != pytest.approx(size, abs=0.3)] == []
    assert [word.text for word in found.words if word.left < 5 or word.right > size[0] - 5] == []
    assert len(found.sizes) == 1


def group_and_costs(number: int) -> str:
    """Return one more group and two more costs for the takings to meet, in the plan's text."""
    return (
        f'[[beneficiaries]]\nname = "The friends of the long harbour wall {number}"\n'
        f'[[overheads]]\nname = "lamps hired, {number}"\namount = 1\nmet_by = "sale"\n'
        f'[[overheads]]\nname = "tables hired, {number}"\namount = 1\nmet_by = "sale"\n'
    )


@needs_chromium
@needs_poppler
@pytest.mark.parametrize(
    "name", ["poster-after.html", "letter-8-the-friends-of-the-long-harbour-wall-6.html"]
)
def test_many_groups_and_costs_leave_no_page_almost_empty(name: str, tmp_path: Path) -> None:
    more = "".join(group_and_costs(number) for number in range(1, 7))
    report = accounts_with(("[[materials]]", f"{more}[[materials]]"))
    assert len(printed(made(prints_after, report, today=TODAY)[name], tmp_path).sizes) == 1


def weekend(paper: PaperName) -> Report:
    """Return the accounts of the full sample, the lines that are wrong on purpose left out, on a paper."""
    reckoning = reckon(load_plan(SAMPLES["harbour-weekend"]))
    labels = reckoning.plan.labels.model_copy(update={"page": paper})
    on_paper = replace(reckoning, plan=reckoning.plan.model_copy(update={"labels": labels}))
    lines = report_of(on_paper, filled_in()).event.state.lines
    sound = tuple(counted.line for counted in lines if not counted.remark and not counted.line.unread)
    return report_of(on_paper, replace(filled_in(), lines=sound))


@needs_chromium
@needs_poppler
@pytest.mark.parametrize("paper", PAPERS)
def test_a_whole_weekend_is_signed_on_the_first_of_two_pages(paper: PaperName, tmp_path: Path) -> None:
    report = weekend(paper)
    assert len(report.event.state.lines) > 40
    found = printed(made(statement_html, report, today=TODAY), tmp_path)
    assert len(found.sizes) == 2
    assert signed_on(found) == [1] * 4
    assert overlaps(found) == []


@needs_weasyprint
@needs_poppler
def test_the_statement_as_pdf_is_signed_on_the_first_page_and_nothing_lies_on_anything(
    tmp_path: Path,
) -> None:
    found = as_pdf(made(statement_html, weekend("A4"), today=TODAY), tmp_path)
    assert len(found.sizes) == 2
    assert signed_on(found) == [1] * 4
    assert overlaps(found) == []


def signed_on(found: Printed) -> list[int]:
    """Return the page of each line for a name below a day's cash."""
    return [word.page for word in found.words if word.text in {"Counted:", "Checked:"}]


def overlaps(found: Printed) -> list[tuple[str, str]]:
    """Return words of a page that lie on each other by more than half a millimetre both ways."""
    return [
        (one.text, other.text)
        for one, other in combinations(found.words, 2)
        if one.page == other.page
        and min(one.right, other.right) - max(one.left, other.left) > 0.5
        and min(one.bottom, other.bottom) - max(one.top, other.top) > 0.5
    ]


@needs_chromium
@needs_poppler
def test_figures_of_a_column_are_aligned_on_the_decimal_sign(tmp_path: Path) -> None:
    found = printed(made(prints_after, accounts(), today=TODAY)["letter-2-tide-mill.html"], tmp_path)
    figures = [word for word in found.words if re.fullmatch(r"[\d,]+\.\d\d", word.text)]
    right_edges = [word.right for word in figures if word.left > 150]
    assert len(right_edges) > 8
    assert max(right_edges) - min(right_edges) < 0.2
