"""The prints made before the sale, as a pack."""

from pathlib import Path

import pytest

from salebook.plan.load import load_plan
from salebook.prints.before.pack import all_prints
from salebook.reckoning import Reckoning, reckon
from tests.support.books import SAMPLES
from tests.support.browser import printed
from tests.support.print_sales import labels_table, made, sale
from tests.support.programs import needs_chromium, needs_poppler

KINDS = (
    *("labels", "tags", "price-list", "tally", "shopping", "making", "firing", "poster"),
    "agreement-1-village-library",
)


@pytest.fixture(scope="module")
def prints() -> dict[str, str]:
    return made(all_prints, reckon(load_plan(SAMPLES["worked-plan"])))


def on_letter() -> Reckoning:
    return sale(locale="en_US", currency="USD", labels=labels_table(page="Letter", rows=6))


def test_the_pack_holds_every_print_made_before_the_sale(prints: dict[str, str]) -> None:
    assert list(prints) == [f"{kind}.html" for kind in KINDS] + ["agreement-2-towpath-rangers.html"]


@needs_chromium
@needs_poppler
@pytest.mark.parametrize(
    "kind", ["price-list", "tally", "shopping", "making", "poster", "agreement-1-village-library"]
)
def test_prints_on_letter_have_no_page_too_many(kind: str, tmp_path: Path) -> None:
    found = printed(made(all_prints, on_letter())[f"{kind}.html"], tmp_path)
    assert len(found.sizes) <= (3 if kind == "making" else 1)
