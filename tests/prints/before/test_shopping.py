import re
from decimal import Decimal
from pathlib import Path

import pytest

from salebook.book.write import book_bytes
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.plan.load import load_plan, read_plan
from salebook.plan.model import Plan
from salebook.prints.before.shopping import shopping_html
from salebook.reckoning import Reckoning, reckon
from tests.support.books import SAMPLES, few_free_lines
from tests.support.browser import printed
from tests.support.cells import values_of
from tests.support.finished_sale import rows
from tests.support.print_sales import made, pieces, sale
from tests.support.programs import needs_chromium, needs_poppler

GIVEN_ALONE = """
format = 1
[sale]
title = "Given"
maker = "Everybody"
days = [2027-05-08]
target = 10
[[beneficiaries]]
name = "Library"
[[donated]]
code = "SPN"
name = "Spoon"
maker = "A neighbour"
price = 10
[[payments]]
name = "card"
share = 1
"""


@pytest.fixture(scope="module")
def weekend() -> Reckoning:
    return reckon(load_plan(SAMPLES["harbour-weekend"]))


def shopping(reckoning: Reckoning) -> list[str]:
    """Return the rows of the list, as text."""
    return rows(made(shopping_html, reckoning, pieces(reckoning)))


def changed(plan: Plan, **changes: object) -> Reckoning:
    return reckon(plan.model_copy(update=changes))


def test_it_says_what_to_buy_how_much_and_by_when(weekend: Reckoning) -> None:
    """Throwing begins on 20 May, the first load is lit on 5 June, glaze goes on on 11 June."""
    assert shopping(weekend)[1:12] == [
        "Clay: speckled stoneware 4 bags of 12.5 kg 46.7 kg needed Thu 20 May £61.60 maker",
        "Clay: white stoneware 3 bags of 10 kg 25.3 kg needed Thu 20 May £53.40 sponsor",
        "Firing: biscuit 3 kiln loads about 156 kWh Sat 5 Jun £26.25 maker",
        "kiln wash 1 pack of 1,000 g 720 g needed Sat 5 Jun £6.91 maker",
        "glaze 2 packs of 5,000 g 5,460 g needed Fri 11 Jun £48.00 maker",
        "Firing: stoneware glaze 3 kiln loads about 230 kWh Sat 12 Jun £44.64 takings",
        "Labels 5 sheets, 21 on each or 12 sheets of card for tags Fri 18 Jun",
        "bag, tissue and string 2 packs of 50 set 94 set needed Sat 19 Jun £27.26 takings",
        "net loft, two days Sat 19 Jun £90.00 sponsor",
        "posters and price list Sat 19 Jun £16.50 takings",
        "public liability cover Sat 19 Jun £38.00 takings",
    ]


def test_the_sums_are_those_of_the_sheet_costs(weekend: Reckoning) -> None:
    """Each cost of the workbook stands on the list, and so do the sums of who pays."""
    with few_free_lines():
        cells = values_of(book_bytes(weekend, reckon_event(weekend, Entries())))
    on_costs = {value for (sheet, _at), value in cells.items() if sheet == "Costs"}
    found = shopping(weekend)
    sums = [Decimal(text) for row in found for text in re.findall(r"£([0-9.]+)", row)]
    of_lines, of_payers = sums[:10], sums[10:14]
    assert sum(of_lines) == sum(of_payers[:3]) == of_payers[3] == weekend.costs.total
    assert {float(each) for each in (*of_lines, *of_payers)} <= on_costs


def test_what_a_sponsor_meets_stands_by_itself(weekend: Reckoning) -> None:
    assert "sponsor white stoneware and net loft, two days £143.40" in shopping(weekend)


def test_the_change_to_fetch_stands_by_coins_and_notes(weekend: Reckoning) -> None:
    """Ten sales at 20, 12, 26, 16, 36, 22, 45, 8, 20, 12: 8 + 24 + 4 + 14 + 28 + 5 + 2 + 8 back."""
    assert shopping(weekend)[-6:] == [
        "£20.00 2 £40.00",
        "£10.00 1 £10.00",
        "£5.00 4 £20.00",
        "£2.00 10 £20.00",
        "£1.00 3 £3.00",
        "in all 20 £93.00",
    ]


def test_where_nobody_pays_in_cash_there_is_no_change_to_fetch() -> None:
    by_card = reckon(read_plan(GIVEN_ALONE, file="test.toml"))
    assert "Change for the cash box" not in made(shopping_html, by_card, pieces(by_card))
    assert "Change for the cash box" in made(shopping_html, sale(), pieces(sale()))


def test_prices_that_are_notes_need_no_change() -> None:
    in_cash = GIVEN_ALONE.replace("[[payments]]\nname", "[[payments]]\ncash = true\nname")
    given = reckon(read_plan(in_cash, file="test.toml"))
    assert "no sale needs change" in made(shopping_html, given, pieces(given))


def test_a_sale_with_nothing_made_needs_its_things_on_the_day() -> None:
    given = reckon(read_plan(GIVEN_ALONE, file="test.toml"))
    assert shopping(given)[1:] == ["Labels 1 sheet, 21 on each or 1 sheet of card for tags Sat 8 May"]
    assert "The plan has nothing to buy." in made(shopping_html, given, ())


def test_what_is_not_needed_is_not_bought(weekend: Reckoning) -> None:
    plan = weekend.plan
    nothing = plan.materials[0].model_copy(update={"amount": Decimal(0)})
    only_bowls = tuple(ware for ware in plan.wares if ware.code == "BOWL")
    found = shopping(changed(plan, wares=only_bowls, materials=(nothing,)))
    assert [row for row in found if row.startswith(("Clay: white", "glaze "))] == []
    assert [row for row in found if row.startswith("Clay: speckled")] != []


@needs_chromium
@needs_poppler
@pytest.mark.parametrize("sample", SAMPLES)
def test_the_list_of_a_sample_fits_one_page(sample: str, tmp_path: Path) -> None:
    reckoning = reckon(load_plan(SAMPLES[sample]))
    assert len(printed(made(shopping_html, reckoning, pieces(reckoning)), tmp_path).sizes) == 1
