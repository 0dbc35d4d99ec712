"""A picture of a photograph with all that was read outlined and numbered."""

import io
from collections.abc import Collection, Sequence
from pathlib import Path
from typing import Final

from PIL import Image, ImageDraw, ImageFont, ImageOps

from salebook.photos.codes import Point, SeenCode

LONGEST_PX: Final = 2400
"""A side of the picture at most."""

WIDER: Final = 1.25
"""An outline runs around the code, so much wider."""

COUNTED: Final = "#0B6E99"
ASKED: Final = "#C2410C"
"""Around codes that became a line, and around all others; the second is drawn twice, for who sees no red."""

DRAWN: Final = b"salebook: outlines of what was read"
"""A remark in the file, by which such a picture is told from a photograph."""


def outlined(grey: Image.Image, codes: Sequence[SeenCode], known: Collection[str]) -> bytes:
    """Return a photograph as JPEG with its codes outlined and numbered row by row, and what each says.

    Those that are not `known` have another colour and a second line around them.
    """
    scale = min(1.0, LONGEST_PX / max(grey.size))
    small = grey.resize((max(1, round(grey.width * scale)), max(1, round(grey.height * scale))))
    picture = ImageOps.autocontrast(small, cutoff=0.5).convert("RGB")
    pen = ImageDraw.Draw(picture)
    points = max(14, round(max(picture.size) / 110))
    font = ImageFont.load_default(points)
    for number, code in enumerate(in_rows(codes), start=1):
        colour = COUNTED if code.text in known else ASKED
        for wider in (WIDER,) if code.text in known else (WIDER, WIDER * 1.15):
            pen.line(_around(code, wider, scale), fill=colour, width=max(3, points // 6), joint="curve")
        x, y = (side * scale for side in code.middle)
        says = f"{number}  {code.text}" if code.text in known else f"{number}"
        place = pen.textbbox((x, y), says, font=font, anchor="mm")
        pen.rectangle((place[0] - 4, place[1] - 4, place[2] + 4, place[3] + 4), fill=colour)
        pen.text((x, y), says, fill="white", font=font, anchor="mm")
    file = io.BytesIO()
    picture.save(file, "JPEG", quality=80, comment=DRAWN)
    return file.getvalue()


def is_drawn(file: Path) -> bool:
    """Whether a file is a picture that salebook drew."""
    try:
        with file.open("rb") as opened:
            return DRAWN in opened.read(1024)
    except OSError:
        return False


def in_rows(codes: Sequence[SeenCode]) -> list[SeenCode]:
    """Return codes as one reads: from left to right in rows, which begin with the highest code left."""
    left = sorted(codes, key=lambda code: code.middle[1])
    ordered: list[SeenCode] = []
    while left:
        low = left[0].middle[1] + _height(left[0])
        row = [code for code in left if code.middle[1] < low]
        ordered += sorted(row, key=lambda code: code.middle[0])
        left = left[len(row) :]
    return ordered


def _height(code: SeenCode) -> float:
    downs = [y for _x, y in code.corners]
    return max(downs) - min(downs)


def _around(code: SeenCode, wider: float, scale: float) -> list[Point]:
    x, y = code.middle
    corners = (*code.corners, code.corners[0])
    return [((x + (right - x) * wider) * scale, (y + (down - y) * wider) * scale) for right, down in corners]
