"""Codes of stubs: their size against their inventor's advice, what is read of them against another reader."""

import subprocess
from pathlib import Path

from salebook.photos.codes import codes_on
from salebook.photos.photo import grey_photo
from salebook.prints.labels.qr_codes import DOT_MM, module_dots
from salebook.prints.labels.tags import STUB_CODE_MM
from tests.support.programs import needs_zbar, path_of
from tests.support.stub_photos import SMALL, drawn_stubs, photograph

NUMBERS = [f"LAN-{index:03}" for index in range(1, 9)]


def test_a_module_of_five_dots_is_as_wide_as_the_inventor_says() -> None:
    """Denso Wave, qrcode.com/en/howto/cell.html: at 300 dpi a module of 5 dots is 0.42 mm."""
    assert round(5 * DOT_MM, 2) == 0.42


def test_modules_of_stubs_have_the_dots_that_are_advised() -> None:
    """The same page: each module is made up of 4 or more dots; those of stubs of 8, which are 0.68 mm."""
    dots = module_dots(STUB_CODE_MM)
    assert dots >= 4
    assert (8, 0.68) == (dots, round(dots * DOT_MM, 2))


@needs_zbar
def test_another_reader_finds_nothing_else_in_a_photograph(tmp_path: Path) -> None:
    """The program zbarimg (Debian, zbar-tools), which shares no code with the reader here."""
    path = tmp_path / "photo.jpg"
    path.write_bytes(photograph(drawn_stubs(NUMBERS), SMALL, seed=31, table="dark").jpeg)
    command = [path_of("zbarimg"), "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", str(path)]
    theirs = subprocess.run(command, capture_output=True, text=True, check=True).stdout.split()
    ours = {code.text for code in codes_on(grey_photo(path))}
    assert theirs != []
    assert set(theirs) <= ours == set(NUMBERS)
