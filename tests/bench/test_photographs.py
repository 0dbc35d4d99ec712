"""A photograph of sixty stubs: salebook against zxing-cpp reading it once whole, as it comes; and memory."""

import io
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image

from salebook.photos.codes import codes_on
from salebook.photos.photo import grey_photo
from tests.bench.clock import processor_seconds
from tests.support.stub_photos import EVENING, GOOD, Light, drawn_stubs, photograph

NUMBERS = [f"LAN-{index:03}" for index in range(1, 61)]
LIMIT = 3.0
LIMIT_MB = 400
LIGHTS = {"good light": GOOD, "evening": EVENING}

MEASURE = """
import re, sys
from pathlib import Path
from salebook.photos.codes import codes_left, codes_on
from salebook.photos.outlines import outlined
from salebook.photos.photo import grey_photo
grey = grey_photo(Path(sys.argv[1]))
codes = codes_left(grey, codes_on(grey))
outlined(grey, codes, {code.text for code in codes})
print(re.search("VmHWM:\\\\s+([0-9]+)", Path("/proc/self/status").read_text())[1])
"""


@cache
def jpeg(light: Light) -> bytes:
    return photograph(drawn_stubs(NUMBERS), light, seed=7).jpeg


def once_whole(content: bytes) -> list[str]:
    return [code.text for code in zxingcpp.read_barcodes(Image.open(io.BytesIO(content)))]


@pytest.mark.parametrize("light", LIGHTS.values(), ids=LIGHTS)
def test_sixty_stubs_take_at_most_three_times_a_reading_of_the_whole(light: Light, tmp_path: Path) -> None:
    path = tmp_path / "photo.jpg"
    path.write_bytes(jpeg(light))
    read, bare = {code.text for code in codes_on(grey_photo(path))}, set(once_whole(jpeg(light)))
    ratio = processor_seconds(lambda: codes_on(grey_photo(path)))
    ratio /= processor_seconds(lambda: once_whole(jpeg(light)))
    sys.stdout.write(
        f"\nphotograph of 60 stubs / zxing-cpp alone: {ratio:.2f}; read {len(read)} and {len(bare)}\n"
    )
    assert ratio <= LIMIT
    assert read == set(NUMBERS)


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="memory is read from /proc")
def test_sixty_stubs_take_at_most_400_mb(tmp_path: Path) -> None:
    path = tmp_path / "photo.jpg"
    path.write_bytes(jpeg(EVENING))
    run = subprocess.run(
        [sys.executable, "-c", MEASURE, str(path)], capture_output=True, text=True, check=True
    )
    megabytes = int(run.stdout) / 1000
    sys.stdout.write(f"\nmemory for a photograph of 60 stubs: {megabytes:.0f} MB\n")
    assert megabytes <= LIMIT_MB
