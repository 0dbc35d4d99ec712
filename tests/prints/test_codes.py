import re

import pytest
import segno

from salebook.prints.codes import MODULES, code_of


def drawn(path: str) -> set[tuple[int, int]]:
    """Return the dark modules (row, column) that a path draws."""
    bars = re.findall(r"M([0-9]+) ([0-9]+)h([0-9]+)v1h-[0-9]+z", path)
    return {(int(y), int(x) + step) for x, y, length in bars for step in range(int(length))}


@pytest.mark.parametrize("number", ["LAN-001", "A-1", "ABCDEF-100000", "MUG"])
def test_the_path_draws_the_code_within_its_quiet_zone(number: str) -> None:
    expected = segno.make_qr(number, error="q", version=1, mask=3, boost_error=False)
    modules = {
        (row, column)
        for row, line in enumerate(expected.matrix_iter(border=4))
        for column, dark in enumerate(line)
        if dark
    }
    assert drawn(code_of(number).path) == modules


def test_four_white_modules_stand_on_every_side() -> None:
    """ISO/IEC 18004: the quiet zone of a QR code is 4 modules wide; a version 1 symbol has 21 a side."""
    places = [place for module in drawn(code_of("LAN-001").path) for place in module]
    assert (min(places), max(places), MODULES) == (4, 24, 29)


@pytest.mark.parametrize("number", ["A" * 17, "lan-001", "LAN_001"])
def test_what_the_small_code_cannot_hold_is_refused(number: str) -> None:
    with pytest.raises(ValueError, match=r".+"):
        code_of(number)
