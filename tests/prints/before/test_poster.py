import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from salebook.plan.opening import opening_hours
from salebook.prints.before.poster import GROUP_POINTS, TITLE_POINTS, poster_html
from salebook.prints.paper import PaperName
from tests.support.browser import printed
from tests.support.print_sales import labels_table, made, sale
from tests.support.programs import needs_chromium, needs_poppler

LONG_TITLE = "An open studio of many hands, with pots, jugs, bowls and tea, all for the groups of the village"


def poster(
    *, title: str = "Pots", groups: int = 2, page: str = "A4", target: str = "300", hours: str = ""
) -> str:
    more = "".join(
        f'\n[[beneficiaries]]\nname = "Group number {n} of the parish"\n' for n in range(2, groups)
    )
    reckoning = sale(title=title, more=more, labels=labels_table(page=page, rows=6))
    wished = reckoning.plan.sale.model_copy(
        update={"target": Decimal(target), "open": opening_hours(hours) if hours else None}
    )
    return made(poster_html, replace(reckoning, plan=reckoning.plan.model_copy(update={"sale": wished})))


def sizes_of(text: str) -> list[float]:
    """Return the type sizes of title, venue, maker and groups in points."""
    return [float(points) for points in re.findall(r"font-size:([0-9.]+)pt\"", text)]


def test_title_and_groups_are_as_large_as_can_be() -> None:
    title, _venue, _maker, *groups = sizes_of(poster())
    assert (title, groups) == (TITLE_POINTS, [GROUP_POINTS] * 2)


def test_it_says_what_when_where_for_whom_and_how_much() -> None:
    text = poster()
    for said in ("Pots", "8 May 2027", "The old mill", "Millrace studio", "Village library", "£300<"):
        assert said in text


def test_a_target_keeps_its_pence() -> None:
    assert "Together we hope to raise £300.50<" in poster(target="300.50")


def test_it_says_the_opening_hours_where_the_plan_does() -> None:
    assert "Open from 09:30 to 16:00" in poster(hours="9:30 to 16:00")
    assert "Open from" not in poster()


@needs_chromium
@needs_poppler
@pytest.mark.parametrize("page", ["A4", "Letter"])
@pytest.mark.parametrize("groups", [2, 12])
def test_a_long_title_and_many_groups_stay_on_one_page(page: PaperName, groups: int, tmp_path: Path) -> None:
    text = poster(title=LONG_TITLE, groups=groups, page=page, hours="10:00 to 17:00")
    assert len(printed(text, tmp_path).sizes) == 1
    assert min(sizes_of(text)) >= 12
