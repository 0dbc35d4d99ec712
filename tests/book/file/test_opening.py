"""A workbook's parts declare no document type, however it is written."""

import io
import zipfile

import pytest

from salebook.base.errors import FileError
from salebook.book.file.opening import opened

TYPE = '<!DOCTYPE w [<!ENTITY x SYSTEM "file:///etc/passwd">]>'
SHEET = (
    '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData/></worksheet>'
)


def book(part: str, content: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, text in {
            "[Content_Types].xml": b"<Types/>",
            "xl/worksheets/sheet1.xml": b"",
            part: content,
        }.items():
            archive.writestr(name, text)
    return out.getvalue()


@pytest.mark.parametrize("part", ["xl/worksheets/sheet1.xml", "xl/workbook.xml", "xl/styles.xml"])
@pytest.mark.parametrize(
    "content",
    [
        (TYPE + SHEET).encode(),
        (TYPE + SHEET).encode("utf-16"),
        f"<!--{'-'.join('a' * 200_000)}-->{TYPE}{SHEET}".encode(),
        f'<?xml version="1.0" encoding="ISO-8859-1"?>\n{TYPE}'.encode(),
    ],
    ids=["plain", "UTF-16", "after a long comment", "another encoding"],
)
def test_a_part_that_declares_a_document_type_is_refused(part: str, content: bytes) -> None:
    with pytest.raises(FileError, match="damaged"):
        opened(book(part, content), file="book.xlsx")


def test_a_text_that_looks_like_a_document_type_is_none() -> None:
    said = SHEET.replace("<sheetData/>", f"<sheetData><!--{TYPE}--></sheetData>").encode()
    assert b"DOCTYPE" in opened(book("xl/worksheets/sheet1.xml", said), file="book.xlsx").content
