"""Makes the sample's photograph of stubs: `python -m tests.stub_sample`; needs WeasyPrint and poppler."""

import tempfile
from dataclasses import replace
from pathlib import Path

from PIL import Image

from salebook.jobs.samples import FULL, STUBS
from salebook.plan.load import load_plan
from salebook.prints.labels.tags import sheet_of_cards, tags_html
from salebook.prints.paper import PAPERS
from salebook.reckoning import reckon
from tests.support.browser import as_pdf, in_grey
from tests.support.print_sales import made, pieces
from tests.support.stub_photos import SMALL, photograph, printed_stubs

SAMPLES = Path(__file__).parent.parent / "sample_data"
NUMBERS = (
    *("BOWL-003", "BOWL-011", "JUG-002", "JUG-007", "MUG-001", "MUG-004", "MUG-009", "MUG-016"),
    *("MUG-023", "MUG-030", "LAMP-001", "LAMP-002"),
)
"""Sold for cash on the first day of the sale."""

LIGHT = replace(SMALL, megapixels=1.6, noise=1.5, quality=72)


def make_sample(path: Path) -> None:
    """Print some tags of the full sample, tear off their stubs and photograph them."""
    reckoning = reckon(load_plan(SAMPLES / FULL))
    wanted = [piece.number for piece in pieces(reckoning) if piece.number in NUMBERS]
    html = made(tags_html, reckoning, pieces(reckoning), only=",".join(NUMBERS))
    with tempfile.TemporaryDirectory() as folder:
        pages = [Image.open(page).convert("L") for page in in_grey(as_pdf(html, Path(folder)).pdf)]
    stubs = printed_stubs(pages, wanted, sheet_of_cards(PAPERS["A4"]).places)
    photo = photograph(stubs, LIGHT, seed=19, table="wood")
    assert set(photo.whole) == set(NUMBERS)
    path.write_bytes(photo.jpeg)


if __name__ == "__main__":
    make_sample(SAMPLES / STUBS)
