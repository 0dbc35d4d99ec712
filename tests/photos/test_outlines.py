"""A picture shows what was read: an outline around each code, numbered as one reads, and what it says."""

from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageColor, ImageDraw

from salebook.photos.codes import SeenCode
from salebook.photos.outlines import ASKED, COUNTED, LONGEST_PX, in_rows, is_drawn, outlined


def code(text: str, x: float, y: float, side: float = 100) -> SeenCode:
    return SeenCode(text=text, corners=((x, y), (x + side, y), (x + side, y + side), (x, y + side)))


def near(picture: Image.Image, colour: str, box: tuple[int, int, int, int]) -> int:
    """Return how many points in a box are about of a colour."""
    points = np.asarray(picture.crop(box), dtype=int)
    return int((np.abs(points - ImageColor.getrgb(colour)).max(axis=2) < 40).sum())


def drawn(grey: Image.Image, *codes: SeenCode, known: tuple[str, ...] = ()) -> Image.Image:
    return Image.open(BytesIO(outlined(grey, codes, known)))


def test_an_outline_runs_around_each_code_and_nowhere_else() -> None:
    grey = Image.new("L", (1200, 900), 200)
    picture = drawn(grey, code("LAN-001", 300, 300), code("ZZZ-001", 800, 500), known=("LAN-001",))
    for x, y, colour, other in ((300, 300, COUNTED, ASKED), (800, 500, ASKED, COUNTED)):
        for line in ((x, y - 16, x + 100, y - 8), (x, y + 108, x + 100, y + 117)):
            assert near(picture, colour, line) > 100
        assert near(picture, other, (x - 40, y - 40, x + 140, y + 140)) == 0
    assert near(picture, COUNTED, (0, 600, 1200, 900)) == 0


def test_a_second_line_runs_around_a_code_that_is_asked_about() -> None:
    picture = drawn(Image.new("L", (1200, 900), 200), code("A", 300, 300), code("Z", 800, 500), known=("A",))
    farther = [near(picture, colour, (x, y - 25, x + 100, y - 19)) for x, y, colour in OUTLINES]
    assert (farther[0], farther[1] > 100) == (0, True)


OUTLINES = ((300, 300, COUNTED), (800, 500, ASKED))


def test_each_code_has_its_number_and_a_known_one_what_it_says(monkeypatch: pytest.MonkeyPatch) -> None:
    said: list[str] = []
    monkeypatch.setattr(ImageDraw.ImageDraw, "text", lambda _pen, _at, text, **_more: said.append(text))
    drawn(Image.new("L", (1200, 900), 200), code("A", 300, 500), code("Z", 800, 100), known=("A",))
    assert said == ["1", "2  A"]


def test_a_large_photograph_makes_a_small_picture() -> None:
    picture = drawn(Image.new("L", (4000, 3000), 90), code("LAN-001", 2000, 1500), known=("LAN-001",))
    assert picture.size == (LONGEST_PX, 1800)
    assert near(picture, COUNTED, (1150, 850, 1320, 1000)) > 100


def test_codes_are_numbered_as_one_reads() -> None:
    slanted = [code("4", 500, 320), code("1", 10, 40), code("3", 20, 300), code("2", 400, 10)]
    assert ["1", "2", "3", "4"] == [each.text for each in in_rows(slanted)]
    assert [] == in_rows([])


def test_no_code_is_lost_from_the_rows() -> None:
    codes = [code(str(number), 37 * number % 900, 53 * number % 700) for number in range(60)]
    assert sorted(codes, key=lambda each: each.text) == sorted(in_rows(codes), key=lambda each: each.text)


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_a_photograph_is_not_taken_for_a_drawn_picture(kind: str, tmp_path: Path) -> None:
    Image.new("L", (90, 90), 100).save(tmp_path / "photo", kind)
    (tmp_path / "drawn.jpg").write_bytes(outlined(Image.new("L", (90, 90), 100), (), ()))
    assert (False, True) == (is_drawn(tmp_path / "photo"), is_drawn(tmp_path / "drawn.jpg"))
    assert not is_drawn(tmp_path / "gone.jpg")
