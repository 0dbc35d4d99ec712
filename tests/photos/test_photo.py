"""A photograph is read in grey and upright; what is none, is cut off or too large is told in one line."""

import io
import os
import re
import struct
import subprocess
import sys
import zlib
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageFile

from salebook.base.errors import FileError
from salebook.photos.codes import codes_on
from salebook.photos.endings import is_photo
from salebook.photos.photo import MOST_MEGAPIXELS, grey_photo

HEIC = Path(__file__).parent / "four-stubs.heic"
"""Four drawn stubs, encoded by libheif's own program (Debian, libheif-examples)."""

UPRIGHT, TURNED = 1, 6
"""Values of the tag Orientation (Exif 2.3, JEITA CP-3451C, 4.6.4): as it is; to be turned to the right."""


def picture(*, width: int = 60, height: int = 40, mode: str = "RGB") -> Image.Image:
    """Return a picture, its left half black."""
    made = Image.new("L", (width, height), 255)
    made.paste(0, (0, 0, width // 2, height))
    return made.convert(mode)


def put(folder: Path, kind: str, made: Image.Image | None = None, *, orientation: int = UPRIGHT) -> Path:
    path = folder / f"photo.{kind.lower()}"
    exif = Image.Exif()
    exif[0x0112] = orientation
    (made or picture()).save(path, kind, exif=exif)
    return path


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_a_photograph_is_read_in_grey(kind: str, tmp_path: Path) -> None:
    grey = grey_photo(put(tmp_path, kind))
    assert (grey.mode, grey.size) == ("L", (60, 40))
    assert grey.getpixel((5, 20)) == pytest.approx(0, abs=4)
    assert grey.getpixel((55, 20)) == pytest.approx(255, abs=4)


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_a_camera_held_on_its_side_makes_no_difference(kind: str, tmp_path: Path) -> None:
    grey = grey_photo(put(tmp_path, kind, orientation=TURNED))
    assert grey.size == (40, 60)
    assert grey.getpixel((20, 5)) == pytest.approx(0, abs=4)


def test_a_picture_of_sixteen_bits_keeps_its_greys(tmp_path: Path) -> None:
    path = tmp_path / "deep.png"
    Image.frombytes("I;16", (2, 1), struct.pack("<2H", 0x4000, 0xC000)).save(path)
    assert grey_photo(path).tobytes() == bytes([0x40, 0xC0])


def test_a_photograph_in_heic_is_read() -> None:
    seen = {code.text for code in codes_on(grey_photo(HEIC))}
    assert {"MAY-001", "MAY-002", "MAY-003", "MAY-004"} == seen


def jpeg() -> bytes:
    file = io.BytesIO()
    picture(width=600, height=400).save(file, "JPEG")
    return file.getvalue()


SPOILT = {
    "empty": b"",
    "text": b"cash: MUG-001, MUG-002\n" * 40,
    "cut off": jpeg()[:1500],
    "its head alone": jpeg()[:20],
    "a page": b"<!DOCTYPE html><title>not here any more</title>",
    "another kind of picture": b"GIF89a\x01\x00\x01\x00\x00\x00\x00;",
    "a cut PNG": b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00",
}


@pytest.mark.parametrize("content", SPOILT.values(), ids=SPOILT)
def test_what_is_no_photograph_is_told_in_one_line(content: bytes, tmp_path: Path) -> None:
    path = tmp_path / "photo.jpg"
    path.write_bytes(content)
    with pytest.raises(FileError, match=r"photo\.jpg: cannot be read as a photograph .*original") as told:
        grey_photo(path)
    assert "\n" not in str(told.value)


def test_a_photograph_cut_off_is_refused_where_another_library_lets_it_pass(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)
    path = tmp_path / "photo.jpg"
    path.write_bytes(SPOILT["cut off"])
    with pytest.raises(FileError, match="cannot be read as a photograph"):
        grey_photo(path)
    assert ImageFile.LOAD_TRUNCATED_IMAGES


@pytest.mark.parametrize("kind", ["missing", "folder"])
def test_what_is_no_file_is_told_in_one_line(kind: str, tmp_path: Path) -> None:
    path = tmp_path / "photo.jpg"
    if kind == "folder":
        path.mkdir()
    with pytest.raises(FileError, match=r"photo\.jpg: \w"):
        grey_photo(path)


def bomb(width: int, height: int, *, rows: int = 0) -> bytes:
    """Return a white PNG of so many pixels, packed into little; `rows` of them, where not all."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    packer = zlib.compressobj(9)
    row = b"\0" + b"\xff" * (3 * width)
    packed = b"".join(packer.compress(row) for _row in range(rows or height)) + packer.flush()
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", packed) + chunk(b"IEND", b"")


@pytest.mark.parametrize("size", [(8_000, 7_000), (20_000, 20_000), (60_000, 60_000)])
def test_more_pixels_than_a_telephone_takes_are_refused(size: tuple[int, int], tmp_path: Path) -> None:
    path = tmp_path / "photo.png"
    path.write_bytes(
        bomb(size[0], 1)[:200].replace(struct.pack(">II", size[0], 1), struct.pack(">II", *size))
    )
    # The head is believed before its sum is looked at only where it is right.
    head = path.read_bytes()
    path.write_bytes(head[:29] + struct.pack(">I", zlib.crc32(head[12:29])) + head[33:])
    with pytest.raises(FileError, match="has more than 52 million pixels"):
        grey_photo(path)


MEASURE = """
import re, sys
from pathlib import Path
from salebook.base.errors import FileError
from salebook.photos.codes import codes_on
from salebook.photos.photo import grey_photo
try:
    codes_on(grey_photo(Path(sys.argv[1])))
except FileError as trouble:
    print(trouble)
print(re.search("VmHWM:\\\\s+([0-9]+)", Path("/proc/self/status").read_text())[1])
"""
LIMIT_MB = 500


@pytest.mark.slow
@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="memory is read from /proc")
@pytest.mark.parametrize(("size", "is_refused"), [((20_000, 20_000), True), ((8_200, 6_300), False)])
def test_no_picture_fills_the_memory(size: tuple[int, int], is_refused: bool, tmp_path: Path) -> None:
    path = tmp_path / "photo.png"
    path.write_bytes(bomb(*size))
    assert path.stat().st_size < 3_000_000
    assert (size[0] * size[1] > MOST_MEGAPIXELS * 1e6) == is_refused
    run = subprocess.run(
        [sys.executable, "-c", MEASURE, str(path)], capture_output=True, text=True, check=True, env=os.environ
    )
    *told, kilobytes = run.stdout.splitlines()
    assert [bool(re.search("million pixels", line)) for line in told] == ([True] if is_refused else [])
    assert int(kilobytes) < LIMIT_MB * 1000


@given(
    spoilt=st.lists(st.tuples(st.integers(0, 2000), st.integers(0, 255)), min_size=1, max_size=30),
    length=st.integers(0, 3000),
)
def test_a_spoilt_file_is_read_or_refused_and_nothing_else(
    spoilt: list[tuple[int, int]], length: int, tmp_path_factory: pytest.TempPathFactory
) -> None:
    content = bytearray(jpeg()[:length])
    for place, value in spoilt:
        content[place : place + 1] = bytes([value])
    path = tmp_path_factory.mktemp("spoilt") / "photo.jpg"
    path.write_bytes(content)
    with suppress(FileError):
        assert grey_photo(path).mode == "L"


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("IMG_1.JPG", True),
        ("a.jpeg", True),
        ("a.HEIC", True),
        ("a.png", True),
        ("a.mov", False),
        ("a", False),
    ],
)
def test_a_photograph_is_known_by_its_ending(name: str, expected: bool) -> None:
    assert is_photo(Path(name)) is expected
