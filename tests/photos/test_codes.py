"""All codes that lie in sight are read from photographs of stubs, and none is read that is not there.

The photographs are made up (tests/support/stub_photos.py), with fixed seeds, and mostly of printed stubs.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from salebook.photos.codes import SeenCode, codes_left, codes_on
from salebook.prints.labels.tags import sheet_of_cards, tags_html
from salebook.prints.paper import PAPERS
from tests.support.browser import as_pdf, in_grey
from tests.support.print_sales import made, pieces, sale
from tests.support.programs import needs_poppler, needs_weasyprint
from tests.support.stub_photos import (
    EVENING,
    GOOD,
    POOR,
    SMALL,
    TABLES,
    Light,
    Photo,
    Stubs,
    Table,
    drawn_stub,
    drawn_stubs,
    leaflet,
    photograph,
    printed_stubs,
)

NUMBERS = tuple(f"LAN-{index:03}" for index in range(1, 61))


def grey(photo: Photo) -> Image.Image:
    return Image.open(BytesIO(photo.jpeg)).convert("L")


def texts(codes: Sequence[SeenCode]) -> list[str]:
    return [code.text for code in codes]


def check(photo: Photo) -> None:
    """All codes that are in sight are read, each once, and nothing else."""
    read = texts(codes_on(grey(photo)))
    assert sorted(set(photo.whole) - set(read)) == []
    assert sorted(set(read) - set(photo.laid)) == []
    assert len(read) == len(set(read))


@pytest.mark.slow
@pytest.mark.parametrize("table", TABLES)
def test_eight_stubs_are_read_on_every_table(table: Table) -> None:
    photo = photograph(drawn_stubs(NUMBERS[:8]), SMALL, seed=21, table=table)
    assert len(photo.whole) == 8
    check(photo)


def test_codes_of_another_sale_and_of_none_are_read_as_what_they_say() -> None:
    address = "https://example.org/a-leaflet-that-lies-among-the-stubs"
    stubs = [*drawn_stubs(["LAN-001", "LAN-002", "ZZZ-007", "DOT"]), (address, leaflet(address))]
    photo = photograph(stubs, SMALL, seed=5)
    assert {"LAN-001", "LAN-002", "ZZZ-007", "DOT", address} == set(texts(codes_on(grey(photo))))


def test_two_stubs_that_say_the_same_are_two() -> None:
    photo = photograph(drawn_stubs(["DOT", "DOT", "DOT", "LAN-001"]), SMALL, seed=6)
    assert texts(codes_on(grey(photo))).count("DOT") == 3


def test_a_code_lies_where_it_was_seen() -> None:
    whole = Image.new("L", (1600, 1200), 120)
    whole.paste(drawn_stub("LAN-001"), (900, 300))
    (code,) = codes_on(whole)
    assert code.middle == pytest.approx((900 + 195, 300 + 628), abs=4)


@pytest.mark.parametrize("size", [(1, 1), (3, 900), (40, 40), (1000, 2)])
def test_a_picture_without_room_for_a_code_has_none(size: tuple[int, int]) -> None:
    assert codes_on(Image.new("L", size, 200)) == ()


def test_another_look_keeps_what_was_seen() -> None:
    picture = grey(photograph(drawn_stubs(NUMBERS[:4]), SMALL, seed=8))
    seen = codes_on(picture)
    assert codes_left(picture, seen) == seen


def test_another_look_finds_what_lies_in_the_dark() -> None:
    dark = replace(SMALL, exposure=0.3, shadow=0.4, noise=11, blur=1.0)
    picture = grey(photograph(drawn_stubs(NUMBERS[:8]), dark, seed=14))
    seen = codes_on(picture)
    assert len(seen) < 8
    assert sorted(texts(codes_left(picture, seen))) == list(NUMBERS[:8])


@cache
def of_printed_tags(folder: Path) -> Stubs:
    """Print sixty tags and cut off their stubs."""
    reckoning = sale(wanted=60)
    html = made(tags_html, reckoning, pieces(reckoning), only="LAN-001..060")
    pages = [Image.open(page).convert("L") for page in in_grey(as_pdf(html, folder).pdf)]
    return printed_stubs(pages, NUMBERS, sheet_of_cards(PAPERS["A4"]).places)


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Stubs:
    return of_printed_tags(tmp_path_factory.mktemp("tags"))


def one_of(printed: Stubs, light: Light, count: int, turn: int) -> Photo:
    table = TABLES[(turn + count // 20) % len(TABLES)]
    return photograph(printed[:count], light, seed=1000 * count + turn, table=table)


COUNTS = (8, 20, 40, 60)


@pytest.mark.slow
@needs_weasyprint
@needs_poppler
@pytest.mark.parametrize("count", COUNTS)
@pytest.mark.parametrize("light", [GOOD, EVENING], ids=["good light", "evening"])
def test_every_printed_code_in_sight_is_read(light: Light, count: int, printed: Stubs) -> None:
    photo = one_of(printed, light, count, turn=0)
    assert len(photo.whole) >= 0.95 * count
    check(photo)


@pytest.mark.slow
@needs_weasyprint
@needs_poppler
@pytest.mark.parametrize("count", [8, 60])
def test_in_poor_light_no_code_is_read_wrongly(count: int, printed: Stubs) -> None:
    picture = grey(photo := one_of(printed, POOR, count, turn=0))
    read = texts(codes_left(picture, codes_on(picture)))
    assert sorted(set(read) - set(photo.laid)) == []
    assert (len(set(read)) < count) == (count == 60)


@pytest.mark.long
@needs_weasyprint
@needs_poppler
@pytest.mark.parametrize("turn", range(1, 6))
@pytest.mark.parametrize("count", COUNTS)
@pytest.mark.parametrize("light", [GOOD, EVENING], ids=["good light", "evening"])
def test_every_printed_code_in_sight_is_read_again_and_again(
    light: Light, count: int, turn: int, printed: Stubs
) -> None:
    check(one_of(printed, light, count, turn))
