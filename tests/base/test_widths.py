import struct
from pathlib import Path

import pytest

from salebook.base.widths import _BOLD, _REGULAR, ems, is_wide, text_mm
from tests.support.programs import ALL_MUST_RUN

FONTS = Path("/usr/share/fonts/truetype/liberation")
needs_fonts = pytest.mark.skipif(
    not FONTS.is_dir() and not ALL_MUST_RUN, reason="not installed: Liberation fonts"
)


def advance_widths(font: Path) -> dict[str, float]:
    """Read widths in thousandths of an em from a font (OpenType: head, hhea, hmtx, cmap format 4)."""
    data = font.read_bytes()
    count = struct.unpack_from(">H", data, 4)[0]
    tables = {
        data[12 + 16 * index : 16 + 16 * index].decode(): struct.unpack_from(">I", data, 20 + 16 * index)[0]
        for index in range(count)
    }
    per_em = struct.unpack_from(">H", data, tables["head"] + 18)[0]
    metrics = struct.unpack_from(">H", data, tables["hhea"] + 34)[0]
    return {
        chr(sign): struct.unpack_from(">H", data, tables["hmtx"] + 4 * min(glyph, metrics - 1))[0]
        * 1000
        / per_em
        for sign, glyph in _glyphs(data, tables["cmap"]).items()
    }


def _glyphs(data: bytes, cmap: int) -> dict[int, int]:
    found: dict[int, int] = {}
    for index in range(struct.unpack_from(">H", data, cmap + 2)[0]):
        platform, _encoding, offset = struct.unpack_from(">HHI", data, cmap + 4 + 8 * index)
        if platform == 3 and struct.unpack_from(">H", data, cmap + offset)[0] == 4:
            found |= _segments(data, cmap + offset)
    return found


def _segments(data: bytes, start: int) -> dict[int, int]:
    size = struct.unpack_from(">H", data, start + 6)[0]
    half = size // 2
    found: dict[int, int] = {}
    for index in range(half):
        last = struct.unpack_from(">H", data, start + 14 + 2 * index)[0]
        first = struct.unpack_from(">H", data, start + 16 + size + 2 * index)[0]
        delta = struct.unpack_from(">H", data, start + 16 + 2 * size + 2 * index)[0]
        ranges = start + 16 + 3 * size + 2 * index
        offset = struct.unpack_from(">H", data, ranges)[0]
        for sign in range(first, min(last, 0xFFFE) + 1):
            glyph = sign
            if offset:
                glyph = struct.unpack_from(">H", data, ranges + offset + 2 * (sign - first))[0]
            if glyph:
                found[sign] = (glyph + delta) & 0xFFFF
    return found


@needs_fonts
@pytest.mark.parametrize(("style", "table"), [("Regular", _REGULAR), ("Bold", _BOLD)])
def test_the_table_is_the_faces_widths_rounded_up_to_25(style: str, table: dict[int, str]) -> None:
    widths = advance_widths(FONTS / f"LiberationSans-{style}.ttf")
    wrong = {
        sign: (width, widths[sign])
        for width, signs in table.items()
        for sign in signs
        if not -0.5 <= width - widths[sign] < 25
    }
    assert wrong == {}


@needs_fonts
@pytest.mark.parametrize(("style", "bold"), [("Regular", False), ("Bold", True)])
def test_accented_letters_are_not_taken_for_too_narrow(style: str, bold: bool) -> None:
    widths = advance_widths(FONTS / f"LiberationSans-{style}.ttf")
    letters = [chr(number) for number in (*range(0xC0, 0x180), *range(0x386, 0x3CF)) if chr(number) in widths]
    assert len(letters) > 200
    assert [letter for letter in letters if ems(letter, bold=bold) * 1000 < widths[letter] - 0.5] == []


def test_a_point_is_a_72nd_of_an_inch() -> None:
    assert text_mm("日本", 72) == pytest.approx(50.8)


@pytest.mark.parametrize(
    ("sign", "expected"), [("日", 1.0), ("\u0301", 0.0), ("\u200b", 0.0), ("🏺", 1.4), ("س", 1.0)]
)
def test_signs_beyond_the_table_have_a_width_to_be_safe(sign: str, expected: float) -> None:
    assert ems(sign) == expected


@pytest.mark.parametrize(("sign", "wide"), [("壺", True), ("ｱ", False), ("a", False)])
def test_a_line_may_break_at_signs_that_fill_a_square(sign: str, wide: bool) -> None:
    assert is_wide(sign) == wide
