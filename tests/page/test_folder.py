"""Only ordinary files of the folder are handed out, and what is put there harms nothing."""

import errno
import os
from datetime import date
from io import BytesIO
from pathlib import Path

import pytest
from werkzeug.datastructures import FileStorage

from salebook.base.errors import FileError
from salebook.page.folder import Folder
from tests.support.paged import Page, text_of

TODAY = date(2027, 3, 1)


@pytest.fixture
def folder(tmp_path: Path) -> Folder:
    inside = tmp_path / "sales"
    (inside / "pack" / "deep" / "deeper" / "deepest").mkdir(parents=True)
    for name in ("plan.toml", "pack/sale.xlsx", "pack/deep/deeper/a.html", ".hidden", "~$other.xlsx"):
        (inside / name).write_text("here", encoding="utf-8")
    (inside / "pack/deep/deeper/deepest/b.html").write_text("too deep", encoding="utf-8")
    (tmp_path / "secret.txt").write_text("secret", encoding="utf-8")
    (inside / "link.txt").symlink_to(tmp_path / "secret.txt")
    (inside / "linked").symlink_to(tmp_path)
    return Folder(inside.resolve())


def upload(name: str, content: bytes = b"new") -> FileStorage:
    return FileStorage(BytesIO(content), filename=name)


def test_the_listing_holds_ordinary_files_and_no_links(folder: Folder) -> None:
    assert list(folder.listing()) == ["plan.toml", "pack/sale.xlsx", "pack/deep/deeper/a.html"]


def test_a_folder_that_is_gone_is_said(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="there is no such folder"):
        Folder(tmp_path / "gone").listing()


@pytest.mark.parametrize(
    "address",
    [
        *(
            "/file/../secret.txt",
            "/file/%2e%2e/secret.txt",
            "/file/..%2fsecret.txt",
            "/file/%2e%2e%2fsecret.txt",
        ),
        *("/file/link.txt", "/file/linked/secret.txt", "/file/.hidden", "/file/plan.toml%00", "/file/%00"),
        *(
            "/file/pack",
            "/file/pack/",
            "/file//etc/passwd",
            "/file/%2fetc%2fpasswd",
            "/file/C:%5Cx",
            "/file/",
        ),
        *("/file/pack/../plan.toml", "/file/./plan.toml", "/file/PLAN.toml", "/selling/book/../secret.txt"),
        *("/looks/../frame.html", "/looks/%2e%2e/frame.html", "/looks/..%2fframe.html"),
    ],
)
def test_no_address_leads_out_of_the_listing(page: Page, folder: Folder, address: str) -> None:
    assert page.folder == folder.path
    answer = page.get(address, follow_redirects=True)
    assert answer.status_code == 404
    assert "secret" not in answer.text


@pytest.mark.parametrize("name", ["../secret.txt", "link.txt", "/etc/passwd", "", "linked/secret.txt"])
def test_no_form_leads_out_of_the_listing(page: Page, folder: Folder, name: str) -> None:
    assert page.folder == folder.path
    for change, field in (("pack", "source"), ("prints", "source"), ("renew", "book"), ("join", "book")):
        assert page.send(f"/selling/{change}", {field: name}).status_code == 404


def test_a_file_of_the_listing_is_handed_out(page: Page, folder: Folder) -> None:
    assert page.get(f"/file/{next(iter(folder.listing()))}").text == "here"
    assert "attachment" in page.get("/file/pack/sale.xlsx").headers["Content-Disposition"]


@pytest.mark.parametrize(
    ("sent", "kept"),
    [
        ("sale.xlsx", "sale.xlsx"),
        ("../../sale.xlsx", "sale.xlsx"),
        ("C:\\Users\\me\\sale.xlsx", "sale.xlsx"),
        ("..xlsx/.x.XLSX", "x.XLSX"),
        ("Fr\u00fchling am See.xlsx", "Fruhling_am_See.xlsx"),
        ("<script>.xlsx", "script.xlsx"),
        ("a" * 300 + ".xlsx", "a" * 95 + ".xlsx"),
    ],
)
def test_an_upload_is_put_under_a_plain_name_of_its_own(folder: Folder, sent: str, kept: str) -> None:
    assert folder.taken_in(upload(sent), ending=".xlsx", today=TODAY) == kept
    assert (folder.path / kept).read_bytes() == b"new"


@pytest.mark.parametrize("sent", ["", "plan.toml", ".xlsx", "xlsx", "sale.xlsx.exe", "\u00e9"])
def test_an_upload_of_another_kind_is_refused(folder: Folder, sent: str) -> None:
    with pytest.raises(FileError, match=r"whose name ends in \.xlsx"):
        folder.taken_in(upload(sent), ending=".xlsx", today=TODAY)


def test_what_stood_there_is_kept_as_a_dated_copy_where_it_is_something_else(folder: Folder) -> None:
    for content in (b"one", b"one", b"two"):
        folder.taken_in(upload("sale.xlsx", content), ending=".xlsx", today=TODAY)
    assert (folder.path / "sale.xlsx").read_bytes() == b"two"
    assert [path.read_bytes() for path in folder.path.glob("sale-*.xlsx")] == [b"one"]


def test_an_upload_over_a_link_stays_in_the_folder(folder: Folder, tmp_path: Path) -> None:
    (folder.path / "sale.xlsx").symlink_to(tmp_path / "secret.txt")
    with pytest.raises(FileError, match="a link"):
        folder.taken_in(upload("sale.xlsx"), ending=".xlsx", today=TODAY)
    assert (tmp_path / "secret.txt").read_text(encoding="utf-8") == "secret"


@pytest.mark.parametrize("name", ["linked", "linked/inside", "pack/../linked", ".."])
def test_no_folder_is_made_or_used_behind_a_link(folder: Folder, name: str) -> None:
    with pytest.raises(FileError, match="a link"):
        folder.made(name)


def test_an_upload_over_a_book_that_is_open_elsewhere_is_refused(folder: Folder) -> None:
    (folder.path / ".~lock.sale.xlsx#").touch()
    with pytest.raises(FileError, match="open in a spreadsheet program"):
        folder.taken_in(upload("sale.xlsx"), ending=".xlsx", today=TODAY)


def test_the_page_says_that_its_folder_is_gone(page: Page) -> None:
    page.folder.rmdir()
    answer = page.get("/selling/")
    assert answer.status_code == 422
    assert "there is no such folder" in text_of(answer)


def test_a_full_disk_is_said_and_leaves_what_was_there(page: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_handle: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    (page.folder / "plan.toml").write_text("mine", encoding="utf-8")
    monkeypatch.setattr(os, "fsync", full)
    refused = page.send("/selling/plan", {"file": (BytesIO(b"new"), "plan.toml")})
    assert (refused.status_code, "No space left on device" in text_of(refused)) == (422, True)
    assert [path.read_text(encoding="utf-8") for path in page.folder.iterdir()] == ["mine"]
