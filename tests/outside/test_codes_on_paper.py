"""Paper and codes against the standards for them."""

import re

import pytest

from salebook.plan.quantities import Length
from salebook.prints.labels.qr_codes import MODULES, canvas_of, path_of
from salebook.prints.paper import PAPERS


def test_a4_is_the_sheet_of_the_standard() -> None:
    """ISO 216: 210 by 297 mm (table read in the LilyPond manual, A.5, Predefined paper sizes)."""
    assert (210, 297) == (PAPERS["A4"].width_mm, PAPERS["A4"].height_mm)


def test_letter_is_eight_and_a_half_by_eleven_inches() -> None:
    """ANSI/ASME Y14.1, size A (the inches; 215.9 by 279.4 mm are read in several manuals)."""
    sides = [float(Length.parse(side).mm) for side in ("8 1/2 in", "11 in")]
    assert [215.9, 279.4] == sides == [PAPERS["Letter"].width_mm, PAPERS["Letter"].height_mm]


def test_an_inch_of_paper_is_96_pixels_and_300_dots() -> None:
    """W3C, CSS Values and Units, absolute lengths: 1 in is 96 px (from memory)."""
    letter = canvas_of(PAPERS["Letter"])
    assert (816, 1056, 2550, 3300) == (
        letter.width_px,
        letter.height_px,
        letter.width_dots,
        letter.height_dots,
    )


# ISO/IEC 18004, QR Code. A version 1 symbol has 21 modules a side and wants a quiet zone of 4; at the error
# correction levels L, M, Q and H it holds 25, 20, 16 and 10 capitals and digits: table read in a copy; the
# quiet zone also with its inventor, Denso Wave (qrcode.com/en/howto/code.html).


def drawn(number: str) -> set[tuple[int, int]]:
    """Return the dark modules (column, row) of a code, counted from its symbol's corner."""
    bars = re.findall(r"M([0-9.]+) ([0-9.]+)h([0-9.]+)v", path_of(number))
    whole = ([round(float(measure)) for measure in bar] for bar in bars)
    return {(x - 4 + step, y - 4) for x, y, length in whole for step in range(length)}


def test_a_code_holds_sixteen_characters_and_no_more() -> None:
    assert path_of("A" * 16)
    with pytest.raises(ValueError, match="too long"):
        path_of("A" * 17)


def test_a_symbol_is_21_modules_wide_in_a_quiet_zone_of_4() -> None:
    places = drawn("LAN-001")
    assert MODULES == 21 + 2 * 4
    assert ({column for column, _ in places}, {row for _, row in places}) == (set(range(21)), set(range(21)))


@pytest.mark.parametrize("corner", [(0, 0), (14, 0), (0, 14)])
def test_each_finder_pattern_is_dark_light_and_dark_as_1_1_3_1_1(corner: tuple[int, int]) -> None:
    """ISO/IEC 18004, finder pattern: 7 by 7 modules, three of them, a light separator round each."""
    x, y = corner
    middle = [(x + across, y + 3) in drawn("LAN-001") for across in range(7)]
    assert middle == [True, False, True, True, True, False, True]


def test_the_timing_patterns_alternate() -> None:
    """ISO/IEC 18004, timing pattern: row 6 and column 6, dark modules first and last."""
    places = drawn("LAN-001")
    along = [((at, 6) in places, (6, at) in places) for at in range(8, 13)]
    assert along == [(at % 2 == 0,) * 2 for at in range(8, 13)]
