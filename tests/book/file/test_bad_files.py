"""Files that are no sale's workbook, or a dangerous one: refused in plain words, quickly."""

import io
import resource
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from openpyxl import Workbook

from tests.support.bent_book import small_book, with_parts

pytestmark = pytest.mark.slow

SECONDS, BYTES = 10, 500_000_000

SHEET = (
    b'<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
    b"<sheetData>%s</sheetData></worksheet>"
)
TAKINGS = "xl/worksheets/sheet8.xml"


def not_a_workbook() -> bytes:
    return b"line,piece,way\n1,MAY-001,cash\n"


def another_zip() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("letter.txt", "dear all")
    return out.getvalue()


def cut_off() -> bytes:
    return small_book()[: len(small_book()) // 2]


def locked() -> bytes:
    return (
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
        + bytes(4000)
        + "EncryptedPackage".encode("utf-16-le")
        + bytes(4000)
    )


def old_kind() -> bytes:
    return b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(8000)


def another_programs() -> bytes:
    workbook, out = Workbook(), io.BytesIO()
    workbook.create_sheet("Stock").append(["Item", "Sold"])
    workbook.save(out)
    return out.getvalue()


def zip_bomb() -> bytes:
    return with_parts(
        small_book(), {TAKINGS: SHEET % (b'<row r="1"><c r="A1"><v>1</v></c></row>' * 9_000_000)}
    )


def very_large_part() -> bytes:
    return with_parts(small_book(), {"xl/sharedStrings.xml": b" " * 300_000_000})


def entities_from_outside() -> bytes:
    evil = (
        b'<?xml version="1.0"?><!DOCTYPE w [<!ENTITY x SYSTEM "file:///etc/passwd">]>'
        b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>'
        b'<row r="1"><c r="A1" t="inlineStr"><is><t>&x;</t></is></c></row></sheetData></worksheet>'
    )
    return with_parts(small_book(), {TAKINGS: evil})


def no_xml() -> bytes:
    return with_parts(small_book(), {"xl/workbook.xml": b"<workbook"})


def two_hundred_megabytes() -> bytes:
    return b"PK\x03\x04" + bytes(200_000_000)


BAD = (
    (not_a_workbook, 1, "not a workbook"),
    (another_zip, 1, "not a workbook"),
    (cut_off, 1, "damaged"),
    (locked, 1, "password"),
    (old_kind, 1, "old kind"),
    (another_programs, 2, "not made by salebook"),
    (zip_bomb, 1, "far more"),
    (very_large_part, 1, "far more"),
    (entities_from_outside, 1, "damaged"),
    (no_xml, 1, "damaged"),
    (two_hundred_megabytes, 1, "too large"),
)


def processor_seconds() -> float:
    """Return the processor time of all programs that were run and have ended: a busy machine is no fault."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def check(book: bytes, folder: Path) -> tuple[int, str]:
    """Run `salebook check` on a file within the limits of time and room; return its exit code and words."""
    path = folder / "book.xlsx"
    path.write_bytes(book)
    before = processor_seconds()
    run = subprocess.run(
        [sys.executable, "-m", "salebook", "check", str(path)],
        capture_output=True,
        text=True,
        check=False,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_DATA, (BYTES, BYTES)),
    )
    assert processor_seconds() - before < SECONDS
    assert "Traceback" not in run.stderr
    assert "nobody foresaw" not in run.stderr
    return run.returncode, run.stdout + run.stderr


@pytest.mark.parametrize(("make", "code", "says"), BAD, ids=[make.__name__ for make, *_rest in BAD])
def test_a_bad_file_is_refused_in_plain_words(make: object, code: int, says: str, tmp_path: Path) -> None:
    assert callable(make)
    found, said = check(make(), tmp_path)
    assert (code, True) == (found, says in said)


def test_a_million_empty_formatted_rows_are_no_burden(tmp_path: Path) -> None:
    with zipfile.ZipFile(io.BytesIO(small_book())) as archive:
        takings = archive.read(TAKINGS)
    empty = b"".join(
        b'<row r="%d"><c r="B%d" s="3"/><c r="C%d" s="3"/></row>' % (n, n, n) for n in range(200, 1_000_200)
    )
    heavy = with_parts(small_book(), {TAKINGS: takings.replace(b"</sheetData>", empty + b"</sheetData>")})
    code, said = check(heavy, tmp_path)
    assert (0, True) == (code, ": sound" in said)
