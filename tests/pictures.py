"""Makes the README's pictures: `python -m tests.pictures`; needs LibreOffice, Chromium and poppler."""

import io
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from PIL import Image
from rich.console import Console

from salebook.cli import main
from salebook.jobs.price import show_price
from salebook.jobs.samples import FULL, STUBS, packaged_samples
from salebook.plan.load import load_plan
from salebook.reckoning import reckon
from tests.support.devtools import browser
from tests.support.programs import chromium_command, libreoffice_command, path_of
from tests.support.served import running

PICTURES = Path(__file__).parent.parent / ".github" / "pictures"
PRINTS = {"labels.html": "labels", "accounts/statement.html": "statement"}
SHEETS = {"Price": "sheet-price", "Progress": "sheet-progress"}
TERMINAL_LINES = 32
DOTS_PER_INCH = "70"
STUBS_SIZE = (720, 540)
ROOMS = {
    "/plan/questions": "page-plan",
    f"/price/plan/{FULL}": "page-price",
    "/selling/": "page-selling",
    "/accounts/": "page-accounts",
}
PAGE_SIZE = (760, 640)

TERMINAL_PAGE = """<!doctype html><meta charset="utf-8"><style>{stylesheet}
body {{ margin: 0; background: #FBF8F3 }}
pre {{ margin: 0; padding: 14px 18px; font: 13px/17px "DejaVu Sans Mono", monospace; color: #22313F }}
</style><pre>{code}</pre>"""


COLOURS = 48


def make_terminal_picture(folder: Path) -> None:
    """Draw what `salebook price` says first."""
    console = Console(
        record=True, width=88, file=io.StringIO(), markup=False, highlight=False, force_terminal=True
    )
    show_price(reckon(load_plan(packaged_samples() / FULL)), console)
    page = folder / "price.html"
    lines = console.export_html(code_format=TERMINAL_PAGE).split("\n")
    head = next(place for place, line in enumerate(lines) if "<pre>" in line)
    kept = lines[: head + TERMINAL_LINES]
    page.write_text("\n".join(kept) + "</pre>", encoding="utf-8")
    size = f"--window-size=720,{TERMINAL_LINES * 17 + 28}"
    shot = f"--screenshot={PICTURES / 'price.png'}"
    run(chromium_command(folder / "chromium", "--hide-scrollbars", size, shot, page.as_uri()))


def make_sheet_pictures(folder: Path, book: Path) -> None:
    """Draw the first page of some sheets."""
    pdf_of = ("--convert-to", "pdf", "--outdir", str(folder), str(book))
    run(libreoffice_command(folder / "libreoffice", *pdf_of))
    pdf = folder / f"{book.stem}.pdf"
    first_pages = dict(reversed(list(_pages_by_sheet(pdf))))
    for sheet, picture in SHEETS.items():
        draw_page(pdf, first_pages[sheet], PICTURES / picture)


def _pages_by_sheet(pdf: Path) -> Iterator[tuple[str, int]]:
    """Yield each page's sheet, which stands in its footer, with the page's number."""
    text = run([path_of("pdftotext"), "-layout", str(pdf), "-"])
    for number, page in enumerate(text.split("\f"), start=1):
        lines = [line.strip() for line in page.splitlines() if line.strip()]
        if lines:
            yield lines[-1].split("  ")[0], number


def make_print_pictures(folder: Path, demo: Path) -> None:
    """Draw the first page of some prints."""
    for page, picture in PRINTS.items():
        pdf = folder / f"{picture}.pdf"
        printed = ("--no-pdf-header-footer", f"--print-to-pdf={pdf}", (demo / page).as_uri())
        run(chromium_command(folder / "chromium", *printed))
        draw_page(pdf, 1, PICTURES / picture)


def make_stub_pictures(demo: Path) -> None:
    """Draw the photograph of stubs and what is read of it."""
    pile = demo / "piles" / "cash"
    done = main(["stubs", str(demo / "sale.xlsx"), str(pile), "--day", "2027-06-19", "--count", "cash=12"])
    if done != 0:
        sys.exit(1)
    pictures = {pile / STUBS: "stubs", next(demo.glob("sale-stubs-cash-*.jpg")): "stubs-outlined"}
    for file, picture in pictures.items():
        with Image.open(file) as drawn:
            small = drawn.resize(STUBS_SIZE, Image.Resampling.LANCZOS)
        small.save(PICTURES / f"{picture}.jpg", quality=80)


def make_page_pictures(demo: Path) -> None:
    """Draw the rooms of the page as they first look."""
    with running(demo) as (_page, address):
        browser().visit(address, width_px=PAGE_SIZE[0])
        for room, picture in ROOMS.items():
            browser().visit(f"{address.partition('/?')[0]}{room}", width_px=PAGE_SIZE[0])
            with Image.open(io.BytesIO(browser().picture())) as drawn:
                few = drawn.crop((0, 0, *PAGE_SIZE)).convert("RGB").quantize(COLOURS)
            few.save(PICTURES / f"{picture}.png", optimize=True)


def draw_page(pdf: Path, page: int, picture: Path) -> None:
    """Draw one page of a PDF as a PNG file with few colours."""
    place = ("-f", str(page), "-l", str(page), "-singlefile")
    run([path_of("pdftoppm"), "-png", "-r", DOTS_PER_INCH, *place, str(pdf), str(picture)])
    file = picture.with_suffix(".png")
    with Image.open(file) as drawn:
        few = drawn.convert("RGB").quantize(COLOURS)
    few.save(file, optimize=True)


def run(command: list[str]) -> str:
    """Run a program and return what it prints."""
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


def make_pictures() -> None:
    """Make the pack of the full sample and draw its pictures."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        make_terminal_picture(folder)
        if main(["demo", str(folder / "demo")]) != 0:
            sys.exit(1)
        make_sheet_pictures(folder, folder / "demo" / "sale.xlsx")
        make_print_pictures(folder, folder / "demo")
        make_stub_pictures(folder / "demo")
        make_page_pictures(folder / "demo")


if __name__ == "__main__":
    make_pictures()
