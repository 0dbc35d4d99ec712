"""The prints after the sale, as a pack; what holds of every print stands in test_every_print.py."""

import re
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from salebook.event.report import Report, report_of
from salebook.prints.after_pack import prints_after
from salebook.prints.paper import PAPERS, PaperName
from salebook.reckoning import reckon
from tests.event.table import FIRST, FIRST_DAY, line
from tests.prints.accounts import LETTER_PAPER, accounts, accounts_with
from tests.prints.browser import printed
from tests.prints.test_pack import HOSTILE
from tests.programs import needs_chromium, needs_poppler

FILES = (
    *("statement.html", "statement.csv", "letter-1-reed-bank-friends.html", "letter-2-tide-mill.html"),
    *("thanks-1-a-neighbour.html", "poster-after.html", "collection.html"),
)
PAGES = tuple(name for name in FILES if name.endswith(".html"))


@pytest.fixture(scope="module")
def prints() -> dict[str, str]:
    return prints_after(accounts())


def test_all_prints_are_there(prints: dict[str, str]) -> None:
    assert tuple(prints) == FILES


class TestNotFinal:
    @pytest.mark.parametrize("name", FILES)
    def test_every_print_says_that_the_figures_are_not_final(self, name: str) -> None:
        report = accounts(line(1, piece=FIRST), line(2, piece="MAY-900"))
        assert "Not final: 1 line needs a look." in prints_after(report)[name]

    @pytest.mark.parametrize("name", FILES)
    def test_final_figures_say_nothing_of_the_kind(self, name: str, prints: dict[str, str]) -> None:
        assert "Not final" not in prints[name]

    @pytest.mark.parametrize("name", FILES)
    def test_an_interim_print_says_up_to_when(self, name: str) -> None:
        assert "19 June 2027" in prints_after(accounts(up_to=FIRST_DAY))[name]


@pytest.mark.parametrize(
    ("currency", "figure"), [("JPY", ">121<"), ("KWD", ">121.250<"), ("CHF", ">121.25<")]
)
def test_figures_have_the_digits_of_their_currency(currency: str, figure: str) -> None:
    in_whole = [("amount = 3.50", "amount = 3"), ("fixed = 0.05", ""), ("price = 1.50", "price = 2")]
    in_whole += [
        ("price = 14.50", "price = 15"),
        ("target = 300", f'target = 300\ncurrency = "{currency}"'),
    ]
    prints = prints_after(accounts_with(*in_whole))
    assert figure in prints["statement.html"]


@pytest.mark.parametrize("name", FILES)
def test_a_day_before_the_sale_still_makes_prints(name: str) -> None:
    assert prints_after(accounts(up_to=FIRST_DAY - timedelta(days=9)))[name]


def hostile() -> Report:
    """Return accounts in which every name that people choose is an attempt to break out of the page."""
    report = accounts()
    plan = report.plan
    name = {"name": HOSTILE}
    sale = plan.sale.model_copy(update={"title": HOSTILE, "maker": HOSTILE, "venue": HOSTILE})
    changed = plan.model_copy(
        update={
            "sale": sale,
            "beneficiaries": tuple(
                group.model_copy(
                    update={"name": f"{HOSTILE}{n}", "contact": HOSTILE, "registration": HOSTILE}
                )
                for n, group in enumerate(plan.beneficiaries)
            ),
            "wares": tuple(ware.model_copy(update=name) for ware in plan.wares),
            "donated": tuple(given.model_copy(update=name | {"maker": HOSTILE}) for given in plan.donated),
            "overheads": tuple(overhead.model_copy(update=name) for overhead in plan.overheads),
        }
    )
    entries = report.event.entries
    box = replace(entries.cash[0], counted_by=HOSTILE, checked_by=HOSTILE)
    claims = tuple(
        replace(claim, claim=HOSTILE, name=HOSTILE, contact=HOSTILE, what=HOSTILE) for claim in entries.claims
    )
    return report_of(reckon(changed), replace(entries, cash=(box,), claims=claims))


def test_hostile_names_stay_text() -> None:
    for name, text in prints_after(hostile()).items():
        if name.endswith(".html"):
            assert "&lt;script&gt;" in text
            assert re.findall(r"<(?:script|img)", text) == []


@pytest.mark.parametrize(("with_people", "is_there"), [(True, True), (False, False)])
def test_the_list_with_names_can_be_left_out(with_people: bool, is_there: bool) -> None:
    assert is_there == ("collection.html" in prints_after(accounts(), with_people=with_people))


LAID_OUT = {"A4": accounts, "Letter": lambda: accounts_with(*LETTER_PAPER)}


@needs_chromium
@needs_poppler
@pytest.mark.parametrize("paper", LAID_OUT)
@pytest.mark.parametrize("name", PAGES)
def test_a_print_fits_its_pages_and_none_is_empty(name: str, paper: PaperName, tmp_path: Path) -> None:
    found = printed(prints_after(LAID_OUT[paper]())[name], tmp_path)
    size = (PAPERS[paper].width_mm, PAPERS[paper].height_mm)
    assert all(found.on(number) for number, _size in enumerate(found.sizes, 1))
    assert [each for each in found.sizes if each != pytest.approx(size, abs=0.3)] == []
    assert [word.text for word in found.words if word.left < 5 or word.right > size[0] - 5] == []
    assert len(found.sizes) == (2 if name == "collection.html" else 1)


@needs_chromium
@needs_poppler
def test_figures_of_a_column_are_aligned_on_the_decimal_sign(tmp_path: Path) -> None:
    found = printed(prints_after(accounts())["letter-2-tide-mill.html"], tmp_path)
    figures = [word for word in found.words if re.fullmatch(r"[\d,]+\.\d\d", word.text)]
    right_edges = [word.right for word in figures if word.left > 150]
    assert len(right_edges) > 8
    assert max(right_edges) - min(right_edges) < 0.2
